"""What the invented instructors do in the demonstration cohort: mark by hand, plan, and read a sample again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pedalwright_app.demo_judging import FIRST, SECOND, judged, ratings_for

if TYPE_CHECKING:
    from autograde.cohort.folder import Cohort

__all__ = ["FIRST", "SECOND", "judge", "moderate", "write_plan"]

REASON = "Read again together, point by point of the rubric."


def judge(cohort: Cohort) -> int:
    """Let the first instructor enter the shipped marks where nobody entered any.

    Parameters
    ----------
    cohort : Cohort
        Marked.

    Returns
    -------
    int
        Answers marked now: texts, and what the program could not read.
    """
    from autograde.cohort.by_hand import enter_marks

    given = {place: (one.first, one.comment) for place, one in judged().items() if place[1] in cohort.settings.cases}
    with cohort.at_work():
        return enter_marks(cohort, given)


def write_plan(cohort: Cohort) -> None:
    """Write the proposed blueprint, and the shipped ratings of the panel if there are none."""
    from autograde.cohort.files import write_bytes
    from autograde.desk.places import Places
    from autograde.desk.plan import write_first_plan

    places = Places.of(cohort)
    with cohort.at_work():
        write_first_plan(cohort)
        if not places.ratings.exists():
            write_bytes(places.ratings, ratings_for(cohort.settings.cases).encode())


def moderate(cohort: Cohort) -> str:
    """Let the second instructor read a sample of the texts, and both settle where they lie apart.

    Parameters
    ----------
    cohort : Cohort
        With marks for texts and a plan.

    Returns
    -------
    str
        What was done, in words.
    """
    from autograde.desk.moderation import Agreed, Reading, agree, compare, enter_readings
    from autograde.desk.readers import write_agreement
    from autograde.desk.reading_form import write_papers
    from autograde.desk.rounds import read_rounds, write_round
    from autograde.desk.sample import draw_sample

    marks = judged()
    with cohort.at_work():
        if not read_rounds(cohort):
            write_round(cohort, draw_sample(cohort, first_reader=FIRST))
        write_papers(cohort, read_rounds(cohort)[0])
        unread = [one.piece for one in compare(cohort) if one.reading is None]
        read = {piece.number: Reading(marks[piece.trainee, piece.case, piece.task].second) for piece in unread}
        found = enter_readings(cohort, read, by=SECOND)
        settled = {
            one.piece.number: Agreed(marks[one.piece.trainee, one.piece.case, one.piece.task].agreed, REASON)
            for one in found
            if one.open
        }
        found, changed = agree(cohort, settled, by=f"{FIRST} and {SECOND}")
        write_agreement(cohort)
    apart = sum(one.apart for one in found)
    return f"read {len(found)} texts again; {apart} readings lay apart and were settled, {changed} marks changed now"
