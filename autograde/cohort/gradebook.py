"""Marks in nbgrader's own database, so that its commands and its form for hand marking see them."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from autograde.cohort.database import refuse_another_course
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.cohort.notebook import Notebook
from autograde.cohort.text import plain

__all__ = ["api", "open_gradebook", "prepare", "remove_student", "validate"]

VERSION_TABLE = "alembic_version"
HARMLESS = str.maketrans(",<>\n", " ‹› ")


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
    nb = api()
    from sqlalchemy.exc import SQLAlchemyError

    try:
        _lay_out_tables(cohort.db_url, cohort.settings.course_id)
        with nb.Gradebook(cohort.db_url, cohort.settings.course_id) as gradebook:
            yield gradebook
    except ModuleNotFoundError:
        raise CohortError("a gradebook on PostgreSQL needs the driver: pip install 'pedalwright[postgres]'") from None
    except SQLAlchemyError as trouble:
        detail = plain(str(getattr(trouble, "orig", None) or trouble), 200)
        raise CohortError(
            f"the gradebook could not be used ({detail}); the marks are safe in records/, run the command again"
        ) from trouble


def _lay_out_tables(url: str, course_id: str) -> None:
    """Make the tables of a new database and note the edition of their layout.

    nbgrader would start another program for the second half, found only where this environment is active.
    """
    from sqlalchemy import create_engine, inspect, text

    nb = api()
    engine = create_engine(url)
    try:
        if VERSION_TABLE in inspect(engine).get_table_names():
            with engine.connect() as connection:
                if connection.scalar(text(f"SELECT count(*) FROM {VERSION_TABLE}")):
                    refuse_another_course(connection, course_id)
                    return
        from alembic.script import ScriptDirectory

        head = ScriptDirectory(str(Path(nb.__file__).with_name("alembic"))).get_current_head()
        nb.Base.metadata.create_all(bind=engine)
        with engine.begin() as connection:
            connection.execute(text(f"CREATE TABLE IF NOT EXISTS {VERSION_TABLE} (version_num VARCHAR(32) NOT NULL)"))
            connection.execute(text(f"INSERT INTO {VERSION_TABLE} (version_num) VALUES (:head)"), {"head": head})
    finally:
        engine.dispose()


def api() -> Any:
    """Import nbgrader's database module without an optional address checker that takes a second to load.

    Returns
    -------
    module
        `nbgrader.api`.
    """
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
    api()
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
    nb = api()
    known = {student.id: student for student in db.query(nb.Student)}
    for trainee in cohort.trainees:
        fields = {"last_name": _tame(trainee.name), "email": _tame(trainee.email) or None}
        if trainee.id not in known:
            db.add(nb.Student(id=trainee.id, **fields))
        else:
            for key, value in fields.items():
                setattr(known[trainee.id], key, value)


def _tame(text: str) -> str:
    """Make a name harmless in nbgrader's own table export and pages, which write it as it is."""
    return plain(text, 120).translate(HARMLESS).lstrip("=+-@ ")


def _enter_case(db: Any, cohort: Cohort, case: str, notebook: Notebook) -> None:
    nb = api()
    assignment = db.query(nb.Assignment).filter_by(name=case).one_or_none()
    if assignment is None:
        assignment = nb.Assignment(name=case, course_id=cohort.settings.course_id)
        entry = nb.Notebook(name=case, assignment=assignment)
        db.add_all([assignment, entry])
    else:
        entry = db.query(nb.Notebook).filter_by(name=case, assignment_id=assignment.id).one()
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
    nb = api()
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
    db.add(nb.SourceCell(**common, cell_type=cell["cell_type"], locked=mark["locked"], **fields))
    if mark["grade"]:
        db.add(nb.GradeCell(**common, max_score=mark["points"], cell_type=cell["cell_type"]))
    if mark["solution"]:
        db.add(nb.SolutionCell(**common))


def remove_student(cohort: Cohort, trainee: str) -> bool:
    """Take a trainee with all marks out of the gradebook, and out of the free space of its file.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    trainee : str
        Id.

    Returns
    -------
    bool
        Whether the gradebook knew the trainee.
    """
    from sqlalchemy import create_engine, text

    nb = api()
    with open_gradebook(cohort) as gradebook:
        known = bool(gradebook.db.query(nb.Student).filter_by(id=trainee).count())
        if known:
            gradebook.remove_student(trainee)
    if cohort.db_url.startswith("sqlite"):
        engine = create_engine(cohort.db_url, isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            connection.execute(text("VACUUM"))
        engine.dispose()
    return known
