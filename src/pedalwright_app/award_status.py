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
    from autograde.award.errors import AwardError
    from autograde.award.outcome import Outcome
    from autograde.cohort.errors import CohortError
    from autograde.desk.decisions import decide_cohort
    from autograde.desk.office import ISSUED_NOW, THERE, plan_awards

    if not stand.marked:
        return Later(())
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
    return Later(rows, tuple(ahead))
