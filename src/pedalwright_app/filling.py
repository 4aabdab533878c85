"""Fill a handed-out notebook as a trainee would, for the demonstration and for tests."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

__all__ = ["cut_off", "fill", "without_answer_cell"]


def fill(notebook: bytes, typed: Mapping[str, str]) -> bytes:
    """Type answers into a notebook.

    Parameters
    ----------
    notebook : bytes
        As handed out.
    typed : mapping
        What is typed, by task id; other tasks stay empty.

    Returns
    -------
    bytes
        The notebook as it would be saved.
    """
    content: dict[str, Any] = json.loads(notebook)
    for cell in content["cells"]:
        kind, _, task = cell["metadata"].get("nbgrader", {}).get("grade_id", "").partition("-")
        if task in typed and kind == "answer":
            cell["source"] += typed[task] + "\n"
        elif task in typed and kind == "words":
            cell["source"] = typed[task]
    return json.dumps(content, indent=1, ensure_ascii=False).encode("utf-8", "replace")


def without_answer_cell(notebook: bytes, task: str) -> bytes:
    """Delete one answer cell, as happens with a slip of the finger.

    Parameters
    ----------
    notebook : bytes
        The notebook.
    task : str
        Whose answer cell goes.

    Returns
    -------
    bytes
        The notebook without it.
    """
    content: dict[str, Any] = json.loads(notebook)
    content["cells"] = [
        cell for cell in content["cells"] if cell["metadata"].get("nbgrader", {}).get("grade_id") != f"answer-{task}"
    ]
    return json.dumps(content, indent=1).encode()


def cut_off(notebook: bytes) -> bytes:
    """Lose the end of a file, as happens with an interrupted upload.

    Parameters
    ----------
    notebook : bytes
        The notebook.

    Returns
    -------
    bytes
        Its first two thirds.
    """
    return notebook[: 2 * len(notebook) // 3]
