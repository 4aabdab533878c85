"""Marks in nbgrader's own database, so that its commands and its form for hand marking see them."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case
from autograde.cohort.folder import Cohort
from autograde.cohort.notebook import ANSWER, CHECK, WORDS, Notebook, grade_cell_id, solution_cell_id
from autograde.cohort.text import plain

__all__ = ["HandMark", "hand_marks", "open_gradebook", "prepare", "validate", "write_marks"]

BATCH = 200
"""Submissions in one transaction."""
VERSION_TABLE = "alembic_version"
HARMLESS = str.maketrans(",<>\n", " ‹› ")


@dataclass(frozen=True)
class HandMark:
    """What a person added to one task: marks (or None), a comment, and whether a look is still wanted."""

    marks: float | None
    comment: str
    waiting: bool


@contextmanager
def open_gradebook(cohort: Cohort) -> Iterator[Any]:
    """Open the gradebook of a cohort.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Yields
    ------
    nbgrader.api.Gradebook
        Closed again at the end.

    Raises
    ------
    CohortError
        If the database cannot be reached.
    """
    api = _api()
    from sqlalchemy.exc import SQLAlchemyError

    try:
        _lay_out_tables(cohort.db_url)
        with api.Gradebook(cohort.db_url, cohort.settings.course_id) as gradebook:
            yield gradebook
    except SQLAlchemyError as trouble:
        detail = plain(str(getattr(trouble, "orig", None) or trouble), 200)
        raise CohortError(
            f"the gradebook could not be used ({detail}); the marks are safe in records/, run the command again"
        ) from trouble


def _lay_out_tables(url: str) -> None:
    """Make the tables of a new database and note the edition of their layout.

    nbgrader would start another program for the second half, found only where this environment is active.
    """
    from sqlalchemy import create_engine, inspect, text

    api = _api()
    engine = create_engine(url)
    try:
        if VERSION_TABLE in inspect(engine).get_table_names():
            with engine.connect() as connection:
                if connection.scalar(text(f"SELECT count(*) FROM {VERSION_TABLE}")):
                    return
        from alembic.script import ScriptDirectory

        head = ScriptDirectory(str(Path(api.__file__).with_name("alembic"))).get_current_head()
        api.Base.metadata.create_all(bind=engine)
        with engine.begin() as connection:
            connection.execute(text(f"CREATE TABLE IF NOT EXISTS {VERSION_TABLE} (version_num VARCHAR(32) NOT NULL)"))
            connection.execute(text(f"INSERT INTO {VERSION_TABLE} (version_num) VALUES (:head)"), {"head": head})
    finally:
        engine.dispose()


def _api() -> Any:
    """Import nbgrader's database module without an optional address checker that takes a second to load."""
    unwanted = "rfc3987_syntax"
    held = unwanted not in sys.modules
    if held:
        sys.modules[unwanted] = None  # type: ignore[assignment]
    try:
        import nbgrader.api
    finally:
        if held:
            sys.modules.pop(unwanted, None)
    return nbgrader.api


def validate(notebook: Notebook) -> None:
    """Let the notebook format and nbgrader itself check a notebook.

    Parameters
    ----------
    notebook : dict
        The notebook.

    Raises
    ------
    CohortError
        If either finds fault with it.
    """
    _api()
    import nbformat
    from nbgrader.nbgraderformat import MetadataValidator, ValidationError

    try:
        node = nbformat.from_dict(notebook)
        nbformat.validate(node)
        MetadataValidator().validate_nb(node)
    except (nbformat.ValidationError, ValidationError) as trouble:
        case = notebook["metadata"]["pedalwright"]["case"]
        raise CohortError(f"the notebook of {case} is not valid: {plain(str(trouble), 300)}") from trouble


def prepare(cohort: Cohort, sources: Mapping[str, Notebook]) -> None:
    """Enter the roster and the cells of every case, in one transaction.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    sources : mapping
        The source notebook of each case.

    Raises
    ------
    CohortError
        If a case with submissions gained or lost a task.
    """
    with open_gradebook(cohort) as gradebook:
        _enter_roster(gradebook.db, cohort)
        for case, notebook in sources.items():
            _enter_case(gradebook.db, cohort, case, notebook)
        gradebook.db.commit()


