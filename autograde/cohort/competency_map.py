"""Who stands where in which competency, those in most need first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from autograde.cohort.figures import Competency, Figures
from autograde.cohort.roster import Trainee
from autograde.cohort.standing import Standing

__all__ = ["BELOW", "MET", "OPEN", "UNRATED", "Cell", "CompetencyMap", "Row", "competency_map"]

MET, BELOW, OPEN, UNRATED = "minimum met", "below the minimum", "still open", "no minimum set"
SLACK = 1e-9


@dataclass(frozen=True)
class Cell:
    """Marks of one trainee in one competency.

    Parameters
    ----------
    competency : Competency
        Which.
    marks, open_marks, max_marks : float
        Earned, not known yet (waiting for a person or not handed in), and full marks.
    state : str
        `MET`, `BELOW`, `OPEN` or `UNRATED`.
    """

    competency: Competency
    marks: float
    open_marks: float
    max_marks: float
    state: str

    @property
    def share(self) -> float | None:
        """Share of the full marks earned so far, 0 to 1; None if nothing is marked."""
        return None if self.open_marks > self.max_marks - SLACK else self.marks / self.max_marks

    @property
    def open_share(self) -> float:
        """Share of the full marks that is not known yet."""
        return self.open_marks / self.max_marks


@dataclass(frozen=True)
class Row:
    """One trainee's cells, and all marks together."""

    trainee: Trainee
    cells: tuple[Cell, ...]
    total: Cell

    @property
    def begun(self) -> bool:
        """Whether anything is marked."""
        return self.total.share is not None

    @property
    def below(self) -> tuple[Cell, ...]:
        """Cells below their minimum."""
        return tuple(cell for cell in self.cells if cell.state == BELOW)


@dataclass(frozen=True)
class CompetencyMap:
    """The map.

    Parameters
    ----------
    columns : tuple of Competency
        The one in which the cohort earned least first.
    shares : tuple of float or None
        Of what is marked, the share the cohort earned in each column, 0 to 1.
    total_share : float or None
        The same over all columns.
    rows : tuple of Row
        Who is below most minimums first, then who earned least of what is marked; nothing marked comes last.
    """

    columns: tuple[Competency, ...]
    shares: tuple[float | None, ...]
    total_share: float | None
    rows: tuple[Row, ...]

    @cached_property
    def by_trainee(self) -> dict[str, Row]:
        """Rows by trainee id."""
        return {row.trainee.id: row for row in self.rows}


_WHOLE = Competency("all", "All together")


def competency_map(standing: Standing, figures: Figures) -> CompetencyMap:
    """Bring the marks of a cohort together by competency.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.
    figures : Figures
        Tells which task counts under which competency, and the minimums.

    Returns
    -------
    CompetencyMap
        A mark that is not known is open; nothing is made up for it.
    """
    known, full, owners = _marks(standing, figures)
    earned = np.where(np.isnan(known), 0.0, known)
    marked = np.where(np.isnan(known), 0.0, full)
    columns = [competency for competency in figures.competencies if competency.id in owners]
    member = np.array([[owner == column.id for column in columns] for owner in owners], dtype=float)
    marks, decided, most = earned @ member, marked @ member, full @ member
    sums = zip(marks.sum(axis=0).tolist(), decided.sum(axis=0).tolist(), strict=True)
    shares = [None if full_marks == 0 else got / full_marks for got, full_marks in sums]
    order = [place for _, place in sorted((2.0 if at is None else at, place) for place, at in enumerate(shares))]
    rows = [
        Row(
            trainee,
            tuple(_cell(columns[j], marks[i, j], decided[i, j], most[j]) for j in order),
            _cell(_WHOLE, float(earned[i].sum()), float(marked[i].sum()), float(full.sum())),
        )
        for i, trainee in enumerate(standing.cohort.trainees)
    ]
    return CompetencyMap(
        tuple(columns[j] for j in order),
        tuple(shares[j] for j in order),
        float(earned.sum() / marked.sum()) if marked.any() else None,
        tuple(sorted(rows, key=_need)),
    )


def _marks(standing: Standing, figures: Figures) -> tuple[NDArray[np.float64], NDArray[np.float64], Sequence[str]]:
    place: dict[tuple[str, str], int] = {}
    full: list[float] = []
    owners: list[str] = []
    for family in standing.families:
        for task in family.tasks:
            place[family.name, task.id] = len(full)
            full.append(float(task.marks))
            owners.append(figures.counts_as.get((family.name, task.id), ""))
    known = np.full((len(standing.cohort.trainees), len(full)), np.nan)
    for row, trainee in enumerate(standing.cohort.trainees):
        for family in standing.families:
            for outcome in standing.sheets[trainee.id, family.name].outcomes:
                if outcome.marks is not None:
                    known[row, place[family.name, outcome.task.id]] = outcome.marks
    return known, np.array(full), owners


def _cell(competency: Competency, marks: float, decided: float, most: float) -> Cell:
    open_marks = round(most - decided, 6)
    state = UNRATED
    if competency.minimum_pct is not None:
        met = marks >= most * competency.minimum_pct / 100 - SLACK
        state = MET if met else OPEN if open_marks > SLACK else BELOW
    return Cell(competency, round(float(marks), 6), float(open_marks), float(most), state)


def _need(row: Row) -> tuple[bool, int, float, str]:
    decided = row.total.max_marks - row.total.open_marks
    return not row.begun, -len(row.below), row.total.marks / decided if decided else 0.0, row.trainee.name
