"""The cohort's marks as the table that decisions are made from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from autograde.award.blueprint import Blueprint
from autograde.award.marks import MarkTable, table_from_rows
from autograde.cases import Family
from autograde.cohort.standing import WAITING, Outcome, Sheet, Standing
from autograde.desk.disputes import unsettled
from autograde.desk.plan import competency_id
from autograde.marking import Task

__all__ = ["mark_table"]


def mark_table(standing: Standing, blueprint: Blueprint) -> MarkTable:
    """Turn how a cohort stands into a table of marks.

    Parameters
    ----------
    standing : Standing
        With marks of the program and of people.
    blueprint : Blueprint
        Tells under which competency a case counts.

    Returns
    -------
    MarkTable
        One row a trainee, one column a task. A mark that is not known has a reason that names nobody and quotes
        nothing, since it goes into the record for good.
    """
    return table_from_rows(_rows(standing, blueprint))


def _rows(standing: Standing, blueprint: Blueprint) -> Iterator[dict[str, Any]]:
    planned = {case.id: case.marks for case in blueprint.cases}
    in_dispute = unsettled(standing.cohort, standing)
    for trainee in standing.cohort.trainees:
        for family in standing.families:
            sheet = standing.sheets[trainee.id, family.name]
            known = {outcome.task.id: outcome for outcome in sheet.outcomes}
            for task in family.tasks:
                marks, reason = _mark(sheet, task, known.get(task.id))
                if (trainee.id, family.name, task.id) in in_dispute:
                    marks, reason = None, in_dispute[trainee.id, family.name, task.id]
                yield {
                    "trainee": trainee.id,
                    "case": family.name,
                    "task": task.id,
                    "competency": _counts_as(family, task, planned.get(family.name, {})),
                    "max_marks": task.marks,
                    "marks": marks,
                    "safety": task.safety,
                    "reason": reason,
                }


def _counts_as(family: Family, task: Task, planned: Mapping[str, float]) -> str:
    """Give the competency a task counts under: its own, or the one of the case that none of its tasks is named for."""
    own = competency_id(task.competency)
    named = {competency_id(each.competency) for each in family.tasks}
    rest = [key for key in planned if key not in named] or list(planned)
    return rest[0] if own not in planned and len(rest) == 1 else own


def _mark(sheet: Sheet, task: Task, outcome: Outcome | None) -> tuple[float | None, str]:
    if outcome is None:
        return None, "handed in, not marked yet" if sheet.collected else "not handed in"
    if outcome.marks is None:
        if outcome.state == WAITING:
            return None, "a person has to mark it"
        if sheet.trouble:
            return None, "the notebook could not be read"
        return None, "left empty" if outcome.left_empty else "the answer could not be read"
    if not 0 <= outcome.marks <= task.marks:
        return None, f"a person gave {outcome.marks:g} marks, possible are 0 to {task.marks:g}"
    return outcome.marks, ""
