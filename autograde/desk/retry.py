"""Who is below standard, and in which cases: those who may try again."""

from __future__ import annotations

from autograde.award.outcome import Decision, Outcome
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.cohort.standing import Standing, standing
from autograde.desk.decisions import decide_cohort

__all__ = ["below_standard"]


def below_standard(cohort: Cohort) -> list[tuple[str, str]]:
    """Find the cases to try again.

    Parameters
    ----------
    cohort : Cohort
        Decided.

    Returns
    -------
    list of (str, str)
        Trainee and case: for everybody who is not there yet or blocked by a safety gate, the cases that lie below the
        cut's share of their marks, and those of a failed gate or of a competency below its minimum; all cases if that
        finds none.

    Raises
    ------
    CohortError
        If a decision is not in the record as it would be made now.
    """
    stand = standing(cohort)
    decisions = decide_cohort(cohort, stand, dry_run=True)
    if decisions.to_record:
        raise CohortError(
            f"{len(decisions.to_record)} decisions are new or changed; decide first, so that it is on record who tries "
            "again and why"
        )
    case_of = {
        competency: [case.id for case in decisions.blueprint.cases if competency in case.marks]
        for competency in (one.id for one in decisions.blueprint.competencies)
    }
    found = []
    for one in decisions.all:
        if one.decision.outcome in (Outcome.NOT_YET, Outcome.BLOCKED):
            weak = _weak_cases(stand, one.decision, case_of)
            found += [(one.trainee.id, case) for case in cohort.settings.cases if not weak or case in weak]
    return found


def _weak_cases(stand: Standing, decision: Decision, case_of: dict[str, list[str]]) -> set[str]:
    share = decision.cut_marks / decision.max_marks
    sheets = (stand.sheets[decision.trainee, family.name] for family in stand.families)
    weak = {sheet.family.name for sheet in sheets if sheet.marks < share * sheet.family.max_marks - 1e-9}
    weak |= {gate.case for gate in decision.gates if gate.passed is False}
    return weak.union(*(case_of[result.id] for result in decision.competencies if result.met is False))
