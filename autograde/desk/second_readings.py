"""What came of second readings, as the report shows it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from autograde.award.agreement import agreement_table, weighted_kappa
from autograde.award.errors import AwardError
from autograde.cohort.errors import CohortError
from autograde.cohort.figures import Agreed, Agreement, Moderation, Span
from autograde.cohort.folder import Cohort
from autograde.desk.moderation import AGREED, Compared, compare
from autograde.desk.places import Places
from autograde.desk.readers import Agreement as Read
from autograde.desk.readers import Figure, agreement
from autograde.desk.rounds import read_rounds, step_marks

__all__ = ["FEWEST_TEXTS", "moderation_figures"]

FEWEST_TEXTS, ENOUGH_TEXTS = 10, 30
"""Texts below which kappa is not given, and below which it is called rough. Our own limits."""


def moderation_figures(cohort: Cohort) -> Moderation | None:
    """Bring second readings and agreed marks together for the report.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    Moderation or None
        None if no text was drawn, or what was drawn cannot be read.
    """
    try:
        rounds = read_rounds(cohort)
        compared = compare(cohort, rounds)
    except (AwardError, CohortError):
        return None
    if not compared:
        return None
    told = _reasons(cohort)
    return Moderation(
        len(compared),
        sum(one.reading is not None for one in compared),
        rounds[-1].rule,
        tuple(_agreement(one, compared) for one in agreement(compared)),
        tuple(_agreed(one, told.get(one.piece.number, {})) for one in compared if one.apart),
    )


def _agreement(one: Read, compared: Sequence[Compared]) -> Agreement:
    same, near = _span(one.same_pct, 0.01), _span(one.near_pct, 0.01)
    if same is None or near is None:  # a share of at least one text always has an interval
        raise ValueError("a share without an interval")
    shares = (one.case, one.task, one.texts, same, near)
    if one.texts < FEWEST_TEXTS:
        return Agreement(*shares, None, None, f"fewer than {FEWEST_TEXTS} texts: no number")
    if one.task:
        return Agreement(*shares, _span(one.difference_marks), _span(one.kappa), one.note)
    return Agreement(*shares, _span(one.difference_marks), *_pooled_kappa(compared))


def _pooled_kappa(compared: Sequence[Compared]) -> tuple[Span | None, str]:
    """Find kappa over all texts, in steps of each rubric; quadratic weights."""
    read = [one for one in compared if one.reading is not None]
    first = [round(one.piece.first_marks / step_marks(one.task)) for one in read]
    second = [round(one.reading.marks / step_marks(one.task)) for one in read if one.reading is not None]
    most = max(round(one.task.marks / step_marks(one.task)) for one in read)
    try:
        found = weighted_kappa(agreement_table(first, second, range(most + 1))).estimate
    except AwardError as trouble:
        return None, f"no kappa: {trouble}"
    rough = "rough, fewer than 30 texts; " if len(read) < ENOUGH_TEXTS else ""
    return Span(found.value, found.low, found.high), f"{rough}over all tasks, in steps of their rubrics"


def _span(figure: Figure, times: float = 1.0) -> Span | None:
    if figure.value is None or figure.low is None or figure.high is None:
        return None
    return Span(figure.value * times, figure.low * times, figure.high * times)


def _reasons(cohort: Cohort) -> Mapping[str, Mapping[str, Any]]:
    record = Places.of(cohort).record
    return {
        str(entry.body["number"]): record.personal(entry.n) or {} for entry in record.entries() if entry.kind == AGREED
    }


def _agreed(one: Compared, told: Mapping[str, Any]) -> Agreed:
    piece = one.piece
    return Agreed(
        piece.number,
        piece.trainee,
        piece.case,
        piece.task,
        piece.why,
        piece.first_marks,
        one.reading.marks if one.reading else 0.0,
        one.agreed,
        str(told.get("reason", "")),
        str(told.get("by", "")),
    )
