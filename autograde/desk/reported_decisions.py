"""Standard and decisions as the report shows them: as they would be today, or as the record holds them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, TypeAlias

from autograde.award.errors import AwardError
from autograde.award.standard import Standard
from autograde.cohort.errors import CohortError
from autograde.cohort.figures import Decision
from autograde.cohort.folder import Cohort
from autograde.cohort.standing import Standing
from autograde.desk.decisions import Decided, decide_cohort, latest_by_trainee
from autograde.desk.places import Places
from autograde.desk.standards import latest_standard

__all__ = ["Shown", "decided"]

Shown: TypeAlias = tuple[tuple[Standard, bool] | None, Mapping[str, Decision], Sequence[str]]
"""The standard and whether it is recorded, decisions by trainee id, and notes."""


def decided(cohort: Cohort, stand: Standing) -> Shown:
    """Decide as it would be done today; if that cannot be, take what the record holds.

    Parameters
    ----------
    cohort : Cohort
        The cohort; nothing is written.
    stand : Standing
        How it stands.

    Returns
    -------
    Shown
        Without standard and decisions where there are none, with the reason among the notes.
    """
    try:
        found = decide_cohort(cohort, stand, dry_run=True)
    except (AwardError, CohortError) as trouble:
        return _recorded(cohort, str(trouble))
    decisions = {one.trainee.id: _decision(one) for one in found.all}
    return (found.standard.standard, found.standard.recorded), decisions, ()


def _recorded(cohort: Cohort, trouble: str) -> Shown:
    try:
        record = Places.of(cohort).record
        latest = latest_standard(record)
        if latest is None:
            return None, {}, (f"No cut, no band and no decisions yet: {trouble}.",)
        decisions = {
            who: _from_record(held.entry.body, held.personal) for who, held in latest_by_trainee(record).items()
        }
        standard = Standard.from_dict(latest.body["standard"])
    except AwardError as damage:
        return None, {}, (f"The record of decisions needs a person: {damage}.",)
    return (standard, True), decisions, (f"Decisions are those of the record; today none can be made: {trouble}.",)


def _decision(one: Decided) -> Decision:
    decision = one.decision
    found = _from_record(decision.public(), decision.personal())
    return replace(found, recorded=one.entry is not None, before=one.before)


def _from_record(public: Mapping[str, Any], personal: Mapping[str, Any]) -> Decision:
    """Take what the page shows from the two parts of a recorded decision."""
    return Decision(
        outcome=str(public["outcome"]),
        recorded=True,
        before="",
        total_marks=float(public["total_marks"]),
        attempt=int(public["attempt"]),
        attempts=int(public["attempts_allowed"]),
        reasons=tuple(map(str, public["reasons"])),
        next_step=str(public["next_step"]),
        appeal_until=str(public["appeal_until"]),
        decided_by=str(personal.get("decided_by", "")),
        statement=str(personal.get("statement", "")),
    )
