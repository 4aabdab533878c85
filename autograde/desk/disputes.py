"""Marks that a decision may not rest on yet, because two readings of the text lie apart."""

from __future__ import annotations

from collections.abc import Iterable

from autograde.cohort.folder import Cohort
from autograde.cohort.marking import marked
from autograde.cohort.standing import Outcome, Standing
from autograde.desk.moderation import compare

__all__ = ["unsettled"]


def unsettled(cohort: Cohort, stand: Standing) -> dict[tuple[str, str, str], str]:
    """Say which marks may not be used for a decision yet, and why.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    stand : Standing
        How it stands.

    Returns
    -------
    dict
        Reason by trainee id, case and task; it names nobody.
    """
    compared = compare(cohort)
    if not compared:
        return {}
    current = {who: record["sha256"] for who, record in marked(cohort).items()}
    found = {}
    for one in compared:
        piece = one.piece
        if current.get((piece.trainee, piece.case)) != piece.sha256:
            continue
        sheet = stand.sheets.get((piece.trainee, piece.case))
        outcome = _outcome(sheet.outcomes, piece.task) if sheet else None
        if one.open:
            found[piece.trainee, piece.case, piece.task] = "two readings lie apart, and no mark is agreed on yet"
        elif one.agreed not in (None, piece.first_marks) and outcome and outcome.marks == piece.first_marks:
            found[piece.trainee, piece.case, piece.task] = "the agreed mark is not entered yet: agree again"
    return found


def _outcome(outcomes: Iterable[Outcome], task: str) -> Outcome | None:
    return next((outcome for outcome in outcomes if outcome.task.id == task), None)
