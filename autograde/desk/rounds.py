"""Samples of texts that a second person reads: what they hold, on disk and in the record."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from autograde.award.errors import AwardError
from autograde.award.files import read_limited, write_atomic
from autograde.cases import Family
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.desk.places import Places
from autograde.marking import Task, Words

__all__ = [
    "BORDERLINE",
    "LEAST",
    "SAFETY",
    "SAMPLE",
    "SHARE",
    "SHARE_PCT",
    "Piece",
    "Round",
    "forget_in_rounds",
    "read_rounds",
    "rubric_of",
    "step_marks",
    "tasks_of",
    "write_round",
]

SAMPLE = "sample for second reading"
"""Kind of the entry that tells which texts were drawn, and by what rule."""
BORDERLINE, SAFETY, SHARE = "borderline trainee", "safety-critical task", "drawn by lot"
SHARE_PCT, LEAST = 20.0, 5
"""Share of the remaining texts in percent, and the fewest of them: common practice, no source."""
LARGEST_BYTES = 50_000_000


@dataclass(frozen=True)
class Piece:
    """One text of the sample.

    Parameters
    ----------
    number : str
        What the second reader knows it by: round and number, such as ``t1-07``; no spreadsheet takes it
        for a date.
    trainee : str
        Whose it is; empty once the trainee was forgotten.
    case, task : str
        What it answers.
    sha256 : str
        Of the submission it stood in; newer work is another text.
    first_marks : float
        What the first reader gave.
    why : str
        `BORDERLINE`, `SAFETY` or `SHARE`.
    """

    number: str
    trainee: str
    case: str
    task: str
    sha256: str
    first_marks: float
    why: str

    def public(self) -> dict[str, Any]:
        """Give what may stay in the record for good."""
        names = ("number", "case", "task", "first_marks", "why")
        return {name: getattr(self, name) for name in names}


@dataclass(frozen=True)
class Round:
    """One sample.

    Parameters
    ----------
    number : int
        From 1.
    first_reader : str
        Who gave the marks that are read a second time.
    texts : int
        Texts with marks, from which it was drawn.
    share_pct : float
        Share drawn by lot, percent.
    least : int
        The fewest drawn by lot.
    note : str
        What the rule could not see, or empty.
    pieces : tuple of Piece
        In the order of their numbers.
    recorded : bool
        Whether it is on disk and in the record.
    """

    number: int
    first_reader: str
    texts: int
    share_pct: float
    least: int
    note: str
    pieces: tuple[Piece, ...]
    recorded: bool = True

    @property
    def rule(self) -> str:
        """The rule in words."""
        return (
            "all texts of borderline trainees, all texts of safety-critical tasks, and of the rest "
            f"{self.share_pct:g} % drawn by lot, at least {self.least}"
        )

    def piece(self, number: str) -> Piece:
        """Find a text by its number; CohortError if it is none of this round."""
        for piece in self.pieces:
            if piece.number == number:
                return piece
        raise CohortError(f"round {self.number} has no text {number!r}; its texts are {self._span()}")

    def piece_of(self, trainee: str, case: str, task: str) -> Piece | None:
        """Find a trainee's text, None if it was not drawn."""
        wanted = (trainee, case, task)
        return next((piece for piece in self.pieces if (piece.trainee, piece.case, piece.task) == wanted), None)

    def _span(self) -> str:
        return f"{self.pieces[0].number} to {self.pieces[-1].number}"


def rubric_of(task: Task) -> Words:
    """Give the rubric of a task that people mark."""
    if not isinstance(task.kind, Words):
        raise CohortError(f"{task.id} is not marked by people")
    return task.kind


def step_marks(task: Task) -> float:
    """Say what one step on the rubric is worth: half of its smallest point."""
    return min(criterion.marks for criterion in rubric_of(task).rubric) / 2


def read_rounds(cohort: Cohort) -> tuple[Round, ...]:
    """Read the samples drawn so far.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    tuple of Round
        In order.

    Raises
    ------
    AwardError
        If one is damaged.
    """
    rounds = []
    for path in sorted(Places.of(cohort).moderation.glob("*/sample.json"), key=lambda path: int(path.parent.name)):
        try:
            data = json.loads(read_limited(path, LARGEST_BYTES))
            pieces = tuple(Piece(**piece) for piece in data.pop("pieces"))
            rounds.append(Round(**{**data, "pieces": pieces}))
        except (ValueError, TypeError, AttributeError, KeyError) as trouble:
            raise AwardError(f"{path} is damaged ({trouble}); restore it from a backup") from trouble
    return tuple(rounds)


def write_round(cohort: Cohort, drawn: Round) -> None:
    """Put a sample on disk, then into the record; done again, it changes nothing."""
    places = Places.of(cohort)
    if not _path(places, drawn).exists():
        _write(places, drawn)
    body = {
        "round": drawn.number,
        "rule": drawn.rule,
        "texts": drawn.texts,
        "note": drawn.note,
        "pieces": [piece.public() for piece in drawn.pieces],
    }
    known = {entry.body["round"] for entry in places.record.entries() if entry.kind == SAMPLE}
    if drawn.number not in known:
        places.record.append(SAMPLE, body, {"by": drawn.first_reader})


def _path(places: Places, drawn: Round) -> Path:
    return places.moderation / str(drawn.number) / "sample.json"


def _write(places: Places, drawn: Round) -> None:
    data = {key: value for key, value in asdict(drawn).items() if key != "recorded"}
    content = json.dumps(data, indent=1, ensure_ascii=False).encode("utf-8", "replace")
    write_atomic(_path(places, drawn), content, mode=0o600)


def forget_in_rounds(cohort: Cohort, trainee: str) -> int:
    """Take a trainee's id out of the samples; numbers and marks stay.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    trainee : str
        Whose.

    Returns
    -------
    int
        Texts that no longer say whose they are.
    """
    count = 0
    for drawn in read_rounds(cohort):
        theirs = sum(piece.trainee == trainee for piece in drawn.pieces)
        if theirs:
            kept = tuple(
                replace(piece, trainee="", sha256="") if piece.trainee == trainee else piece for piece in drawn.pieces
            )
            _write(Places.of(cohort), replace(drawn, pieces=kept))
        count += theirs
    return count


def tasks_of(families: Sequence[Family]) -> dict[tuple[str, str], Task]:
    """Find all tasks that people mark, by case and task."""
    return {(family.name, task.id): task for family in families for task in family.tasks if task.by_hand}