def _enter_roster(db: Any, cohort: Cohort) -> None:
    api = _api()
    known = {student.id: student for student in db.query(api.Student)}
    for trainee in cohort.trainees:
        fields = {"last_name": _tame(trainee.name), "email": _tame(trainee.email) or None}
        if trainee.id not in known:
            db.add(api.Student(id=trainee.id, **fields))
        else:
            for key, value in fields.items():
                setattr(known[trainee.id], key, value)


def _tame(text: str) -> str:
    """Make a name harmless in nbgrader's own table export and pages, which write it as it is."""
    return plain(text, 120).translate(HARMLESS).lstrip("=+-@ ")


def _enter_case(db: Any, cohort: Cohort, case: str, notebook: Notebook) -> None:
    api = _api()
    assignment = db.query(api.Assignment).filter_by(name=case).one_or_none()
    if assignment is None:
        assignment = api.Assignment(name=case, course_id=cohort.settings.course_id)
        entry = api.Notebook(name=case, assignment=assignment)
        db.add_all([assignment, entry])
    else:
        entry = db.query(api.Notebook).filter_by(name=case, assignment_id=assignment.id).one()
    entry.kernelspec = json.dumps(notebook["metadata"]["kernelspec"])
    cells = [cell for cell in notebook["cells"] if "nbgrader" in cell["metadata"]]
    known = {cell.name: cell for cell in entry.source_cells}
    wanted = {cell["metadata"]["nbgrader"]["grade_id"] for cell in cells}
    if known and wanted != set(known) and entry.submissions:
        raise CohortError(
            f"the tasks of {case} have changed, and there are submissions of it; give the new edition a name of its own"
        )
    if wanted != set(known):
        for cell in [*entry.source_cells, *entry.grade_cells, *entry.solution_cells]:
            db.delete(cell)
        db.flush()
        known = {}
    for cell in cells:
        _enter_cell(db, entry, cell, known)


