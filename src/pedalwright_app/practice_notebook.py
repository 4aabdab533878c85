"""A notebook to practise with: it marks itself, from an open seed that certification never uses."""

from __future__ import annotations

from typing import Any

from autograde.cases import Family, FamilyError, TaskPart, practice_variant, render_brief
from autograde.cohort.notebook import answer_template, as_bytes, build_notebook

__all__ = ["NOBODY", "practice_notebook"]

NOBODY = "*practice*"
"""Whose notebook it is said to be; no trainee can have this id, so that it is refused when it is handed in."""
SWITCH_ON = """# Run this cell once: it switches on the answer cells below.
%load_ext autograde.sheet
%case {case} practice {number}"""
HOW_TO = """*{title}*, practice rider {number}

**How to practise.** Each question is followed by an answer cell. Type your answer on the empty line below the hint
and press Shift + Enter: you are told at once how it was read, whether it is right, which slip it looks like, and which
page to revisit. Try as often as you like. The cell after it shows a worked solution once you have tried. Arithmetic
such as `0.883 * 82` is welcome, and so is any unit of the same kind.

This notebook is for practice only: its numbers are the same for everybody, and it cannot be handed in."""
FORM = "# Or answer in a form: run this cell.\n%sheet"


def practice_notebook(family: Family, number: int = 1) -> bytes:
    """Make the practice notebook of one public variant.

    Parameters
    ----------
    family : Family
        A family with worked solutions.
    number : int
        Which variant, from 1.

    Returns
    -------
    bytes
        A notebook in format 4.5. It holds the brief and the number of the variant; the program draws the same
        variant again and marks by it.

    Raises
    ------
    FamilyError
        When the family has no worked solutions, or its brief cannot be made.
    """
    if family.worked is None:
        raise FamilyError(f"case {family.name!r} has no worked solutions, so it is for certification only")
    parts = render_brief(family, practice_variant(family, number).case)
    notebook = build_notebook(family, parts, metadata={"trainee": NOBODY, "practice": number})
    cells: list[dict[str, Any]] = [
        _markdown("how-to", HOW_TO.format(title=family.title, number=number)),
        _code("switch-on", SWITCH_ON.format(case=family.name, number=number)),
        _code("form", FORM),
    ]
    prose = [cell for cell in notebook["cells"] if cell["id"].startswith("part-")]
    for cell, part in zip(prose, parts, strict=True):
        cells.append(cell)
        if isinstance(part, TaskPart):
            task = family.task(part.task_id)
            if task.by_hand:
                cells.append(_markdown(f"words-{task.id}", "*Double-click here and write your answer.*"))
            else:
                cells.append(_code(f"answer-{task.id}", answer_template(task)))
            cells.append(_code(f"solution-{task.id}", f"%solution {task.id}"))
    return as_bytes({**notebook, "cells": cells})


def _markdown(key: str, text: str) -> dict[str, Any]:
    return {"cell_type": "markdown", "id": key, "metadata": {}, "source": text}


def _code(key: str, text: str) -> dict[str, Any]:
    return {
        "cell_type": "code",
        "execution_count": None,
        "id": key,
        "metadata": {},
        "outputs": [],
        "source": text,
    }
