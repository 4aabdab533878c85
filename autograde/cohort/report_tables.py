"""The report as tables for a spreadsheet; no cell of them can be run as a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from autograde.cohort.competency_map import CompetencyMap
from autograde.cohort.figures import Figures, Span, TaskFigures
from autograde.cohort.standing import NOT_HANDED_IN, Sheet, Standing
from autograde.cohort.statistics import misconception_counts, task_counts
from autograde.cohort.text import csv_cell

__all__ = ["progress_of", "tables"]

MARKS = "trainee name case state marks max_marks waiting_for_a_person attempt earlier_attempts"
ANSWERS = "trainee name case task competency state marks max_marks misconception typed read_as reason"
SLIPS = "misconception label page trainees trainees_marked answers who"
ITEMS = (
    "case task title competency max_marks known difficulty difficulty_low difficulty_high "
    "discrimination discrimination_low discrimination_high flags"
)
COMPETENCIES = "trainee name competency competency_name marks open_marks max_marks minimum_pct state"


def tables(standing: Standing, figures: Figures, by_competency: CompetencyMap) -> Mapping[str, str]:
    """Write the tables.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.
    figures : Figures
        Difficulty and discrimination.
    by_competency : CompetencyMap
        The map.

    Returns
    -------
    mapping
        CSV text by file name.
    """
    return {
        "marks.csv": _csv(MARKS, _marks(standing)),
        "answers.csv": _csv(ANSWERS, _answers(standing)),
        "misconceptions.csv": _csv(SLIPS, _slips(standing)),
        "items.csv": _csv(ITEMS, _items(standing, figures)),
        "competencies.csv": _csv(COMPETENCIES, _competencies(by_competency)),
    }


def progress_of(sheet: Sheet) -> str:
    """Say how far a sheet has come."""
    if sheet.outcomes:
        return "marked"
    return "collected" if sheet.collected else NOT_HANDED_IN


def _marks(standing: Standing) -> Iterable[Sequence[object]]:
    for key, sheet in standing.sheets.items():
        yield [
            sheet.trainee.id,
            sheet.trainee.name,
            sheet.family.name,
            progress_of(sheet),
            sheet.marks if sheet.outcomes else None,
            sheet.family.max_marks,
            len(sheet.waiting),
            sheet.attempt if sheet.outcomes else None,
            len(standing.earlier.get(key, ())),
        ]


def _answers(standing: Standing) -> Iterable[Sequence[object]]:
    for sheet in standing.sheets.values():
        for outcome in sheet.outcomes:
            yield [
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


def _slips(standing: Standing) -> Iterable[Sequence[object]]:
    for item in misconception_counts(standing):
        who = " ".join(trainee.id for trainee in item.trainees)
        yield [item.id, item.label, item.page, len(item.trainees), item.handed_in, item.answers, who]


def _items(standing: Standing, figures: Figures) -> Iterable[Sequence[object]]:
    by_task = {(one.case, one.task): one for one in figures.tasks}
    for count in task_counts(standing):
        key = count.family.name, count.task.id
        one = by_task.get(key, TaskFigures(*key, 0, None, None))
        yield [
            *key,
            count.task.title,
            figures.counts_as.get(key, count.task.competency),
            count.task.marks,
            one.known,
            *_span(one.difficulty),
            *_span(one.discrimination),
            "; ".join(one.flags),
        ]


def _span(span: Span | None) -> Sequence[float | None]:
    return (None, None, None) if span is None else tuple(round(v, 4) for v in (span.value, span.low, span.high))


def _competencies(by_competency: CompetencyMap) -> Iterable[Sequence[object]]:
    for row in by_competency.rows:
        for cell in row.cells:
            yield [
                row.trainee.id,
                row.trainee.name,
                cell.competency.id,
                cell.competency.name,
                cell.marks,
                cell.open_marks,
                cell.max_marks,
                cell.competency.minimum_pct,
                cell.state,
            ]


def _csv(columns: str, rows: Iterable[Sequence[object]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns.split())
    cell = lru_cache(maxsize=4096)(csv_cell)  # in a large cohort nearly every cell has been seen before
    writer.writerows([cell(value) for value in row] for row in rows)
    return out.getvalue()
