"""The cohort report: one page an instructor can project, a page for each trainee, and tables for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from autograde.cases import Family
from autograde.cohort.competency_map import CompetencyMap, competency_map
from autograde.cohort.drawing import band_picture, scatter_picture
from autograde.cohort.figures import Figures, TaskFigures, plain_figures
from autograde.cohort.files import read_records, write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.pages import SIGNS, environment, write_if_changed
from autograde.cohort.report_json import report_json
from autograde.cohort.report_tables import tables
from autograde.cohort.standing import NOT_HANDED_IN, WAITING, Sheet, Standing
from autograde.cohort.statistics import TaskCount, misconception_counts, pages_to_reteach, task_counts
from autograde.cohort.trainee_pages import write_trainee_pages
from autograde.marking import State

__all__ = ["report_page", "write_report"]

MOST_SLIPS = 8
"""Misconceptions shown at once; the rest is folded away."""
MOST_PAGES = 3
"""Pages to reteach named in the box on top."""
MANY = 1 / 3
"""Share of the room from which a page is for everybody: common practice, no source."""
MOST_ROWS = 60
"""Trainees shown at once in a table: those in most need."""


@dataclass(frozen=True)
class _Case:
    """A case with its sheets, those in most need first, and what its folded line says."""

    family: Family
    sheets: Sequence[Sheet]
    left_out: int
    handed_in: int
    trainees: int
    share: float | None
    waiting: int


def report_page(standing: Standing, refused: Sequence[Mapping[str, Any]] = (), figures: Figures | None = None) -> str:
    """Write the cohort report as a page that stands alone.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.
    refused : sequence of mapping
        Files that were not taken from the inbox, with ``source`` and ``reason``.
    figures : Figures, optional
        What is reckoned elsewhere; without it the page holds what the marks alone say.

    Returns
    -------
    str
        HTML without scripts and without anything from elsewhere.
    """
    figures = figures or plain_figures(standing.families)
    return _page(standing, refused, figures, competency_map(standing, figures))


def _page(
    standing: Standing, refused: Sequence[Mapping[str, Any]], figures: Figures, by_competency: CompetencyMap
) -> str:
    settings = standing.cohort.settings
    counts = task_counts(standing)
    odd, others = _analysed(counts, figures)
    slips = misconception_counts(standing)
    stuck = _not_gradable(standing)
    return (
        environment()
        .get_template("report.html")
        .render(
            title=settings.title,
            note=settings.note,
            book=settings.book,
            facts=_facts(standing),
            marked=bool(standing.marked),
            misconceptions=slips,
            most_slips=MOST_SLIPS,
            pages=pages_to_reteach(slips)[:MOST_PAGES],
            many=MANY,
            map=by_competency,
            most_rows=MOST_ROWS,
            cases=_cases(standing),
            states=_states_in(standing.sheets.values()),
            several=len(standing.families) > 1,
            earlier=standing.earlier,
            figures=figures,
            odd=odd,
            others=others,
            scatter=_scatter(odd, others),
            band=_band(by_competency, figures),
            by_hand=sum(outcome.state == WAITING for sheet in standing.marked for outcome in sheet.outcomes),
            rubrics=[(family, task) for family in standing.families for task in family.tasks if task.by_hand],
            not_gradable=stuck,
            refused=refused,
            titles={(family.name, task.id): task.title for family in standing.families for task in family.tasks},
            case_titles={family.name: family.title for family in standing.families},
            names={trainee.id: trainee.name for trainee in standing.cohort.trainees},
        )
    )


def _analysed(
    counts: Sequence[TaskCount], figures: Figures
) -> tuple[Sequence[tuple[TaskCount, TaskFigures]], Sequence[tuple[TaskCount, TaskFigures]]]:
    """Split tasks into those worth a look, the wrong-way ones and the hardest first, and the others by difficulty."""
    by_task = {(one.case, one.task): one for one in figures.tasks}
    pairs = []
    for count in counts:
        found = by_task.get((count.family.name, count.task.id))
        known = sum(number for state, number in count.states) if found is None else found.known
        pairs.append((count, found or TaskFigures(count.family.name, count.task.id, known, None, None)))

    def hardness(pair: tuple[TaskCount, TaskFigures]) -> float:
        return 2.0 if pair[0].facility is None else pair[0].facility

    def oddness(pair: tuple[TaskCount, TaskFigures]) -> tuple[bool, float]:
        told = pair[1].discrimination
        return not (told and told.value < 0), hardness(pair)

    return (
        sorted((pair for pair in pairs if pair[1].flags), key=oddness),
        sorted((pair for pair in pairs if not pair[1].flags), key=hardness),
    )


def _scatter(odd: Sequence[tuple[TaskCount, TaskFigures]], others: Sequence[tuple[TaskCount, TaskFigures]]) -> object:
    numbered = [*enumerate((pair[1] for pair in odd), start=1), *((0, pair[1]) for pair in others)]
    points = [
        (one.difficulty.value, one.discrimination.value, place)
        for place, one in numbered
        if one.difficulty and one.discrimination
    ]
    return scatter_picture(points) if points else None


def _band(by_competency: CompetencyMap, figures: Figures) -> object:
    totals = [(row.total.marks, row.total.open_marks) for row in by_competency.rows if row.begun]
    return band_picture(figures.standard, totals) if figures.standard and totals else None


def _facts(standing: Standing) -> Sequence[tuple[str, str]]:
    sheets = list(standing.sheets.values())
    handed_in = [sheet for sheet in sheets if sheet.collected or sheet.outcomes]
    read = [sheet for sheet in standing.marked if not sheet.trouble and not sheet.waiting]
    shares = [sheet.marks / sheet.family.max_marks for sheet in read]
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
    seen: set[str] = set()
    for sheet in sheets:
        seen.update(outcome.state for outcome in sheet.outcomes)
        if not sheet.outcomes:
            seen.add(NOT_HANDED_IN)
    return [state for state in SIGNS if state in seen]


def _cases(standing: Standing) -> Sequence[_Case]:
    """Give the cases, the one in which least was earned first."""
    found = []
    for family in standing.families:
        sheets = sorted(
            standing.of_case(family), key=lambda sheet: (not sheet.outcomes, sheet.marks + sheet.open_marks)
        )
        known = [outcome for sheet in sheets for outcome in sheet.outcomes if outcome.marks is not None]
        full = sum(outcome.task.marks for outcome in known)
        found.append(
            _Case(
                family,
                sheets[:MOST_ROWS],
                len(sheets[MOST_ROWS:]),
                sum(bool(sheet.outcomes) or sheet.collected for sheet in sheets),
                len(sheets),
                sum(outcome.marks or 0.0 for outcome in known) / full if full else None,
                sum(len(sheet.waiting) for sheet in sheets),
            )
        )
    return sorted(found, key=lambda case: 2.0 if case.share is None else case.share)


def _not_gradable(standing: Standing) -> Sequence[Mapping[str, Any]]:
    rows: list[Mapping[str, Any]] = []
    for sheet in standing.marked:
        base = {"trainee": sheet.trainee, "case": sheet.family, "typed": ""}
        if sheet.trouble and sheet.waiting:
            rows.append(base | {"task": "whole sheet", "reason": sheet.trouble})
            continue
        stuck = [outcome for outcome in sheet.waiting if outcome.state == State.NOT_GRADABLE]
        rows.extend(
            base | {"task": outcome.task.title, "typed": outcome.typed, "reason": outcome.reason}
            for outcome in stuck
            if not outcome.left_empty
        )
        empty = [outcome.task.title for outcome in stuck if outcome.left_empty]
        if empty:
            tasks = "all tasks" if len(empty) == len(sheet.outcomes) else "; ".join(empty)
            rows.append(base | {"task": tasks, "reason": "left empty, nothing was typed"})
    return rows


def write_report(cohort: Cohort, standing: Standing, figures: Figures | None = None) -> Path:
    """Write the report, its tables and a page for each trainee.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    standing : Standing
        As it stands.
    figures : Figures, optional
        What is reckoned elsewhere.

    Returns
    -------
    Path
        The page to open.
    """
    figures = figures or plain_figures(standing.families)
    by_competency = competency_map(standing, figures)
    page = cohort.report / "index.html"
    for name, text in tables(standing, figures, by_competency).items():
        write_if_changed(cohort.report / name, text)
    write_if_changed(cohort.report / "report.json", report_json(standing, figures, by_competency))
    write_trainee_pages(standing, figures, by_competency)
    refused = list(read_records(cohort.record("refused")))
    write_text(page, _page(standing, refused, figures, by_competency), derived=True)
    return page
