"""The table of marks that decisions are made from: trainee × task, with gaps where a person has still to look."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from autograde.award.errors import AwardError

__all__ = ["Item", "MarkTable", "read_marks", "table_from_rows"]

COLUMNS = ("trainee", "case", "task", "competency", "max_marks", "marks")


@dataclass(frozen=True)
class Item:
    """One task of one case.

    Parameters
    ----------
    case, task, competency : str
        Ids.
    max_marks : float
        Full marks, greater than 0.
    safety : bool
        Whether the author marked the task as safety-critical.
    """

    case: str
    task: str
    competency: str
    max_marks: float
    safety: bool = False

    def __post_init__(self) -> None:
        if not (math.isfinite(self.max_marks) and self.max_marks > 0):
            raise AwardError(f"task {self.key} has {self.max_marks!r} full marks; give a number greater than 0")

    @property
    def key(self) -> str:
        """Case and task as one name."""
        return f"{self.case}/{self.task}"


@dataclass(frozen=True)
class MarkTable:
    """Marks of a cohort.

    Parameters
    ----------
    trainees : tuple of str
        Ids or pseudonyms, shape (n,).
    items : tuple of Item
        Tasks, shape (k,).
    marks : ndarray
        Shape (n, k); NaN where a mark is not known yet.
    why : mapping
        For (trainee, item key): why the mark is not known.
    """

    trainees: tuple[str, ...]
    items: tuple[Item, ...]
    marks: NDArray[np.float64]
    why: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        keys = [item.key for item in self.items]
        for what, names in (("trainee", list(self.trainees)), ("task", keys)):
            twice = sorted({name for name in names if names.count(name) > 1})
            if twice:
                raise AwardError(f"each {what} stands in a table of marks once; given more often: {', '.join(twice)}")
        if self.marks.shape != (len(self.trainees), len(self.items)):
            raise AwardError(
                f"the table of marks has shape {self.marks.shape}; it needs one row for each of {len(self.trainees)} "
                f"trainees and one column for each of {len(self.items)} tasks"
            )
        wrong = (self.marks < 0) | (self.marks > self.max_marks) | np.isinf(self.marks)
        if wrong.any():
            row, column = (int(index) for index in np.argwhere(wrong)[0])
            item = self.items[column]
            raise AwardError(
                f"{self.trainees[row]} has {self.marks[row, column]:g} marks in {item.key}; "
                f"0 to {item.max_marks:g} is allowed"
            )

    @property
    def max_marks(self) -> NDArray[np.float64]:
        """Full marks of each task, shape (k,)."""
        return np.array([item.max_marks for item in self.items], dtype=float)

    @property
    def complete(self) -> NDArray[np.bool_]:
        """Which trainees have a mark in every task, shape (n,)."""
        return np.asarray(np.isfinite(self.marks).all(axis=1))

    def row(self, trainee: str) -> dict[str, float]:
        """Look up the marks of one trainee by item key.

        Parameters
        ----------
        trainee : str
            Who.

        Returns
        -------
        dict
            NaN where a mark is not known.

        Raises
        ------
        AwardError
            If the trainee is not in the table.
        """
        if trainee not in self.trainees:
            raise AwardError(f"{trainee!r} is not in the table of marks; it holds {len(self.trainees)} trainees")
        values = self.marks[self.trainees.index(trainee)]
        return {item.key: float(value) for item, value in zip(self.items, values, strict=True)}


def table_from_rows(rows: Iterable[Mapping[str, object]]) -> MarkTable:
    """Build a table from one row a mark.

    Parameters
    ----------
    rows : iterable of mapping
        With trainee, case, task, competency, max_marks and marks (empty or None: not known); optional are
        safety and reason (why a mark is not known). A trainee without a row for a task has no known mark there.

    Returns
    -------
    MarkTable
        Trainees and tasks in the order in which they first appear.

    Raises
    ------
    AwardError
        If a column or a number is missing, or rows contradict each other.
    """
    trainees: dict[str, None] = {}
    items: dict[str, Item] = {}
    cells: dict[tuple[str, str], float] = {}
    why: dict[tuple[str, str], str] = {}
    for number, row in enumerate(rows, 1):
        missing = [column for column in COLUMNS if column not in row]
        if missing:
            raise AwardError(f"row {number} of the marks has no {', '.join(missing)}; needed are {', '.join(COLUMNS)}")
        item = Item(
            case=_text(row, "case", number),
            task=_text(row, "task", number),
            competency=_text(row, "competency", number),
            max_marks=_number(row["max_marks"], number, "max_marks"),
            safety=str(row.get("safety", "")).strip().lower() in {"true", "yes", "1"},
        )
        trainee = _text(row, "trainee", number)
        if items.setdefault(item.key, item) != item:
            raise AwardError(f"row {number} describes {item.key} otherwise than an earlier row; make them agree")
        if (trainee, item.key) in cells:
            raise AwardError(f"row {number} gives {trainee} a second mark in {item.key}; keep one")
        trainees[trainee] = None
        blank = row["marks"] is None or not str(row["marks"]).strip()
        cells[trainee, item.key] = math.nan if blank else _number(row["marks"], number, "marks")
        if blank and str(row.get("reason", "") or "").strip():
            why[trainee, item.key] = str(row["reason"]).strip()
    if not cells:
        raise AwardError("the table of marks is empty; give one row for each trainee and task")
    marks = np.array([[cells.get((trainee, key), math.nan) for key in items] for trainee in trainees])
    return MarkTable(tuple(trainees), tuple(items.values()), marks, why)


def read_marks(text: str) -> MarkTable:
    """Read a table of marks from CSV text.

    Parameters
    ----------
    text : str
        With the header ``trainee,case,task,competency,max_marks,marks`` and optionally ``safety,reason``.

    Returns
    -------
    MarkTable
        See `table_from_rows`.

    Raises
    ------
    AwardError
        See `table_from_rows`.

    Examples
    --------
    >>> table = read_marks('''trainee,case,task,competency,max_marks,marks
    ... wren,record,torque,lever,4,3
    ... heron,record,torque,lever,4,
    ... ''')
    >>> table.marks[:, 0].tolist()
    [3.0, nan]
    """
    try:
        return table_from_rows(csv.DictReader(io.StringIO(text.removeprefix("\ufeff")), strict=True))
    except csv.Error as error:
        raise AwardError(f"the table of marks is no valid CSV: {error}; save it again as CSV with commas") from error


def _text(row: Mapping[str, object], column: str, number: int) -> str:
    value = str(row[column] if row[column] is not None else "").strip()
    if not value:
        raise AwardError(f"row {number} of the marks has an empty {column}; fill it in")
    return value


def _number(value: object, number: int, column: str) -> float:
    try:
        read = float(str(value))
    except ValueError:
        read = math.nan
    if not math.isfinite(read):
        raise AwardError(f"row {number} of the marks has {value!r} as {column}; write a number such as 3.5")
    return read
