"""What was changed in a notebook beside the answers; it never changes a mark, but a person may want to know."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from autograde.cohort.notebook import CHECK, grade_cell_id, solution_cell_id
from autograde.marking import Task

__all__ = ["changed_parts"]

FLAGS = ("grade", "solution", "locked", "task", "schema_version")
NO_SAY = "it has no say in the marks"
MOST_NAMED = 4


def changed_parts(cells: Sequence[Any], tasks: Sequence[Task]) -> list[str]:
    """Compare the labels and check cells of a submitted notebook with those handed out.

    Parameters
    ----------
    cells : sequence
        The notebook's cells; anything at all.
    tasks : sequence of Task
        Tasks of the case.

    Returns
    -------
    list of str
        A sentence for each kind of change; empty for a notebook that was only filled in.
    """
    found: dict[str, list[Mapping[str, Any]]] = {}
    for cell in cells:
        label = _label(cell)
        if isinstance(label.get("grade_id"), str):
            found.setdefault(label["grade_id"], []).append(cell)
    relabelled, rewritten, missing, doubled = [], [], [], []
    for task in tasks:
        ids = {solution_cell_id(task), grade_cell_id(task)}
        if any(_differs(_label(cell), task, name) for name in ids for cell in found.get(name, [])):
            relabelled.append(task.id)
        if not task.by_hand:
            checks = found.get(CHECK + task.id, [])
            missing += [task.id] * (not checks)
            doubled += [task.id] * (len(checks) > 1)
            rewritten += [task.id] * any(_text(cell) != f'check("{task.id}")' for cell in checks)
    kinds = {
        "the marks or flags noted in its cells were changed": relabelled,
        "a check cell was rewritten": rewritten,
        "a check cell is missing": missing,
        "a check cell is there more than once": doubled,
    }
    return [f"{words} ({_names(ids)}); {NO_SAY}" for words, ids in kinds.items() if ids]


def _differs(label: Mapping[str, Any], task: Task, name: str) -> bool:
    grade, solution = name == grade_cell_id(task), name == solution_cell_id(task)
    handed_out = dict(zip(FLAGS, (grade, solution, not solution, False, 3), strict=True))
    points = task.marks if grade else None
    return label.get("points") != points or any(label.get(flag) != value for flag, value in handed_out.items())


def _label(cell: Any) -> Mapping[str, Any]:
    metadata = cell.get("metadata") if isinstance(cell, dict) else None
    label = metadata.get("nbgrader") if isinstance(metadata, dict) else None
    return label if isinstance(label, dict) else {}


def _text(cell: Mapping[str, Any]) -> str:
    source = cell.get("source")
    if isinstance(source, list) and all(isinstance(line, str) for line in source):
        source = "".join(source)
    return source.strip() if isinstance(source, str) else ""


def _names(ids: Sequence[str]) -> str:
    return ", ".join(ids[:MOST_NAMED]) + (f" and {len(ids) - MOST_NAMED} more" if len(ids) > MOST_NAMED else "")
