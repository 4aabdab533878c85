"""One look at an assessment as a whole: how reliable, how sure a total, how each task did, how sure the decisions."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from autograde.award.consistency import Consistency, decision_consistency
from autograde.award.errors import AwardError
from autograde.award.items import discrimination_interval, item_difficulty, item_discrimination
from autograde.award.marks import Item, MarkTable
from autograde.award.reliability import Estimate, cronbach_alpha, standard_error_of_measurement

__all__ = ["Quality", "TaskQuality", "assess_quality"]


@dataclass(frozen=True)
class TaskQuality:
    """How one task did.

    Parameters
    ----------
    item : Item
        The task.
    known : int
        How many trainees have a mark in it.
    difficulty : float or None
        Mean share of its marks, 0 (nobody earned any) to 1.
    discrimination : Estimate or None
        Correlation with the other tasks; None where nothing varies or too few marks are complete.
    """

    item: Item
    known: int
    difficulty: float | None
    discrimination: Estimate | None


@dataclass(frozen=True)
class Quality:
    """How an assessment did.

    Parameters
    ----------
    trainees, left_out : int
        Those with marks in all tasks, which the figures rest on, and the others.
    mean_marks, sd_marks, sem_marks : float or None
        Of the totals, and the standard error of one total; None if they cannot be estimated.
    reliability : Estimate or None
        Coefficient alpha.
    consistency : Consistency or None
        Of decisions at the cut, if one was given.
    tasks : tuple of TaskQuality
        In the order of the table.
    notes : tuple of str
        Why a figure is missing or has to be read with care.
    """

    trainees: int
    left_out: int
    mean_marks: float | None
    sd_marks: float | None
    sem_marks: float | None
    reliability: Estimate | None
    consistency: Consistency | None
    tasks: tuple[TaskQuality, ...]
    notes: tuple[str, ...]


def assess_quality(table: MarkTable, cut_marks: float | None = None, confidence: float = 0.95) -> Quality:
    """Look at an assessment as a whole.

    Parameters
    ----------
    table : MarkTable
        Marks, gaps allowed.
    cut_marks : float, optional
        Where decisions are made.
    confidence : float
        Of the intervals, between 0 and 1.

    Returns
    -------
    Quality
        Never an error for too few marks: what cannot be estimated is None, and the notes say why.

    Raises
    ------
    AwardError
        If the confidence is none.

    Examples
    --------
    >>> item = Item("record", "torque", "lever", 4.0)
    >>> quality = assess_quality(MarkTable(("wren",), (item,), np.array([[3.0]])))
    >>> quality.tasks[0].difficulty, quality.reliability
    (0.75, None)
    >>> quality.notes[0]
    'received marks of shape (1, 1); needed are at least 2 trainees and 2 tasks'
    """
    complete = table.marks[table.complete]
    count, totals, notes = len(complete), complete.sum(axis=1), []
    reliability, consistency, sem = None, None, None
    mean = float(totals.mean()) if count else None
    sd = float(totals.std(ddof=1)) if count > 1 else None
    try:
        reliability = cronbach_alpha(complete, confidence)
        sem = standard_error_of_measurement(sd or 0.0, reliability.value)
    except AwardError as error:
        notes.append(str(error))
    if reliability and mean is not None and sd and cut_marks is not None:
        consistency = decision_consistency(mean, sd, reliability.value, cut_marks)
    if reliability and reliability.high - reliability.low > 0.3:
        notes.append(f"{count} trainees: the interval of the reliability is wide, so read single figures with care")
    if count < len(table.trainees):
        notes.append(f"{len(table.trainees) - count} trainee(s) wait for marks and are left out")
    tasks = _tasks(table, complete, confidence)
    return Quality(count, len(table.trainees) - count, mean, sd, sem, reliability, consistency, tasks, tuple(notes))


def _tasks(table: MarkTable, complete: np.ndarray, confidence: float) -> tuple[TaskQuality, ...]:
    known = np.isfinite(table.marks).sum(axis=0)
    difficulty = item_difficulty(table.marks, table.max_marks)
    estimates: list[Estimate | None] = [None] * len(table.items)
    if min(complete.shape) >= 2:
        values = item_discrimination(complete)
        low, high = discrimination_interval(complete, confidence)
        estimates = [
            Estimate(float(value), float(least), float(most), confidence) if np.isfinite(least) else None
            for value, least, most in zip(values, low, high, strict=True)
        ]
    return tuple(
        TaskQuality(item, int(count), float(share) if count else None, estimate)
        for item, count, share, estimate in zip(table.items, known, difficulty, estimates, strict=True)
    )
