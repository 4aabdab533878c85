"""Marks written into the gradebook, and marks that people gave read back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from autograde.cohort.families import load_case
from autograde.cohort.files import read_records
from autograde.cohort.folder import Cohort
from autograde.cohort.gradebook import api, open_gradebook
from autograde.cohort.hand_record import HandLine, Key, moment, note_hand_marks, recorded_hand_marks, stamp_of
from autograde.cohort.notebook import ANSWER, CHECK, WORDS, grade_cell_id, solution_cell_id
from autograde.cohort.text import plain

__all__ = ["HandMark", "hand_marks", "note_what_people_gave", "write_marks"]

BATCH = 200
"""Submissions in one transaction."""


@dataclass(frozen=True)
class HandMark:
    """What a person added to one task: marks (or None), a comment, whether a look is wanted still, to which version."""

    marks: float | None
    comment: str
    waiting: bool
    stamp: datetime | None = None


def write_marks(cohort: Cohort, records: Sequence[Mapping[str, Any]]) -> int:
    """Bring the gradebook in step with marking records; what is in step already is left alone.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    records : sequence of mapping
        The latest record of each trainee and case.

    Returns
    -------
    int
        Submissions written.

    Notes
    -----
    Scores and comments that a person gave are never lost: they are put into a record of the cohort's own first. When
    a newer version of a submission arrives, its hand-marked tasks are shown to a person again. When another attempt
    comes into the place of one, it brings along what people gave for it.
    """
    with open_gradebook(cohort) as gradebook:
        versions = _versions(cohort)
        note_hand_marks(cohort, gradebook.db, versions)
        given = recorded_hand_marks(cohort)
        held = _held(gradebook.db)
        behind = [record for record in records if held.get((record["trainee"], record["case"])) != _wanted(record)]
        for start in range(0, len(behind), BATCH):
            _write_batch(gradebook.db, behind[start : start + BATCH], versions, given)
            gradebook.db.commit()
            gradebook.db.expunge_all()
    return len(behind)


def note_what_people_gave(cohort: Cohort) -> int:
    """Put marks and comments that people gave into the record; returns how many are new.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    int
        Lines added to ``records/by_hand.jsonl``.
    """
    versions = _versions(cohort)
    if not versions:
        return 0
    with open_gradebook(cohort) as gradebook:
        return note_hand_marks(cohort, gradebook.db, versions)


def _versions(cohort: Cohort) -> dict[tuple[str, str], dict[datetime, Key]]:
    """Tell the attempt that a time of arrival belongs to, older versions included."""
    found: dict[tuple[str, str], dict[datetime, Key]] = {}
    for record in read_records(cohort.record("marks")):
        key = record["trainee"], record["case"], record["attempt"]
        found.setdefault(key[:2], {})[stamp_of(record)] = key
    return found


def _wanted(record: Mapping[str, Any]) -> tuple[Any, ...]:
    ids = _cell_ids(record)
    marks = {ids[result["task"]][1]: result["marks"] for result in record["results"]}
    comments = {ids[result["task"]][0]: result["feedback"] for result in record["results"]}
    return stamp_of(record), marks, comments


def _cell_ids(record: Mapping[str, Any]) -> dict[str, tuple[str, str]]:
    """Name the solution and the grade cell of each task."""
    return {
        result["task"]: (WORDS + result["task"], WORDS + result["task"])
        if result["by_hand"]
        else (ANSWER + result["task"], CHECK + result["task"])
        for result in record["results"]
    }


def _held(db: Any) -> dict[tuple[str, str], tuple[Any, ...]]:
    """Read scores and comments of the automatic part, by trainee and case, without building objects."""
    nb = api()
    held: dict[tuple[str, str], tuple[Any, dict[str, Any], dict[str, Any]]] = {}
    for place, table, column in (
        (1, nb.Grade, nb.Grade.auto_score),
        (2, nb.Comment, nb.Comment.auto_comment),
    ):
        rows = (
            db.query(nb.SubmittedAssignment.student_id, nb.Assignment.name, nb.SubmittedAssignment.timestamp)
            .add_columns(nb.BaseCell.name, column)
            .select_from(table)
            .join(nb.BaseCell, nb.BaseCell.id == table.cell_id)
            .join(nb.SubmittedNotebook, nb.SubmittedNotebook.id == table.notebook_id)
            .join(nb.SubmittedAssignment, nb.SubmittedAssignment.id == nb.SubmittedNotebook.assignment_id)
            .join(nb.Assignment, nb.Assignment.id == nb.SubmittedAssignment.assignment_id)
        )
        for student, case, stamp, cell, value in rows:
            held.setdefault((student, case), (stamp, {}, {}))[place][cell] = value
    return held


def _write_batch(
    db: Any,
    records: Sequence[Mapping[str, Any]],
    versions: Mapping[tuple[str, str], Mapping[datetime, Key]],
    given: Mapping[Key, Mapping[str, HandLine]],
) -> None:
    nb = api()
    notebooks = {notebook.assignment.name: notebook for notebook in db.query(nb.Notebook)}
    graded = {case: {cell.name: cell.id for cell in entry.grade_cells} for case, entry in notebooks.items()}
    solved = {case: {cell.name: cell.id for cell in entry.solution_cells} for case, entry in notebooks.items()}
    entries = _entries(db, notebooks, records)
    for record in records:
        who = record["trainee"], record["case"]
        key, entry = (*who, record["attempt"]), entries[who]
        shown = entry.assignment.timestamp
        arrived_anew = shown != stamp_of(record)
        exchanged = versions.get(who, {}).get(shown, key) != key if shown else True
        entry.assignment.timestamp = stamp_of(record)
        grades = {grade.cell_id: grade for grade in entry.grades}
        comments = {comment.cell_id: comment for comment in entry.comments}
        ids = _cell_ids(record)
        for result in record["results"]:
            solution_name, grade_name = ids[result["task"]]
            grade_id, comment_id = graded[record["case"]][grade_name], solved[record["case"]][solution_name]
            grade = grades.get(grade_id) or nb.Grade(cell_id=grade_id, notebook=entry)
            comment = comments.get(comment_id) or nb.Comment(cell_id=comment_id, notebook=entry)
            db.add_all([grade, comment])
            _grade(grade, result, arrived_anew)
            comment.auto_comment = result["feedback"]
            if exchanged:
                _bring_along(grade, comment, record, given.get(key, {}).get(result["task"]))


def _entries(db: Any, notebooks: Mapping[str, Any], records: Sequence[Mapping[str, Any]]) -> dict[tuple[str, str], Any]:
    """Find or begin the gradebook's entry of every record, with one question to the database."""
    nb = api()
    whose = {record["trainee"] for record in records}
    found = db.query(nb.SubmittedAssignment).filter(nb.SubmittedAssignment.student_id.in_(whose))
    entries = {(submission.student_id, submission.assignment_id): submission.notebooks[0] for submission in found}
    for record in records:
        notebook = notebooks[record["case"]]
        who = (record["trainee"], notebook.assignment_id)
        if who not in entries:
            submission = nb.SubmittedAssignment(assignment=notebook.assignment, student_id=record["trainee"])
            entries[who] = nb.SubmittedNotebook(notebook=notebook, assignment=submission)
            db.add_all([submission, entries[who]])
    return {
        (record["trainee"], record["case"]): entries[record["trainee"], notebooks[record["case"]].assignment_id]
        for record in records
    }


