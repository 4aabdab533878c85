"""Calling what an author wrote, so that trouble in it names the file, the line and the mending."""

from __future__ import annotations

import traceback
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, TypeVar

from autograde.cases.contract import CASE_FILE, Family, FamilyError

Result = TypeVar("Result")
MOST_WORDS = 300
"""Characters of a problem's own words that are passed on."""


def place_of(problem: BaseException, folder: Path | None, otherwise: str) -> str:
    """Say where in an author's files something went wrong.

    Parameters
    ----------
    problem : BaseException
        What was raised.
    folder : Path or None
        Folder of the family.
    otherwise : str
        What to say when no line of the author's was running.

    Returns
    -------
    str
        File and line, or `otherwise`.
    """
    if folder is None:
        return otherwise
    inside = folder.resolve()
    if isinstance(problem, SyntaxError) and problem.filename and Path(problem.filename).resolve().parent == inside:
        return f"{folder / Path(problem.filename).name}, line {problem.lineno}"
    for frame in reversed(traceback.extract_tb(problem.__traceback__)):
        if Path(frame.filename).resolve().parent == inside:
            return f"{folder / Path(frame.filename).name}, line {frame.lineno}"
    return otherwise


def words_of(problem: BaseException) -> str:
    r"""Give kind and words of a problem on one line.

    Examples
    --------
    >>> words_of(ValueError("two\nlines"))
    'ValueError: two lines'
    """
    said = " ".join(str(problem).split())[:MOST_WORDS]
    return f"{type(problem).__name__}: {said}" if said else type(problem).__name__


def call(family: Family, name: str, function: Callable[..., Result], *arguments: Any) -> Result:
    """Call one of a family's functions.

    Raises
    ------
    FamilyError
        When it fails, with the file and the line.
    """
    try:
        return function(*arguments)
    except Exception as problem:
        place = place_of(problem, family.folder, case_file(family))
        raise FamilyError(f"{place}: `{name}` failed ({words_of(problem)}); correct it") from problem


def context_of(family: Family, case: Any) -> dict[str, Any]:
    """Get what the brief's placeholders stand for."""
    return _mapping(family, "context", call(family, "context", family.context, case), "names to values")


def figures_of(family: Family, case: Any) -> dict[str, bytes]:
    """Get the pictures of a case by name."""
    figures = _mapping(family, "figures", call(family, "figures", family.figures, case), "names to PNG pictures")
    for name, picture in figures.items():
        if not isinstance(picture, bytes):
            raise FamilyError(
                f"{case_file(family)}: `figures` gives a {type(picture).__name__} for {name!r}; give the bytes of a "
                "PNG picture, as autograde.cases.drawing.to_png does"
            )
    return figures


def worked_of(family: Family, case: Any) -> dict[str, str]:
    """Get the worked solution of each task; empty for a family without."""
    if family.worked is None:
        return {}
    worked = _mapping(family, "worked", call(family, "worked", family.worked, case), "task ids to texts")
    known = [task.id for task in family.tasks]
    for task_id, text in worked.items():
        if task_id not in known:
            raise FamilyError(
                f"{case_file(family)}: `worked` has a solution for {task_id!r}, which is no task; its tasks are: "
                + ", ".join(known)
            )
        if not isinstance(text, str):
            raise FamilyError(f"{case_file(family)}: `worked` gives a {type(text).__name__} for {task_id!r}; give text")
    return worked


def case_file(family: Family) -> str:
    """Give the path of the family's case.py as it is told to people."""
    return f"{family.folder or family.name}/{CASE_FILE}"


def _mapping(family: Family, name: str, given: Any, wanted: str) -> dict[str, Any]:
    if not isinstance(given, Mapping):
        raise FamilyError(
            f"{case_file(family)}: `{name}` gives a {type(given).__name__}; return a dictionary from {wanted}"
        )
    return dict(given)
