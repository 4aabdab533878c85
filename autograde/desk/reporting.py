"""The report with everything the desk knows: item analysis, reliability, standard, decisions, second readings.

**What is counted.** A task counts in the analysis of reliability and discrimination once at least half of the
trainees who have any mark have one in it, so that texts nobody has read yet do not hold up the rest. Of the trainees,
those with a mark in all these tasks count; no mark is made up for an answer that is not gradable or not handed in. The
difficulty of a task rests on everybody who has a mark in it. Nothing but difficulties is given for fewer than `FEWEST`
trainees.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from autograde.award.consistency import decision_consistency
from autograde.award.errors import AwardError
from autograde.award.marks import MarkTable
from autograde.award.quality import Quality, assess_quality
from autograde.award.reliability import Estimate, cronbach_alpha, standard_error_of_measurement
from autograde.award.standard import Standard as SetStandard
from autograde.cohort.errors import CohortError
from autograde.cohort.figures import Competency, Figures, Scale, Span, Standard, TaskFigures, plain_figures
from autograde.cohort.folder import Cohort
from autograde.cohort.report import write_report
from autograde.cohort.standing import Standing
from autograde.cohort.statistics import share_interval
from autograde.desk.plan import open_blueprint
from autograde.desk.reported_decisions import decided
from autograde.desk.second_readings import moderation_figures
from autograde.desk.table import mark_table

__all__ = ["FEWEST", "cohort_figures", "task_flags", "write_cohort_report"]

FEWEST = 10
"""Trainees below which correlations are not given: with fewer, an interval says next to nothing. Our own limit."""
ROUGH = 25
"""Trainees below which the page calls such figures rough. Our own limit."""
TASKS_OF_A_PART = 3
"""Tasks that a competency needs to have a reliability of its own. Our own limit."""
EASY, HARD, WEAK = 0.8, 0.5, 0.2
"""Limits of the flags; an interval has to lie beyond them as a whole. Common practice, no source."""


def write_cohort_report(cohort: Cohort, stand: Standing) -> Path:
    """Write the report, its tables and a page for each trainee.

    Parameters
    ----------
    cohort : Cohort
        Held by the caller.
    stand : Standing
        How it stands.

    Returns
    -------
    Path
        The page to open.
    """
    return write_report(cohort, stand, cohort_figures(cohort, stand))


def cohort_figures(cohort: Cohort, stand: Standing) -> Figures:
    """Reckon all that the report shows beyond the marks.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    stand : Standing
        How it stands.

    Returns
    -------
    Figures
        What cannot be had is left out, with the reason among the notes; nothing here raises for want of data.
    """
    try:
        blueprint, _ = open_blueprint(cohort)
        table = mark_table(stand, blueprint)
    except (AwardError, CohortError) as trouble:
        return replace(plain_figures(stand.families), notes=(f"Without a blueprint there are only marks: {trouble}.",))
    columns = tuple(Competency(one.id, one.name, one.minimum_pct) for one in blueprint.competencies)
    counts_as = {(item.case, item.task): item.competency for item in table.items}
    unplanned = tuple(Competency(name, name) for name in dict.fromkeys(counts_as.values()))
    columns += tuple(one for one in unplanned if one.id not in {column.id for column in columns})
    used, sub, notes = _counted(table)
    quality = assess_quality(sub)
    whole = _scale("all", "All tasks together", sub)
    standard, decisions, why = decided(cohort, stand)
    return Figures(
        columns,
        counts_as,
        _task_figures(table, used, quality),
        whole,
        tuple(_part(column, table, used) for column in columns),
        _standard(*standard, quality, full=bool(used.all())) if standard else None,
        decisions,
        moderation_figures(cohort),
        (*notes, *why),
    )


def _counted(table: MarkTable) -> tuple[NDArray[np.bool_], MarkTable, tuple[str, ...]]:
    """Choose the tasks that count; the table keeps everybody who has begun."""
    known = np.isfinite(table.marks)
    begun = np.asarray(known.any(axis=1))
    used = np.asarray(known.sum(axis=0) >= max(1.0, begun.sum() / 2))
    sub = _part_of(table, begun, used)
    notes = []
    if not used.all() and begun.any():
        notes.append(
            f"{int((~used).sum())} of {len(used)} tasks are left out of reliability and discrimination: fewer than "
            "half of the trainees have a mark in them yet."
        )
    if 0 < sub.complete.sum() < ROUGH:
        notes.append(
            f"Reliability and discrimination rest on {int(sub.complete.sum())} trainees. From so few they are rough: "
            "believe the whole interval, not the number in its middle."
        )
    return used, sub, tuple(notes)


def _part_of(table: MarkTable, rows: NDArray[np.bool_], columns: NDArray[np.bool_]) -> MarkTable:
    return MarkTable(
        tuple(name for name, wanted in zip(table.trainees, rows, strict=True) if wanted),
        tuple(item for item, wanted in zip(table.items, columns, strict=True) if wanted),
        table.marks[np.ix_(rows, columns)],
    )


def _scale(name: str, title: str, table: MarkTable) -> Scale:
    marks = table.marks[table.complete]
    size = (name, title, len(table.items), len(marks), float(table.max_marks.sum()))
    if len(marks) < FEWEST:
        return Scale(*size, None, None, f"{len(marks)} trainees with marks in all of them; needed are {FEWEST}")
    try:
        alpha = cronbach_alpha(marks)
    except AwardError as trouble:
        return Scale(*size, None, None, str(trouble))
    sd = float(marks.sum(axis=1).std(ddof=1))
    low, value, high = (standard_error_of_measurement(sd, at) for at in (alpha.high, alpha.value, alpha.low))
    return Scale(*size, _span(alpha), Span(value, low, high))


def _part(column: Competency, table: MarkTable, used: NDArray[np.bool_]) -> Scale:
    mine = used & np.array([item.competency == column.id for item in table.items])
    if mine.sum() < TASKS_OF_A_PART:
        why = f"{int(mine.sum())} tasks; needed are {TASKS_OF_A_PART}"
        return Scale(column.id, column.name, int(mine.sum()), 0, float(table.max_marks[mine].sum()), None, None, why)
    sub = _part_of(table, np.asarray(np.isfinite(table.marks[:, mine]).any(axis=1)), mine)
    return _scale(column.id, column.name, sub)


def _task_figures(table: MarkTable, used: NDArray[np.bool_], quality: Quality) -> tuple[TaskFigures, ...]:
    known = np.isfinite(table.marks)
    counts = known.sum(axis=0)
    sums = np.where(known, table.marks, 0.0).sum(axis=0) / table.max_marks
    shares = np.divide(sums, counts, out=np.zeros(len(counts)), where=counts > 0)
    low, high = share_interval(shares, counts)
    estimates = iter(quality.tasks)
    found = []
    for place, item in enumerate(table.items):
        estimate = next(estimates).discrimination if used[place] else None
        count = int(counts[place])
        difficulty = Span(float(shares[place]), float(low[place]), float(high[place])) if count else None
        told = _span(estimate) if estimate and quality.trainees >= FEWEST else None
        column = table.marks[known[:, place], place]
        alike = count >= FEWEST and bool(np.ptp(column) == 0)
        flags = task_flags(difficulty, told, alike=alike, safety=item.safety)
        found.append(TaskFigures(item.case, item.task, count, difficulty, told, flags))
    return tuple(found)


def task_flags(
    difficulty: Span | None, discrimination: Span | None, *, alike: bool = False, safety: bool = False
) -> tuple[str, ...]:
    """Say in plain words what is odd about a task.

    Parameters
    ----------
    difficulty, discrimination : Span or None
        What is known.
    alike : bool
        Whether everybody has the same marks in it.
    safety : bool
        Whether it is safety-critical: such a task is not odd for being easy.

    Returns
    -------
    tuple of str
        Empty if nothing is odd, or if chance could explain it: for a flag the whole interval has to lie beyond the
        limit, except that a negative discrimination is always worth a look.

    Examples
    --------
    >>> task_flags(Span(0.2, 0.1, 0.35), Span(0.4, 0.1, 0.6))
    ('hard: less than half of its marks were earned',)
    """
    flags = []
    as_wished = safety and difficulty is not None and difficulty.value > EASY
    if difficulty and difficulty.high < HARD:
        flags.append("hard: less than half of its marks were earned")
    if alike and not as_wished:
        flags.append("everybody has the same marks in it, so it tells nobody apart")
    elif difficulty and difficulty.low > EASY and not as_wished:
        flags.append("easy: nearly everybody earned its marks")
    if discrimination and discrimination.high < 0:
        flags.append("works the wrong way: those who did well elsewhere did worse here; check its key and wording")
    elif discrimination and discrimination.value < 0:
        flags.append("those who did well elsewhere did a little worse here; it may be chance, read the task again")
    elif discrimination and discrimination.high < WEAK:
        flags.append("hardly tells those who do well from those who do not")
    return tuple(flags)


def _standard(standard: SetStandard, recorded: bool, quality: Quality, *, full: bool) -> Standard:
    agreement, kappa = None, None
    if full and quality.trainees >= FEWEST and quality.reliability and quality.mean_marks is not None:
        ends = [
            decision_consistency(quality.mean_marks, quality.sd_marks or 0.0, at, standard.cut_marks)
            for at in (quality.reliability.value, quality.reliability.low, quality.reliability.high)
        ]
        agreement = _between([one.agreement for one in ends])
        kappa = _between([one.kappa for one in ends])
    low, high = standard.band_marks
    return Standard(
        standard.cut_marks,
        standard.cut_se_marks,
        standard.sem_marks,
        low,
        high,
        standard.max_marks,
        standard.sentence,
        recorded,
        agreement,
        kappa,
    )


def _between(values: Sequence[float]) -> Span | None:
    if not all(map(math.isfinite, values)):
        return None
    return Span(values[0], min(values), max(values))


def _span(estimate: Estimate) -> Span:
    return Span(estimate.value, estimate.low, estimate.high)
