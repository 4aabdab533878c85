"""How far two readers agree, in figures for the report."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np
from scipy import stats

from autograde.award.agreement import agreement_table, weighted_kappa
from autograde.award.errors import AwardError
from autograde.cohort.files import write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.text import csv_cell
from autograde.desk.moderation import Compared, compare
from autograde.desk.rounds import step_marks

__all__ = ["Agreement", "Figure", "agreement", "write_agreement"]

CONFIDENCE = 0.95
FEW = 30
"""Pieces below which the interval of kappa is rough; see `autograde.award.agreement.weighted_kappa`."""


@dataclass(frozen=True)
class Figure:
    """A number with its 95 % interval; None where the readings cannot give it."""

    value: float | None
    low: float | None
    high: float | None

    def __str__(self) -> str:
        if self.value is None:
            return "not to be had"
        return f"{self.value:g}" if self.low is None else f"{self.value:g} ({self.low:g} to {self.high:g})"


@dataclass(frozen=True)
class Agreement:
    """How two readers agree about the texts of one task, or of all.

    Parameters
    ----------
    case, task : str
        Which; both empty for all tasks together.
    texts : int
        Texts read twice.
    step_marks : float
        One step on the rubric, in marks; 0 for all tasks together.
    same_pct : Figure
        Texts with the same marks, percent.
    near_pct : Figure
        Texts whose marks lie one step apart or less, percent.
    difference_marks : Figure
        Second minus first marks on average.
    kappa : Figure
        Kappa with quadratic weights over the steps of the rubric.
    note : str
        What to know about the figures, or empty.
    """

    case: str
    task: str
    texts: int
    step_marks: float
    same_pct: Figure
    near_pct: Figure
    difference_marks: Figure
    kappa: Figure
    note: str


def agreement(compared: Sequence[Compared]) -> tuple[Agreement, ...]:
    """Reckon the figures.

    Parameters
    ----------
    compared : sequence of Compared
        From `compare`; texts that are not read a second time are left out.

    Returns
    -------
    tuple of Agreement
        All tasks together, then task by task; empty if nothing was read twice. The shares have score intervals, the
        difference a t interval, kappa its large-sample interval.

    References
    ----------
    cohen_1968, fleiss_cohen_everitt_1969
    """
    read = [one for one in compared if one.reading is not None]
    if not read:
        return ()
    tasks = dict.fromkeys((one.piece.case, one.piece.task) for one in read)
    if len(tasks) == 1:
        return (_of_task(read),)
    each = [_of_task([one for one in read if (one.piece.case, one.piece.task) == key]) for key in tasks]
    return (_figures(read, "", "", 0.0, Figure(None, None, None), "kappa is given task by task"), *each)


def _marks(read: Sequence[Compared]) -> tuple[np.ndarray, np.ndarray]:
    first = np.array([one.piece.first_marks for one in read], dtype=float)
    second = np.array([one.reading.marks for one in read if one.reading is not None], dtype=float)
    return first, second


def _of_task(read: Sequence[Compared]) -> Agreement:
    task, step = read[0].task, step_marks(read[0].task)
    first, second = (np.rint(marks / step).astype(int).tolist() for marks in _marks(read))
    kappa, note = Figure(None, None, None), ""
    try:
        if len(set(first)) == 1 or len(set(second)) == 1:
            raise AwardError("a reader gave all texts the same marks, so chance alone explains how they agree")
        found = weighted_kappa(agreement_table(first, second, range(round(task.marks / step) + 1)))
        kappa = _figure(found.estimate.value, found.estimate.low, found.estimate.high)
        note = f"fewer than {FEW} texts: the interval of kappa is rough" if len(read) < FEW else ""
    except AwardError as trouble:
        note = f"no kappa: {trouble}"
    return _figures(read, read[0].piece.case, task.id, step, kappa, note)


def _figures(read: Sequence[Compared], case: str, task: str, step: float, kappa: Figure, note: str) -> Agreement:
    first, second = _marks(read)
    same = int(np.isclose(first, second).sum())
    near = sum(not one.apart for one in read)
    difference = second - first
    mean, reach = float(difference.mean()), math.nan
    if len(read) > 1:
        error = float(difference.std(ddof=1)) / math.sqrt(len(read))
        reach = float(stats.t.ppf(0.5 + CONFIDENCE / 2, len(read) - 1)) * error
    return Agreement(
        case,
        task,
        len(read),
        step,
        _share(same, len(read)),
        _share(near, len(read)),
        _figure(mean, mean - reach, mean + reach),
        kappa,
        note,
    )


def _share(count: int, of: int) -> Figure:
    interval = stats.binomtest(count, of).proportion_ci(CONFIDENCE, method="wilson")
    return _figure(100 * count / of, 100 * interval.low, 100 * interval.high, digits=1)


def _figure(value: float, low: float, high: float, digits: int = 3) -> Figure:
    if not math.isfinite(low) or not math.isfinite(high):
        return Figure(round(value, digits), None, None)
    return Figure(round(value, digits), round(low, digits), round(high, digits))


def write_agreement(cohort: Cohort) -> Path:
    """Save the figures, and every text's two readings, beside the report.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    Path
        ``report/moderation.json``; the table ``moderation.csv`` lies beside it. Neither holds a name.
    """
    compared = compare(cohort)
    data = {
        "drawn": len(compared),
        "read": sum(one.reading is not None for one in compared),
        "apart": sum(one.apart for one in compared),
        "open": sum(one.open for one in compared),
        "agreed": sum(one.agreed is not None for one in compared),
        "changed": sum(one.agreed not in (None, one.piece.first_marks) for one in compared),
        "figures": [asdict(figure) for figure in agreement(compared)],
    }
    path = cohort.report / "moderation.json"
    write_text(path, json.dumps(data, indent=1, ensure_ascii=False) + "\n", derived=True)
    write_text(cohort.report / "moderation.csv", _table(compared), derived=True)
    return path


def _table(compared: Sequence[Compared]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["text", "case", "task", "drawn_as", "full_marks", "first_marks", "second_marks", "agreed_marks"])
    for one in compared:
        second = None if one.reading is None else one.reading.marks
        piece = one.piece
        row = [piece.number, piece.case, piece.task, piece.why, one.task.marks, piece.first_marks, second, one.agreed]
        writer.writerow([csv_cell(value) for value in row])
    return out.getvalue()
