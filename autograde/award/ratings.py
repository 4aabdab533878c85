"""What the raters of a standard-setting panel wrote down."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from autograde.award.errors import AwardError
from autograde.award.marks import Item

__all__ = ["Bounds", "Round", "read_bounds", "read_ratings"]


@dataclass(frozen=True)
class Round:
    """One round of ratings.

    Parameters
    ----------
    number : int
        1 for the first.
    raters : tuple of str
        Pseudonyms, shape (r,).
    items : tuple of Item
        Tasks, shape (k,).
    share_pct : ndarray
        Shape (r, k): the share of the task's marks that a rater expects of somebody who is only just competent,
        0 to 100.
    """

    number: int
    raters: tuple[str, ...]
    items: tuple[Item, ...]
    share_pct: NDArray[np.float64]

    @property
    def rater_cuts(self) -> NDArray[np.float64]:
        """The cut score of each rater in marks, shape (r,)."""
        return np.asarray(self.share_pct / 100 @ np.array([item.max_marks for item in self.items]))


@dataclass(frozen=True)
class Bounds:
    """What one rater finds acceptable: lowest and highest cut in marks, lowest and highest failure rate in percent."""

    rater: str
    cut_min_marks: float
    cut_max_marks: float
    fail_min_pct: float
    fail_max_pct: float

    def __post_init__(self) -> None:
        if not 0 <= self.cut_min_marks <= self.cut_max_marks:
            raise AwardError(
                f"{self.rater} has the cuts {self.cut_min_marks:g} and {self.cut_max_marks:g}; lower first"
            )
        if not 0 <= self.fail_min_pct <= self.fail_max_pct <= 100:
            raise AwardError(
                f"{self.rater} has the failure rates {self.fail_min_pct:g} and {self.fail_max_pct:g} %; "
                "give two numbers from 0 to 100, the lower first"
            )


def read_ratings(text: str, items: Sequence[Item]) -> tuple[Round, ...]:
    """Read a panel's ratings from CSV text.

    Parameters
    ----------
    text : str
        With the header ``round,rater,case,task,share_pct``.
    items : sequence of Item
        All tasks that count.

    Returns
    -------
    tuple of Round
        In order; every rater of a round has rated every task.

    Raises
    ------
    AwardError
        Naming the round, rater and task where a rating is missing, double, unknown or out of range.

    Examples
    --------
    >>> rounds = read_ratings('''round,rater,case,task,share_pct
    ... 1,flint,record,torque,50
    ... 1,slate,record,torque,75
    ... ''', [Item("record", "torque", "lever", 4)])
    >>> rounds[0].rater_cuts.tolist()
    [2.0, 3.0]
    """
    known = {item.key: column for column, item in enumerate(items)}
    cells: dict[int, dict[str, dict[str, float]]] = {}
    for line, row in _rows(text, ("round", "rater", "case", "task", "share_pct"), "ratings"):
        number = _number(row["round"], line, "round", lambda value: value >= 1 and value == int(value))
        share = _number(row["share_pct"], line, "share_pct", lambda value: 0 <= value <= 100)
        key = f"{row['case']}/{row['task']}"
        if key not in known:
            raise AwardError(f"line {line} of the ratings rates {key}, which is no task; tasks are {', '.join(known)}")
        ratings = cells.setdefault(int(number), {}).setdefault(row["rater"], {})
        if key in ratings:
            raise AwardError(f"line {line} of the ratings: {row['rater']} rates {key} a second time in this round")
        ratings[key] = share
    if not cells:
        raise AwardError("the file of ratings holds no rating; give one line for each round, rater and task")
    rounds = []
    for number, by_rater in sorted(cells.items()):
        for rater, ratings in by_rater.items():
            missing = [key for key in known if key not in ratings]
            if missing:
                raise AwardError(f"round {number}: {rater} has not rated {', '.join(missing)}; ask for it")
        share_pct = np.array([[ratings[key] for key in known] for ratings in by_rater.values()])
        rounds.append(Round(number, tuple(by_rater), tuple(items), share_pct))
    return tuple(rounds)


def read_bounds(text: str) -> tuple[Bounds, ...]:
    """Read from CSV text what each rater finds acceptable.

    Parameters
    ----------
    text : str
        With the header ``rater,cut_min_marks,cut_max_marks,fail_min_pct,fail_max_pct``.

    Returns
    -------
    tuple of Bounds
        One a rater.

    Raises
    ------
    AwardError
        If a number is missing or out of range, or a rater stands there twice.

    Examples
    --------
    >>> read_bounds('''rater,cut_min_marks,cut_max_marks,fail_min_pct,fail_max_pct
    ... flint,50,70,5,30
    ... ''')[0].cut_max_marks
    70.0
    """
    columns = ("cut_min_marks", "cut_max_marks", "fail_min_pct", "fail_max_pct")
    found: dict[str, Bounds] = {}
    for line, row in _rows(text, ("rater", *columns), "bounds"):
        if row["rater"] in found:
            raise AwardError(f"line {line} of the bounds: {row['rater']} stands there twice; keep one line")
        numbers = [_number(row[column], line, column, lambda value: value >= 0) for column in columns]
        found[row["rater"]] = Bounds(row["rater"], *numbers)
    if not found:
        raise AwardError("the file of bounds holds no line; give one line a rater")
    return tuple(found.values())


def _rows(text: str, columns: Sequence[str], what: str) -> Iterable[tuple[int, dict[str, str]]]:
    reader = csv.DictReader(io.StringIO(text.removeprefix("\ufeff")), strict=True)
    try:
        for row in reader:
            missing = [column for column in columns if not str(row.get(column) or "").strip()]
            if missing:
                raise AwardError(
                    f"line {reader.line_num} of the {what} has no {', '.join(missing)}; "
                    f"the columns are {','.join(columns)}"
                )
            yield reader.line_num, {column: str(row[column]).strip() for column in columns}
    except csv.Error as error:
        raise AwardError(f"the {what} are no valid CSV: {error}; save the file again as CSV with commas") from error


def _number(text: str, line: int, column: str, allowed: Callable[[float], bool]) -> float:
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not (math.isfinite(value) and allowed(value)):
        raise AwardError(f"line {line} has {text!r} as {column}; give a number in its range, such as 60")
    return value