def _enter_cell(db: Any, entry: Any, cell: Mapping[str, Any], known: Mapping[str, Any]) -> None:
    api = _api()
    mark = cell["metadata"]["nbgrader"]
    name, fields = mark["grade_id"], {"source": cell["source"], "checksum": mark["checksum"]}
    if name in known:
        for key, value in fields.items():
            setattr(known[name], key, value)
        if mark["grade"]:
            grade_cell = next(item for item in entry.grade_cells if item.name == name)
            grade_cell.max_score = mark["points"]
        return
    common = {"name": name, "notebook": entry}
    db.add(api.SourceCell(**common, cell_type=cell["cell_type"], locked=mark["locked"], **fields))
    if mark["grade"]:
        db.add(api.GradeCell(**common, max_score=mark["points"], cell_type=cell["cell_type"]))
    if mark["solution"]:
        db.add(api.SolutionCell(**common))


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
    Scores and comments that a person gave are never touched. When a newer version of a submission arrives, its
    hand-marked tasks are shown to a person again.
    """
    with open_gradebook(cohort) as gradebook:
        held = _held(gradebook.db)
        behind = [record for record in records if held.get((record["trainee"], record["case"])) != _wanted(record)]
        for start in range(0, len(behind), BATCH):
            _write_batch(gradebook.db, behind[start : start + BATCH])
            gradebook.db.commit()
            gradebook.db.expunge_all()
    return len(behind)


def _stamp(record: Mapping[str, Any]) -> datetime:
    return datetime.fromisoformat(record["arrived"]).astimezone(UTC).replace(tzinfo=None)


def _wanted(record: Mapping[str, Any]) -> tuple[Any, ...]:
    ids = _cell_ids(record)
    marks = {ids[result["task"]][1]: result["marks"] for result in record["results"]}
    comments = {ids[result["task"]][0]: result["feedback"] for result in record["results"]}
    return _stamp(record), marks, comments


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
    api = _api()
    held: dict[tuple[str, str], tuple[Any, dict[str, Any], dict[str, Any]]] = {}
    for place, table, column in ((1, api.Grade, api.Grade.auto_score), (2, api.Comment, api.Comment.auto_comment)):
        rows = (
            db.query(api.SubmittedAssignment.student_id, api.Assignment.name, api.SubmittedAssignment.timestamp)
            .add_columns(api.BaseCell.name, column)
            .select_from(table)
            .join(api.BaseCell, api.BaseCell.id == table.cell_id)
            .join(api.SubmittedNotebook, api.SubmittedNotebook.id == table.notebook_id)
            .join(api.SubmittedAssignment, api.SubmittedAssignment.id == api.SubmittedNotebook.assignment_id)
            .join(api.Assignment, api.Assignment.id == api.SubmittedAssignment.assignment_id)
        )
        for student, case, stamp, cell, value in rows:
            held.setdefault((student, case), (stamp, {}, {}))[place][cell] = value
    return held


def _write_batch(db: Any, records: Sequence[Mapping[str, Any]]) -> None:
    api = _api()
    notebooks = {notebook.assignment.name: notebook for notebook in db.query(api.Notebook)}
    graded = {case: {cell.name: cell.id for cell in entry.grade_cells} for case, entry in notebooks.items()}
    solved = {case: {cell.name: cell.id for cell in entry.solution_cells} for case, entry in notebooks.items()}
    for record in records:
        entry = _submission(db, notebooks[record["case"]], record)
        arrived_anew = entry.assignment.timestamp != _stamp(record)
        entry.assignment.timestamp = _stamp(record)
        grades = {grade.cell_id: grade for grade in entry.grades}
        comments = {comment.cell_id: comment for comment in entry.comments}
        ids = _cell_ids(record)
        for result in record["results"]:
            solution_name, grade_name = ids[result["task"]]
            grade_id, comment_id = graded[record["case"]][grade_name], solved[record["case"]][solution_name]
            grade = grades.get(grade_id) or api.Grade(cell_id=grade_id, notebook=entry)
            comment = comments.get(comment_id) or api.Comment(cell_id=comment_id, notebook=entry)
            db.add_all([grade, comment])
            _grade(grade, result, arrived_anew)
            comment.auto_comment = result["feedback"]


def _submission(db: Any, notebook: Any, record: Mapping[str, Any]) -> Any:
    api = _api()
    submission = (
        db.query(api.SubmittedAssignment)
        .filter_by(assignment_id=notebook.assignment_id, student_id=record["trainee"])
        .one_or_none()
    )
    if submission is not None:
        return submission.notebooks[0]
    submission = api.SubmittedAssignment(assignment=notebook.assignment, student_id=record["trainee"])
    entry = api.SubmittedNotebook(notebook=notebook, assignment=submission)
    db.add_all([submission, entry])
    return entry


def _grade(grade: Any, result: Mapping[str, Any], arrived_anew: bool) -> None:
    grade.auto_score = result["marks"]
    if grade.manual_score is None:
        grade.needs_manual_grade = result["marks"] is None
    elif arrived_anew:
        grade.needs_manual_grade = True


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
    api = _api()
    found: dict[tuple[str, str, str], HandMark] = {}
    with open_gradebook(cohort) as gradebook:
        comments = {
            (comment.student.id, comment.assignment.name, comment.name): comment.manual_comment
            for comment in gradebook.db.query(api.Comment).filter(api.Comment.manual_comment.is_not(None))
        }
        grades = gradebook.db.query(api.Grade).filter(
            api.Grade.manual_score.is_not(None) | api.Grade.extra_credit.is_not(None) | api.Grade.needs_manual_grade
        )
        by_cell = {
            (grade.student.id, grade.assignment.name, grade.name): (
                None if grade.manual_score is None and not grade.extra_credit else float(grade.score),
                bool(grade.needs_manual_grade),
            )
            for grade in grades
        }
    for case in cohort.settings.cases:
        for task in load_case(case, cohort.settings.case_folders).tasks:
            for trainee in cohort.trainees:
                marks, waiting = by_cell.get((trainee.id, case, grade_cell_id(task)), (None, False))
                comment = comments.get((trainee.id, case, solution_cell_id(task)), "")
                if marks is not None or waiting or comment:
                    found[trainee.id, case, task.id] = HandMark(marks, plain(comment), waiting)
    return found