def _grade(grade: Any, result: Mapping[str, Any], arrived_anew: bool) -> None:
    grade.auto_score = result["marks"]
    if grade.manual_score is None:
        grade.needs_manual_grade = result["marks"] is None
    elif arrived_anew:
        grade.needs_manual_grade = True


def _bring_along(grade: Any, comment: Any, record: Mapping[str, Any], line: HandLine | None) -> None:
    """Give an attempt that comes into the gradebook what people gave for it before."""
    grade.manual_score, grade.extra_credit, comment.manual_comment = None, None, None
    grade.needs_manual_grade = grade.auto_score is None
    if line is not None:
        grade.manual_score, grade.extra_credit, comment.manual_comment = line.manual, line.extra, line.comment or None
        if line.manual is not None:
            grade.needs_manual_grade = moment(line.arrived) != stamp_of(record)


def hand_marks(cohort: Cohort) -> dict[tuple[str, str, str], HandMark]:
    """Read what people added in the form for hand marking.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        By trainee id, case name and task id, for tasks with marks, extra marks or a comment of a person, and for
        tasks that wait for one.
    """
    nb = api()
    found: dict[tuple[str, str, str], HandMark] = {}
    with open_gradebook(cohort) as gradebook:
        comments = {
            (comment.student.id, comment.assignment.name, comment.name): comment.manual_comment
            for comment in gradebook.db.query(nb.Comment).filter(nb.Comment.manual_comment.is_not(None))
        }
        grades = gradebook.db.query(nb.Grade).filter(
            nb.Grade.manual_score.is_not(None) | nb.Grade.extra_credit.is_not(None) | nb.Grade.needs_manual_grade
        )
        by_cell = {
            (grade.student.id, grade.assignment.name, grade.name): (
                None if grade.manual_score is None and not grade.extra_credit else float(grade.score),
                bool(grade.needs_manual_grade),
                grade.notebook.assignment.timestamp,
            )
            for grade in grades
        }
    for case in cohort.settings.cases:
        for task in load_case(case, cohort.settings.case_folders).tasks:
            for trainee in cohort.trainees:
                cell = (trainee.id, case, grade_cell_id(task))
                marks, waiting, stamp = by_cell.get(cell, (None, False, None))
                comment = comments.get((trainee.id, case, solution_cell_id(task)), "")
                if marks is not None or waiting or comment:
                    found[trainee.id, case, task.id] = HandMark(marks, plain(comment), waiting, stamp)
    return found
