"""Write answers that were typed into a form into a copy of the trainee's notebook, for handing in."""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from autograde.cases import FamilyError
from autograde.marking import cell_text

ANSWER, WORDS = "answer-", "words-"
TYPE_INSTEAD = "type your answers into the cells of the notebook instead, and save it"


def save_for_hand_in(here: Path, case: str, typed: Mapping[str, str]) -> tuple[Path, list[str]]:
    """Copy the notebook with answers filled in, under the name that is collected.

    Parameters
    ----------
    here : Path
        Folder of the notebook.
    case : str
        Name of the case, which is the name of the notebook.
    typed : mapping
        What was typed, by task id.

    Returns
    -------
    file : Path
        ``TRAINEE__CASE.ipynb`` beside the notebook; an earlier one is replaced, the notebook itself never.
    kept : list of str
        Other tasks that have an answer in the notebook as it was last saved.

    Raises
    ------
    FamilyError
        When the notebook is not there, is no notebook, or lacks a cell that is to be filled.
    """
    notebook, trainee = _read(here / f"{case}.ipynb", case)
    filled, kept = set(), []
    for cell in notebook["cells"]:
        task, by_hand = _task_of(cell)
        if task in typed:
            cell["source"] = typed[task] if by_hand else _with_answer(_source(cell), typed[task])
            filled.add(task)
        elif task and not by_hand and cell_text(_source(cell))[1]:
            kept.append(task)
    missing = sorted(set(typed) - filled)
    if missing:
        raise FamilyError(f"the notebook has no answer cell for {', '.join(missing)}; {TYPE_INSTEAD}")
    file = here / f"{trainee}__{case}.ipynb"
    _replace(file, json.dumps(notebook, indent=1, ensure_ascii=False).encode("utf-8", "replace"))
    return file, kept


def _read(file: Path, case: str) -> tuple[dict[str, Any], str]:
    try:
        notebook = json.loads(file.read_bytes())
        label = notebook["metadata"]["pedalwright"]
        trainee, cells = label["trainee"], notebook["cells"]
    except OSError as problem:
        raise FamilyError(f"{file.name} cannot be read ({problem.strerror}); {TYPE_INSTEAD}") from problem
    except (ValueError, KeyError, TypeError, RecursionError) as problem:
        raise FamilyError(f"{file.name} is not the notebook as it was handed out; {TYPE_INSTEAD}") from problem
    names_a_file = isinstance(trainee, str) and bool(trainee.strip(". ")) and not set(trainee) & set('/\\:*?"<>|\0')
    if label.get("case") != case or not names_a_file or not isinstance(cells, list):
        raise FamilyError(f"{file.name} is not the notebook as it was handed out; {TYPE_INSTEAD}")
    notebook["cells"] = [cell for cell in cells if isinstance(cell, dict)]
    return notebook, trainee


def _task_of(cell: Mapping[str, Any]) -> tuple[str, bool]:
    """Task of an answer cell and whether a person marks it; an empty name for any other cell."""
    metadata = cell.get("metadata")
    label = metadata.get("nbgrader") if isinstance(metadata, dict) else None
    grade_id = label.get("grade_id") if isinstance(label, dict) else None
    for prefix in (ANSWER, WORDS):
        if isinstance(grade_id, str) and grade_id.startswith(prefix):
            return grade_id.removeprefix(prefix), prefix == WORDS
    return cell_text(_source(cell))[0] or "", False


def _source(cell: Mapping[str, Any]) -> str:
    source = cell.get("source")
    return "".join(map(str, source)) if isinstance(source, list) else str(source or "")


def _with_answer(source: str, text: str) -> str:
    """Keep the answer line and the hints, and put the typed text below them."""
    kept = [line for line in source.splitlines() if line.lstrip().startswith(("%%answer", "#"))]
    return "\n".join([*kept, *(line for line in text.splitlines() if line.strip())]) + "\n"


def _replace(file: Path, content: bytes) -> None:
    try:
        with tempfile.NamedTemporaryFile(dir=file.parent, prefix=".hand-in-", delete=False) as target:
            target.write(content)
        os.replace(target.name, file)
    except OSError as problem:
        raise FamilyError(f"{file.name} cannot be written ({problem.strerror}); {TYPE_INSTEAD}") from problem
