"""Who is below standard, and in which cases: those who may try again."""

from __future__ import annotations

import math

from autograde.award.marks import MarkTable
from autograde.award.outcome import Decision, Outcome
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.cohort.standing import Standing, standing
from autograde.desk.decisions import decide_cohort
from autograde.desk.table import mark_table

__all__ = ["below_standard"]

SLACK = 1e-9


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
        cut's share of their marks, those of a failed gate, and those whose tasks pull a competency below its minimum;
        all cases if that finds none.

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
    table, found = mark_table(stand, decisions.blueprint), []
    for one in decisions.all:
        if one.decision.outcome in (Outcome.NOT_YET, Outcome.BLOCKED):
            weak = _weak_cases(stand, one.decision, table)
            found += [(one.trainee.id, case) for case in cohort.settings.cases if not weak or case in weak]
    return found


def _weak_cases(stand: Standing, decision: Decision, table: MarkTable) -> set[str]:
    share = decision.cut_marks / decision.max_marks
    sheets = (stand.sheets[decision.trainee, family.name] for family in stand.families)
    weak = {sheet.family.name for sheet in sheets if sheet.marks < share * sheet.family.max_marks - SLACK}
    weak |= {gate.case for gate in decision.gates if gate.passed is False}
    row = table.row(decision.trainee)
    for missed in (result for result in decision.competencies if result.met is False):
        for family in stand.families:
            items = [item for item in table.items if (item.case, item.competency) == (family.name, missed.id)]
            needed = missed.minimum_pct / 100 * math.fsum(item.max_marks for item in items)
            if math.fsum(row[item.key] for item in items if not math.isnan(row[item.key])) < needed - SLACK:
                weak.add(family.name)
    return weak
