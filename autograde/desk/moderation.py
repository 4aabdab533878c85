"""Second readings: taken in, compared with the first, and settled where the two lie too far apart.

**The rule.** Two readings that differ by one step on the rubric or less agree: the first mark stands, since a mean
would move the marks of trainees only for being in the sample. Where they differ by more, the mark is open until one is
agreed on, in a talk or by a third reading, with the reason. An agreed mark takes the place of the first; no other mark
moves.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from autograde.award.chain import Entry
from autograde.cohort.by_hand import exchange_mark
from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case
from autograde.cohort.folder import Cohort
from autograde.cohort.marking import marked
from autograde.desk.places import Places
from autograde.desk.rounds import Piece, Round, read_rounds, rubric_of, step_marks, tasks_of
from autograde.marking import Task

__all__ = [
    "AGREED",
    "READING",
    "Agreed",
    "Compared",
    "Reading",
    "agree",
    "compare",
    "enter_readings",
]

READING, AGREED = "second reading", "mark agreed"
"""Kinds of entries in the record."""
SLACK = 1e-9
SHORTEST_REASON = 10


@dataclass(frozen=True)
class Reading:
    """What a second reader gave for each point of the rubric, and a comment."""

    points: tuple[float, ...]
    comment: str = ""

    @property
    def marks(self) -> float:
        """Marks for the whole text."""
        return round(math.fsum(self.points), 6)


@dataclass(frozen=True)
class Agreed:
    """A mark agreed on, and why."""

    marks: float
    reason: str


@dataclass(frozen=True)
class Compared:
    """A text with its two readings.

    Parameters
    ----------
    piece : Piece
        The text, with its first mark.
    task : Task
        What it answers.
    reading : Reading or None
        None until it is read.
    reader : str
        Who read it the second time.
    agreed : float or None
        The mark agreed on, if there is one.
    """

    piece: Piece
    task: Task
    reading: Reading | None = None
    reader: str = ""
    agreed: float | None = None

    @property
    def apart(self) -> bool:
        """Whether the readings differ by more than one step."""
        if self.reading is None:
            return False
        return abs(self.reading.marks - self.piece.first_marks) > step_marks(self.task) + SLACK

    @property
    def open(self) -> bool:
        """Whether a mark has still to be agreed on."""
        return self.apart and self.agreed is None

    @property
    def mark_that_counts(self) -> float | None:
        """The mark after moderation; None while it is open."""
        return None if self.open else self.piece.first_marks if self.agreed is None else self.agreed


def compare(cohort: Cohort, rounds: Sequence[Round] | None = None) -> tuple[Compared, ...]:
    """Bring samples, second readings and agreed marks together.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    rounds : sequence of Round, optional
        The samples, if read already.

    Returns
    -------
    tuple of Compared
        One for each text ever drawn whose case is still handed out, in order. A reading that was corrected counts as
        corrected.
    """
    rounds = read_rounds(cohort) if rounds is None else rounds
    if not rounds:
        return ()
    record = Places.of(cohort).record
    readings: dict[str, tuple[Reading, str]] = {}
    agreed: dict[str, float] = {}
    for entry in record.entries():
        if entry.kind == READING:
            readings[str(entry.body["number"])] = _recorded(entry, record.personal(entry.n) or {})
        elif entry.kind == AGREED:
            agreed[str(entry.body["number"])] = float(entry.body["agreed_marks"])
    tasks = tasks_of([load_case(case, cohort.settings.case_folders) for case in cohort.settings.cases])
    found = []
    for piece in (piece for drawn in rounds for piece in drawn.pieces):
        task = tasks.get((piece.case, piece.task))
        if task is None:
            continue
        reading, reader = readings.get(piece.number, (None, ""))
        found.append(Compared(piece, task, reading, reader, agreed.get(piece.number)))
    return tuple(found)


def _recorded(entry: Entry, personal: Mapping[str, object]) -> tuple[Reading, str]:
    points = tuple(float(mark) for mark in entry.body["points"])
    return Reading(points, str(personal.get("comment", ""))), str(personal.get("by", ""))


def enter_readings(
    cohort: Cohort, readings: Mapping[str, Reading], *, by: str, dry_run: bool = False
) -> tuple[Compared, ...]:
    """Take in second readings; the same ones again change nothing.

    Parameters
    ----------
    cohort : Cohort
        With a sample.
    readings : mapping
        By the number of the text; texts that are missing are read later.
    by : str
        Who read; somebody else than the first reader.
    dry_run : bool
        Only check.

    Returns
    -------
    tuple of Compared
        All texts drawn so far, with what is known of them now.

    Raises
    ------
    CohortError
        If the reader is the first one, a number or a mark is not possible, or a mark was agreed on already.
    """
    rounds = read_rounds(cohort)
    known = {one.piece.number: one for one in compare(cohort, rounds)}
    first = {piece.number: drawn.first_reader for drawn in rounds for piece in drawn.pieces}
    if not by.strip():
        raise CohortError("say who read the texts: --by NAME")
    for number, reading in readings.items():
        one = _known(known, number)
        if first[number].casefold() == by.strip().casefold():
            raise CohortError(f"{by.strip()} gave the first marks; a second reading takes another person")
        _check_points(one, reading)
        changed = one.reading is None or one.reading.points != reading.points
        if changed and one.agreed is not None:
            raise CohortError(f"a mark was agreed on for text {number} already; its second reading stays as it is")
    if not dry_run:
        record = Places.of(cohort).record
        for number, reading in readings.items():
            piece = known[number].piece
            if (known[number].reading, known[number].reader) == (reading, by.strip()):
                continue
            body = {
                "number": number,
                "case": piece.case,
                "task": piece.task,
                "points": list(reading.points),
                "marks": reading.marks,
                "first_marks": piece.first_marks,
            }
            personal = {"trainee": piece.trainee, "by": by.strip(), "comment": reading.comment}
            record.append(READING, body, personal)
    return compare(cohort, rounds)


def _known(known: Mapping[str, Compared], number: str) -> Compared:
    if number not in known:
        names = ", ".join(list(known)[:3])
        raise CohortError(f"no text drawn for a second reading has the number {number!r}; numbers are {names} …")
    if not known[number].piece.trainee:
        raise CohortError(f"text {number} is of a trainee whose data were deleted; leave its lines out")
    return known[number]


def _check_points(one: Compared, reading: Reading) -> None:
    rubric = rubric_of(one.task).rubric
    if len(reading.points) != len(rubric):
        raise CohortError(f"text {one.piece.number} needs {len(rubric)} marks, one for each point of the rubric")
    for place, (marks, criterion) in enumerate(zip(reading.points, rubric, strict=True), start=1):
        halves = 2 * marks / criterion.marks
        if not (math.isfinite(marks) and 0 <= marks <= criterion.marks and math.isclose(halves, round(halves))):
            raise CohortError(
                f"text {one.piece.number}, point {place}: received {marks:g} marks; allowed are 0, "
                f"{criterion.marks / 2:g} and {criterion.marks:g}"
            )


def agree(
    cohort: Cohort, agreed: Mapping[str, Agreed], *, by: str, dry_run: bool = False
) -> tuple[tuple[Compared, ...], int]:
    """Settle differences: record the agreed marks, then enter them into the gradebook.

    Parameters
    ----------
    cohort : Cohort
        With second readings.
    agreed : mapping
        By the number of the text; only texts whose readings lie apart.
    by : str
        Who agreed: both readers, or the third.
    dry_run : bool
        Only check.

    Returns
    -------
    tuple of Compared, int
        All texts, and how many marks in the gradebook changed.

    Raises
    ------
    CohortError
        If a text's readings do not lie apart, a reason is missing, or the mark in the gradebook is not the one that was
        read a second time.
    """
    rounds = read_rounds(cohort)
    known = {one.piece.number: one for one in compare(cohort, rounds)}
    first = {piece.number: drawn.first_reader for drawn in rounds for piece in drawn.pieces}
    if not by.strip():
        raise CohortError("say who agreed: --by NAMES")
    for number, settled in agreed.items():
        one = _known(known, number)
        _check_agreed(one, settled)
        if by.strip().casefold() in (first[number].casefold(), one.reader.casefold()):
            raise CohortError(f"text {number}: {by.strip()} is one of its readers; name both, or a third who decided")
    if dry_run:
        return tuple(known.values()), sum(one.marks != known[n].piece.first_marks for n, one in agreed.items())
    record = Places.of(cohort).record
    for number, settled in agreed.items():
        piece, reading = known[number].piece, known[number].reading
        body = {
            "number": number,
            "case": piece.case,
            "task": piece.task,
            "first_marks": piece.first_marks,
            "second_marks": None if reading is None else reading.marks,
            "agreed_marks": settled.marks,
        }
        personal = {"trainee": piece.trainee, "by": by.strip(), "reason": settled.reason.strip()}
        record.append_once(AGREED, body, personal)
    everything = compare(cohort)
    return everything, sum(_enter(cohort, one) for one in everything if one.piece.number in agreed)


def _check_agreed(one: Compared, settled: Agreed) -> None:
    number = one.piece.number
    if not one.apart:
        raise CohortError(f"the readings of text {number} do not lie apart: its first mark stands, leave it out")
    if not (math.isfinite(settled.marks) and 0 <= settled.marks <= one.task.marks):
        raise CohortError(
            f"text {number}: received {settled.marks:g} marks as agreed; allowed are 0 to {one.task.marks:g}"
        )
    if len(settled.reason.strip()) < SHORTEST_REASON:
        raise CohortError(f"text {number}: an agreed mark needs a reason of at least {SHORTEST_REASON} characters")
    if one.agreed is not None and one.agreed != settled.marks:
        raise CohortError(f"text {number}: {one.agreed:g} marks were agreed on already; an appeal can change them")


def _enter(cohort: Cohort, one: Compared) -> bool:
    piece, marks = one.piece, one.agreed
    if marks is None or _replaced(cohort, piece):
        return False
    if not exchange_mark(cohort, piece.trainee, piece.case, piece.task, held=piece.first_marks, marks=marks):
        raise CohortError(
            f"text {piece.number}: the gradebook holds another mark than the {piece.first_marks:g} that was read a "
            "second time; it was changed since. Put that mark back in the form for hand marking, and run this again"
        )
    return marks != piece.first_marks


def _replaced(cohort: Cohort, piece: Piece) -> bool:
    record = marked(cohort).get((piece.trainee, piece.case))
    return record is None or record["sha256"] != piece.sha256
