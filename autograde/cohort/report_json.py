"""The report as one JSON file, for programs; what stands in it is described by ``report.schema.json``."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from functools import cache
from importlib import resources
from typing import Any

from autograde.cohort.competency_map import CompetencyMap
from autograde.cohort.figures import Figures, Scale
from autograde.cohort.report_tables import progress_of
from autograde.cohort.standing import Sheet, Standing
from autograde.cohort.statistics import misconception_counts, task_counts

__all__ = ["VERSION", "report_data", "report_json", "report_schema"]

VERSION = 1
"""Changes when a program that reads the file would have to change; new entries alone do not change it."""


@cache
def report_schema() -> Mapping[str, Any]:
    """Read the JSON Schema of the file.

    Returns
    -------
    mapping
        Draft 2020-12.
    """
    text = resources.files("autograde.cohort").joinpath("report.schema.json").read_text("utf-8")
    found: Mapping[str, Any] = json.loads(text)
    return found


def report_json(standing: Standing, figures: Figures, by_competency: CompetencyMap) -> str:
    """Write the report as JSON; the same cohort gives the same text.

    Parameters
    ----------
    standing, figures, by_competency
        See `report_data`.

    Returns
    -------
    str
        UTF-8 text; unpaired surrogates are escaped.
    """
    return json.dumps(report_data(standing, figures, by_competency), indent=1, allow_nan=False) + "\n"


def report_data(standing: Standing, figures: Figures, by_competency: CompetencyMap) -> dict[str, Any]:
    """Bring the report together as plain data.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.
    figures : Figures
        What is reckoned elsewhere.
    by_competency : CompetencyMap
        The map.

    Returns
    -------
    dict
        Valid by `report_schema`. It holds neither what was typed nor feedback nor any right value.
    """
    rows = by_competency.by_trainee
    return {
        "kind": "pedalwright cohort report",
        "version": VERSION,
        "title": standing.cohort.settings.title,
        "note": standing.cohort.settings.note,
        "competencies": [asdict(competency) for competency in by_competency.columns],
        "cases": [
            {"case": family.name, "title": family.title, "page": family.module_page, "max_marks": family.max_marks}
            for family in standing.families
        ],
        "tasks": _tasks(standing, figures),
        "misconceptions": [
            {
                "misconception": item.id,
                "label": item.label,
                "page": item.page,
                "trainees": [trainee.id for trainee in item.trainees],
                "trainees_marked": item.handed_in,
                "answers": item.answers,
            }
            for item in misconception_counts(standing)
        ],
        "reliability": {
            "whole": _scale(figures.whole),
            "competencies": [_scale(part) for part in figures.parts],
        },
        "standard": _rounded(asdict(figures.standard)) if figures.standard else None,
        "second_readings": _rounded(asdict(figures.moderation)) if figures.moderation else None,
        "trainees": [
            {
                "trainee": trainee.id,
                "name": trainee.name,
                "competencies": [
                    {
                        "competency": cell.competency.id,
                        "marks": cell.marks,
                        "open_marks": cell.open_marks,
                        "max_marks": cell.max_marks,
                        "state": cell.state,
                    }
                    for cell in rows[trainee.id].cells
                ],
                "decision": _rounded(asdict(figures.decisions[trainee.id]))
                if trainee.id in figures.decisions
                else None,
                "sheets": [
                    _sheet(sheet, standing.earlier.get((trainee.id, family.name), ()))
                    for family in standing.families
                    for sheet in (standing.sheets[trainee.id, family.name],)
                ],
            }
            for trainee in standing.cohort.trainees
        ],
        "notes": list(figures.notes),
    }


def _tasks(standing: Standing, figures: Figures) -> list[dict[str, Any]]:
    by_task = {(one.case, one.task): one for one in figures.tasks}
    found = []
    for count in task_counts(standing):
        key = count.family.name, count.task.id
        one = by_task.get(key)
        found.append(
            {
                "case": key[0],
                "task": key[1],
                "title": count.task.title,
                "competency": figures.counts_as.get(key, count.task.competency),
                "max_marks": count.task.marks,
                "states": dict(count.states),
                "difficulty": _rounded(asdict(one.difficulty)) if one and one.difficulty else None,
                "discrimination": _rounded(asdict(one.discrimination)) if one and one.discrimination else None,
                "flags": list(one.flags) if one else [],
            }
        )
    return found


def _sheet(sheet: Sheet, earlier: Iterable[Sheet]) -> dict[str, Any]:
    return {
        "case": sheet.family.name,
        "state": progress_of(sheet),
        "attempt": sheet.attempt if sheet.outcomes else None,
        "marks": sheet.marks if sheet.outcomes else None,
        "trouble": sheet.trouble,
        "earlier_attempts": [{"attempt": one.attempt, "marks": one.marks} for one in earlier],
        "answers": [
            {
                "task": outcome.task.id,
                "state": outcome.state,
                "marks": outcome.marks,
                "misconception": outcome.misconception,
            }
            for outcome in sheet.outcomes
        ],
    }


def _scale(scale: Scale | None) -> dict[str, Any] | None:
    return _rounded(asdict(scale)) if scale else None


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 6)
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list | tuple) else value
