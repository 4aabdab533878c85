"""From the parts of a brief to a notebook that is also a valid nbgrader notebook."""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re
from collections.abc import Sequence
from typing import Any

from autograde.cases import Family, FigurePart, Part, TaskPart, TextPart
from autograde.marking import Task
from autograde.marking.answers import how_to_write

__all__ = [
    "ANSWER",
    "CHECK",
    "WORDS",
    "WORDS_PROMPT",
    "answer_template",
    "as_bytes",
    "build_notebook",
    "checksum",
    "grade_cell_id",
    "markdown_text",
    "solution_cell_id",
]

Cell = dict[str, Any]
Notebook = dict[str, Any]

ANSWER, CHECK, WORDS = "answer-", "check-", "words-"
WORDS_PROMPT = "*Double-click here and write your answer in place of this line.*"
SWITCH_ON = "# Run this cell once: it switches on the answer cells below.\n%load_ext autograde.sheet\n%case {case}"


def solution_cell_id(task: Task) -> str:
    """Name the cell a trainee fills in, as the gradebook knows it.

    Parameters
    ----------
    task : Task
        The task.

    Returns
    -------
    str
        Its ``grade_id``.
    """
    return (WORDS if task.by_hand else ANSWER) + task.id


def grade_cell_id(task: Task) -> str:
    """Name the cell that carries the marks, as the gradebook knows it.

    Parameters
    ----------
    task : Task
        The task.

    Returns
    -------
    str
        Its ``grade_id``.
    """
    return (WORDS if task.by_hand else CHECK) + task.id


def build_notebook(
    family: Family, parts: Sequence[Part], *, greeting: str = "", metadata: dict[str, Any] | None = None
) -> Notebook:
    """Lay a rendered brief out as a notebook.

    Parameters
    ----------
    family : Family
        The case family.
    parts : sequence of Part
        The brief of one variant.
    greeting : str
        First line of the notebook, Markdown.
    metadata : dict, optional
        What the notebook says about itself, such as the trainee's id; nothing secret belongs here.

    Returns
    -------
    dict
        A notebook in format 4.5.
    """
    cells = [
        _prose("how-to", _how_to(greeting, _hand_in(family.name, str((metadata or {}).get("trainee", ""))))),
        _graded(_code("switch-on", SWITCH_ON.format(case=family.name))),
    ]
    for number, part in enumerate(parts, start=1):
        cells.extend(_part_cells(family, part, number))
    return {
        "cells": cells,
        "metadata": {
            "kernelspec": {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
            "pedalwright": {"case": family.name, **(metadata or {})},
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }


def as_bytes(notebook: Notebook) -> bytes:
    """Write a notebook the same way every time.

    Parameters
    ----------
    notebook : dict
        The notebook.

    Returns
    -------
    bytes
        JSON in UTF-8 with its keys in order.
    """
    return (json.dumps(notebook, indent=1, sort_keys=True, ensure_ascii=False) + "\n").encode("utf-8", "replace")


def _part_cells(family: Family, part: Part, number: int) -> list[Cell]:
    key = f"part-{number:02d}"
    match part:
        case TextPart():
            return [_prose(key, part.markdown)]
        case FigurePart():
            return [_picture(key, part)]
        case TaskPart():
            return [_prose(key, part.markdown), *_task_cells(family.task(part.task_id))]
    raise TypeError(f"a brief has no part of type {type(part).__name__}")


def _task_cells(task: Task) -> list[Cell]:
    if task.by_hand:
        return [_graded(_prose(solution_cell_id(task), WORDS_PROMPT), grade=True, solution=True, points=task.marks)]
    return [
        _graded(_code(solution_cell_id(task), answer_template(task)), solution=True),
        _graded(_code(grade_cell_id(task), f'check("{task.id}")'), grade=True, points=task.marks),
    ]


def answer_template(task: Task) -> str:
    """Text of an answer cell before anything is typed.

    Parameters
    ----------
    task : Task
        A task that is not marked by hand.

    Returns
    -------
    str
        The ``%%answer`` line, a hint, and an empty line to type on.
    """
    return f"%%answer {task.id}\n# {how_to_write(task.kind)}\n"


def markdown_text(text: str) -> str:
    r"""Escape text so that Markdown shows it as it is.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        Markdown without markup, links, formulas or HTML.

    Examples
    --------
    >>> markdown_text("A*b <i>")
    'A\\*b &lt;i&gt;'
    """
    return re.sub(r"([\\`*_{}\[\]()#+!|~$])", r"\\\1", html.escape(text, quote=False)).replace("\n", " ")


def _hand_in(case: str, trainee: str) -> str:
    """Say how to hand in so that nobody has to guess whose work it is."""
    if not trainee:
        return "Save the file when you are done and hand it in as your instructor says."
    return (
        f"Save the file when you are done. Hand in the whole folder `{trainee}` as you got it; nothing needs a new "
        f"name. If you send this file alone, call it `{trainee}__{case}.ipynb`, so that it says whose it is."
    )


def _how_to(greeting: str, hand_in: str) -> str:
    lines = [
        "**How to fill this in.** Each question is followed by an answer cell. Type your answer on the empty line "
        "below the hint and press Shift + Enter: the notebook tells you how it read your answer, not whether it is "
        "right. Arithmetic such as `0.883 * 82` is welcome, and so is any unit of the same kind.",
        f"{hand_in} What counts is what you typed.",
    ]
    return "\n\n".join([greeting, *lines] if greeting else lines)


def _prose(key: str, text: str) -> Cell:
    return {"cell_type": "markdown", "id": key, "metadata": {}, "source": text.strip("\n")}


def _code(key: str, text: str) -> Cell:
    return {
        "cell_type": "code",
        "execution_count": None,
        "id": key,
        "metadata": {},
        "outputs": [],
        "source": text,
    }


def _picture(key: str, figure: FigurePart) -> Cell:
    name = re.sub(r"[^A-Za-z0-9_-]", "-", figure.name) + ".png"
    cell = _prose(key, f"![{markdown_text(figure.alt)}](attachment:{name})")
    cell["attachments"] = {name: {"image/png": base64.b64encode(figure.png).decode("ascii")}}
    return cell


def _graded(cell: Cell, *, grade: bool = False, solution: bool = False, points: float | None = None) -> Cell:
    locked = not solution
    mark: dict[str, Any] = {
        "schema_version": 3,
        "grade": grade,
        "solution": solution,
        "locked": locked,
        "task": False,
        "grade_id": cell["id"],
        "cell_type": cell["cell_type"],
    }
    if points is not None:
        mark["points"] = float(points)
    cell["metadata"] = {"deletable": False, "nbgrader": mark}
    if locked:
        cell["metadata"]["editable"] = False
    mark["checksum"] = checksum(cell)
    return cell


def checksum(cell: Cell) -> str:
    """Fingerprint by which nbgrader tells whether a cell was changed.

    Parameters
    ----------
    cell : dict
        A cell with nbgrader's metadata.

    Returns
    -------
    str
        MD5 in hexadecimal; it guards against slips, not against intent.
    """
    mark = cell["metadata"]["nbgrader"]
    fields = [cell["source"], cell["cell_type"], str(mark["grade"]), str(mark["solution"]), str(mark["locked"])]
    fields.append(mark["grade_id"])
    if mark["grade"]:
        fields.append(str(float(mark["points"])))
    digest = hashlib.md5(usedforsecurity=False)
    for field in fields:
        digest.update(field.encode())
    return digest.hexdigest()
