"""What people gave in the form for hand marking, kept in a record of the cohort's own.

The gradebook holds one mark a task, and neither when it was given nor what stood there before. The record keeps every
mark and comment that was seen, by attempt; so a lost gradebook is filled again with them, and a trainee's earlier
attempts keep theirs.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from autograde.cohort.files import append_records, read_records
from autograde.cohort.folder import Cohort
from autograde.cohort.gradebook import api
from autograde.cohort.notebook import ANSWER, CHECK, WORDS

__all__ = ["HandLine", "Key", "moment", "note_hand_marks", "recorded_hand_marks", "stamp_of", "task_of_cell"]

Key = tuple[str, str, int]
"""Trainee id, case name and attempt."""


@dataclass(frozen=True)
class HandLine:
    """What a person gave for one task: marks in place of the program's, marks on top, a comment; for which version."""

    manual: float | None
    extra: float | None
    comment: str
    arrived: str

    @property
    def given(self) -> tuple[float | None, float | None, str]:
        """The part that a person gave."""
        return self.manual, self.extra, self.comment


def recorded_hand_marks(cohort: Cohort) -> dict[Key, dict[str, HandLine]]:
    """Read what people gave last.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        By trainee, case and attempt: what was given by task id.
    """
    found: dict[Key, dict[str, HandLine]] = {}
    for line in read_records(cohort.record("by_hand")):
        mark = HandLine(line["manual"], line["extra"], line["comment"], line["arrived"])
        found.setdefault((line["trainee"], line["case"], line["attempt"]), {})[line["task"]] = mark
    return found


def note_hand_marks(cohort: Cohort, db: Any, versions: Mapping[tuple[str, str], Mapping[datetime, Key]]) -> int:
    """Put into the record what people gave since the last time.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    db : Session
        Of the open gradebook.
    versions : mapping
        For each trainee and case: which attempt a time of arrival belongs to.

    Returns
    -------
    int
        Lines added. Marks that wait for a look at newer work are noted when that look was taken.
    """
    held = recorded_hand_marks(cohort)
    seen = datetime.now(UTC).isoformat(timespec="seconds")
    lines = []
    for key, task, mark, waiting in _in_gradebook(db, versions, held):
        known = held.get(key, {}).get(task)
        if waiting or (known is None and mark.given == (None, None, "")):
            continue
        if known is None or known.given != mark.given or (known.arrived != mark.arrived and mark.manual is not None):
            trainee, case, attempt = key
            place = {"trainee": trainee, "case": case, "attempt": attempt, "task": task, "seen": seen}
            lines.append(
                place | {"manual": mark.manual, "extra": mark.extra, "comment": mark.comment, "arrived": mark.arrived}
            )
    append_records(cohort.record("by_hand"), lines)
    return len(lines)


def _in_gradebook(
    db: Any, versions: Mapping[tuple[str, str], Mapping[datetime, Key]], held: Mapping[Key, Mapping[str, HandLine]]
) -> Iterator[tuple[Key, str, HandLine, bool]]:
    """Give what a person gave, and what a person took back: tasks on record that hold nothing any more."""
    arrived = {(student, case): stamp for student, case, stamp in _submissions(db)}
    shown = {who: versions[who][stamp] for who, stamp in arrived.items() if stamp in versions.get(who, {})}
    comments = {(student, case, task_of_cell(cell)): text for student, case, cell, text in _comments(db)}
    wanted = {(key[0], key[1], task) for key in shown.values() for task in held.get(key, {})}
    rows = {(s, c, task_of_cell(cell)): (m, e, w) for s, c, cell, m, e, w in _grades(db)}
    for student, case, task in {**dict.fromkeys(rows), **dict.fromkeys(comments), **dict.fromkeys(sorted(wanted))}:
        key = shown.get((student, case))
        if key is not None:
            manual, extra, waiting = rows.get((student, case, task), (None, None, False))
            text = comments.get((student, case, task), "")
            stamp = arrived[student, case].replace(tzinfo=UTC).isoformat(timespec="microseconds")
            yield key, task, HandLine(manual, extra or None, text, stamp), bool(waiting) and manual is not None


def _submissions(db: Any) -> Any:
    nb = api()
    columns = nb.SubmittedAssignment.student_id, nb.Assignment.name, nb.SubmittedAssignment.timestamp
    return db.query(*columns).join(nb.Assignment, nb.Assignment.id == nb.SubmittedAssignment.assignment_id)


def _joined(db: Any, table: Any, *columns: Any) -> Any:
    nb = api()
    return (
        db.query(nb.SubmittedAssignment.student_id, nb.Assignment.name, nb.BaseCell.name, *columns)
        .select_from(table)
        .join(nb.BaseCell, nb.BaseCell.id == table.cell_id)
        .join(nb.SubmittedNotebook, nb.SubmittedNotebook.id == table.notebook_id)
        .join(nb.SubmittedAssignment, nb.SubmittedAssignment.id == nb.SubmittedNotebook.assignment_id)
        .join(nb.Assignment, nb.Assignment.id == nb.SubmittedAssignment.assignment_id)
    )


def _grades(db: Any) -> Any:
    nb = api()
    rows = _joined(db, nb.Grade, nb.Grade.manual_score, nb.Grade.extra_credit, nb.Grade.needs_manual_grade)
    return rows.filter(nb.Grade.manual_score.is_not(None) | nb.Grade.extra_credit.is_not(None))


def _comments(db: Any) -> Any:
    nb = api()
    return _joined(db, nb.Comment, nb.Comment.manual_comment).filter(nb.Comment.manual_comment.is_not(None))


def stamp_of(record: Mapping[str, Any]) -> datetime:
    """Give a record's time of arrival as the gradebook keeps it."""
    return moment(record["arrived"])


def moment(arrived: str) -> datetime:
    """Give a time of arrival as the gradebook keeps it."""
    return datetime.fromisoformat(arrived).astimezone(UTC).replace(tzinfo=None)


def task_of_cell(name: str) -> str:
    """Tell the task from the name of its cell in the gradebook."""
    for prefix in (ANSWER, CHECK, WORDS):
        if name.startswith(prefix):
            return name.removeprefix(prefix)
    return name
