"""What `status` says about deciding and awarding."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pedalwright_app.options import line

if TYPE_CHECKING:
    from autograde.cohort.folder import Cohort
    from autograde.cohort.standing import Standing

__all__ = ["Later", "look"]


@dataclass(frozen=True)
class Later:
    """Lines for the table, and what to do next."""

    rows: tuple[tuple[str, object], ...]
    next: tuple[str, ...] = ()


def look(cohort: Cohort, stand: Standing) -> Later:
    """Say how deciding and awarding stand; trouble becomes a line of the table.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    stand : Standing
        How it stands.

    Returns
    -------
    Later
        Nothing is written.
    """
    if not stand.marked:
        return Later(())
    before = _moderation_and_appeals(cohort)
    after = _decisions_and_awards(cohort, stand)
    return Later((*before.rows, *after.rows), (*before.next, *after.next))


def _moderation_and_appeals(cohort: Cohort) -> Later:
    from autograde.award.errors import AwardError
    from autograde.cohort.errors import CohortError
    from autograde.desk.appeals import open_appeals
    from autograde.desk.moderation import compare
    from autograde.desk.places import Places

    try:
        compared, appeals = compare(cohort), open_appeals(Places.of(cohort).record)
    except (AwardError, CohortError) as trouble:
        return Later((("record", f"not readable: {trouble}"),))
    rows: list[tuple[str, object]] = []
    ahead = []
    if compared:
        read = sum(one.reading is not None for one in compared)
        waiting = sum(one.open for one in compared)
        rows.append(("moderation", f"{read} of {len(compared)} texts read twice, {waiting} to agree on"))
        if waiting or read < len(compared):
            ahead.append(line("moderate show", cohort.root))
    if appeals:
        rows.append(("appeals", f"{len(appeals)} open"))
        ahead.append(line("appeal show", cohort.root))
    return Later(tuple(rows), tuple(ahead))


def _decisions_and_awards(cohort: Cohort, stand: Standing) -> Later:
    from autograde.award.errors import AwardError
    from autograde.award.outcome import Outcome
    from autograde.cohort.errors import CohortError
    from autograde.desk.decisions import decide_cohort
    from autograde.desk.office import ISSUED_NOW, THERE, plan_awards

    decide = line("decide", cohort.root)
    try:
        decisions = decide_cohort(cohort, stand, dry_run=True)
        if decisions.to_record or not decisions.standard.recorded:
            words = f"{len(decisions.to_record)} of {len(decisions.all)} new or changed"
            return Later((("to decide", words),), (decide,))
        _, planned = plan_awards(cohort, decisions)
    except (AwardError, CohortError) as trouble:
        return Later((("decided", f"not yet: {trouble}"),), (f"see to what is missing, then {decide}",))
    outcomes = Counter(str(decided.decision.outcome) for decided in decisions.all)
    rows = (
        ("decided", "; ".join(f"{outcome}: {count}" for outcome, count in outcomes.items())),
        ("awards", f"{sum(one.what == THERE for one in planned)} of {len(planned)} issued"),
    )
    ahead = [line("award", cohort.root)] if any(one.what == ISSUED_NOW for one in planned) else []
    borderline = [one.trainee.id for one in decisions.all if one.decision.outcome is Outcome.BORDERLINE]
    if borderline:
        ahead.append(f"settle what is borderline: {line('settle', cohort.root)} {borderline[0]} --help")
    if any(one.decision.outcome in (Outcome.NOT_YET, Outcome.BLOCKED) for one in decisions.all):
        ahead.append(
            f"let those below standard try again: {line('hand-out', cohort.root)} --next-attempt --below-standard"
        )
    return Later(rows, tuple(ahead))
