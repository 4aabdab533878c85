"""The cohort report: one page an instructor can project, and tables for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from autograde.cohort.files import read_records, write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.pages import SIGNS, environment, write_if_changed
from autograde.cohort.standing import NOT_HANDED_IN, WAITING, Sheet, Standing
from autograde.cohort.statistics import misconception_counts, task_counts
from autograde.cohort.text import csv_cell
from autograde.marking import State

__all__ = ["report_page", "tables", "write_report"]

MOST_SLIPS = 8
"""Misconceptions shown at once; the rest is folded away."""


def report_page(standing: Standing, refused: Sequence[Mapping[str, Any]] = ()) -> str:
    """Write the cohort report as a page that stands alone.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.
    refused : sequence of mapping
        Files that were not taken from the inbox, with ``source`` and ``reason``.

    Returns
    -------
    str
        HTML without scripts and without anything from elsewhere.
    """
    settings = standing.cohort.settings
    tasks = task_counts(standing)
    seen = [state for state in SIGNS if any(dict(item.states).get(state) for item in tasks)]
    return (
        environment()
        .get_template("report.html")
        .render(
            title=settings.title,
            note=settings.note,
            book=settings.book,
            facts=_facts(standing),
            marked=bool(standing.marked),
            misconceptions=misconception_counts(standing),
            most_slips=MOST_SLIPS,
            tasks=tasks,
            states_seen=seen,
            tables=[
                (family, standing.of_case(family), _states_in(standing.of_case(family))) for family in standing.families
            ],
            by_hand=sum(outcome.state == WAITING for sheet in standing.marked for outcome in sheet.outcomes),
            rubrics=[task for family in standing.families for task in family.tasks if task.by_hand],
            not_gradable=_not_gradable(standing),
            refused=refused,
        )
    )


def _read(standing: Standing) -> Sequence[Sheet]:
    return [sheet for sheet in standing.marked if not sheet.trouble]


def _facts(standing: Standing) -> Sequence[tuple[str, str]]:
    sheets = list(standing.sheets.values())
    handed_in = [sheet for sheet in sheets if sheet.collected or sheet.outcomes]
    shares = [sheet.marks / sheet.family.max_marks for sheet in _read(standing) if not sheet.waiting]
    waiting = sum(len(sheet.waiting) for sheet in standing.marked)
    facts = [
        (str(len(standing.cohort.trainees)), "trainees"),
        (str(len(standing.families)), "case" if len(standing.families) == 1 else "cases"),
        (f"{len(handed_in)} of {len(sheets)}", "handed in"),
        (str(waiting), "answers wait for a person"),
    ]
    if shares:
        facts.append((f"{100 * sum(shares) / len(shares):.0f} %", "average of the sheets marked to the end"))
    return facts


def _states_in(sheets: Iterable[Sheet]) -> Sequence[str]:
    sheets = list(sheets)
    seen = {outcome.state for sheet in sheets for outcome in sheet.outcomes}
    if any(not sheet.outcomes for sheet in sheets):
        seen.add(NOT_HANDED_IN)
    return [state for state in SIGNS if state in seen]


def _not_gradable(standing: Standing) -> Sequence[Mapping[str, str]]:
    rows = []
    for sheet in standing.marked:
        name, case = sheet.trainee.name, sheet.family.title
        if sheet.trouble and sheet.waiting:
            rows.append({"name": name, "task": f"whole sheet ({case})", "typed": "", "reason": sheet.trouble})
            continue
        stuck = [outcome for outcome in sheet.waiting if outcome.state == State.NOT_GRADABLE]
        rows.extend(
            {"name": name, "task": outcome.task.title, "typed": outcome.typed, "reason": outcome.reason}
            for outcome in stuck
            if not outcome.left_empty
        )
        empty = [outcome.task.title for outcome in stuck if outcome.left_empty]
        if empty:
            tasks = "all tasks" if len(empty) == len(sheet.outcomes) else "; ".join(empty)
            rows.append({"name": name, "task": tasks, "typed": "", "reason": "left empty, nothing was typed"})
    return rows


def tables(standing: Standing) -> Mapping[str, str]:
    """Write the tables for a spreadsheet.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.

    Returns
    -------
    mapping
        CSV text by file name; no cell can be run as a formula.
    """
    sheets = standing.sheets.values()
    marks = [
        [
            sheet.trainee.id,
            sheet.trainee.name,
            sheet.family.name,
            _progress(sheet),
            sheet.marks if sheet.outcomes else None,
            sheet.family.max_marks,
            len(sheet.waiting),
        ]
        for sheet in sheets
    ]
    answers = [
        [
            sheet.trainee.id,
            sheet.trainee.name,
            sheet.family.name,
            outcome.task.id,
            outcome.task.competency,
            outcome.state,
            outcome.marks,
            outcome.task.marks,
            outcome.misconception,
            outcome.typed[:500],
            outcome.read_as,
            outcome.reason,
        ]
        for sheet in sheets
        for outcome in sheet.outcomes
    ]
    slips = [
        [
            item.id,
            item.label,
            item.page,
            len(item.trainees),
            item.handed_in,
            item.answers,
            " ".join(trainee.id for trainee in item.trainees),
        ]
        for item in misconception_counts(standing)
    ]
    return {
        "marks.csv": _csv("trainee name case state marks max_marks waiting_for_a_person", marks),
        "answers.csv": _csv(
            "trainee name case task competency state marks max_marks misconception typed read_as reason", answers
        ),
        "misconceptions.csv": _csv("misconception label page trainees trainees_marked answers who", slips),
    }


def _progress(sheet: Sheet) -> str:
    if sheet.outcomes:
        return "marked"
    return "collected" if sheet.collected else NOT_HANDED_IN


def _csv(columns: str, rows: Iterable[Sequence[object]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns.split())
    writer.writerows([csv_cell(value) for value in row] for row in rows)
    return out.getvalue()


def write_report(cohort: Cohort, standing: Standing) -> Path:
    """Write the report and its tables.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    standing : Standing
        As it stands.

    Returns
    -------
    Path
        The page to open.
    """
    page = cohort.report / "index.html"
    for name, text in tables(standing).items():
        write_if_changed(cohort.report / name, text)
    write_text(page, report_page(standing, list(read_records(cohort.record("refused")))), derived=True)
    return page
