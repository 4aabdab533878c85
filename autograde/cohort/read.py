"""From a submitted notebook to a sheet of typed answers; nothing in it is ever executed."""

from __future__ import annotations

import json
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from autograde.cohort.notebook import ANSWER, WORDS, WORDS_PROMPT
from autograde.cohort.tampering import changed_parts
from autograde.marking import Task, cell_text

__all__ = ["Sheet", "read_cells", "read_sheet"]

MOST_CELLS = 5_000
MOST_ANSWER_CHARS = 20_000
OTHER_TRAINEE = "this notebook was handed out to somebody else"


@dataclass(frozen=True)
class Sheet:
    """What a notebook holds, as far as it could be read.

    Parameters
    ----------
    answers : mapping
        Raw text by task id; an empty text where nothing was typed.
    problems : mapping
        Why a task's answer could not be read, by task id.
    trouble : str
        Why the notebook as a whole could not be read, or empty.
    notices : tuple of str
        What a person may want to know.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    problems: Mapping[str, str] = field(default_factory=dict)
    trouble: str = ""
    notices: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Entry:
    """One cell that claims to answer a task."""

    task: str
    text: str
    named: bool
    problem: str = ""


def read_sheet(content: bytes, tasks: Sequence[Task], trainee: str, case: str) -> Sheet:
    """Read a submitted notebook.

    Parameters
    ----------
    content : bytes
        The file as it was collected; anything at all.
    tasks : sequence of Task
        Tasks of the case.
    trainee : str
        Whose it is said to be, by the place it was collected from.
    case : str
        Name of the case family.

    Returns
    -------
    Sheet
        Never raises: what cannot be read is told in the sheet.
    """
    cells, trouble, notices = _opened(content, trainee, case)
    if trouble:
        return Sheet(trouble=trouble)
    sheet = _sheet(cells, tasks)
    return replace(sheet, notices=(*notices, *sheet.notices, *changed_parts(cells, tasks)))


def read_cells(content: bytes, trainee: str, case: str) -> tuple[list[tuple[str, str]], str]:
    """Read what stands in a submitted notebook, cell by cell.

    Parameters
    ----------
    content : bytes
        The file as it was collected; anything at all.
    trainee : str
        Whose it is said to be, by the place it was collected from.
    case : str
        Name of the case family.

    Returns
    -------
    cells : list of (str, str)
        Kind (``code``, or ``text`` for all others) and text; cells without a text are left out.
    trouble : str
        Why the notebook as a whole could not be read, or empty.
    """
    opened, trouble, _ = _opened(content, trainee, case)
    kinds = [("code" if _mapping(cell).get("cell_type") == "code" else "text", cell) for cell in opened]
    texts = [(kind, _source(_mapping(cell).get("source"))) for kind, cell in kinds]
    return [(kind, text) for kind, text in texts if text is not None], trouble


def _opened(content: bytes, trainee: str, case: str) -> tuple[list[Any], str, list[str]]:
    """Take a notebook's cells, or tell why there are none to be read; and what is odd about the file."""
    doubled: list[str] = []

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        read = dict(pairs)
        if len(read) < len(pairs):
            doubled.append("a part of the file is given twice; the last one counts")
        return read

    try:
        notebook = json.loads(content, object_pairs_hook=once)
    except RecursionError:
        return [], "the file is nested too deeply to be a notebook", []
    except (ValueError, MemoryError):
        return [], "the file is not a complete notebook: it was cut off, or changed by another program", []
    cells = notebook.get("cells") if isinstance(notebook, dict) else None
    if not isinstance(cells, list):
        return [], "the file holds no notebook cells", []
    if len(cells) > MOST_CELLS:
        return [], f"the notebook has {len(cells)} cells; no more than {MOST_CELLS} are read", []
    label = _mapping(_mapping(notebook.get("metadata")).get("pedalwright"))
    if label.get("trainee", trainee) != trainee:
        return [], OTHER_TRAINEE, []
    if label.get("case", case) != case:
        return [], "this notebook belongs to another case", []
    other = [] if notebook.get("nbformat") == 4 else ["the file says it is of another notebook format than 4"]
    return cells, "", [*doubled[:1], *other]


def _sheet(cells: list[Any], tasks: Sequence[Task]) -> Sheet:
    by_task: dict[str, list[_Entry]] = {task.id: [] for task in tasks}
    for entry in _entries(cells, by_task.keys()):
        by_task[entry.task].append(entry)
    answers: dict[str, str] = {}
    problems: dict[str, str] = {}
    notices = []
    for task, entries in by_task.items():
        text, problem, notice = _settle(entries)
        if problem:
            problems[task] = problem
        else:
            answers[task] = text
        if notice:
            notices.append(f"{task}: {notice}")
    return Sheet(answers, problems, notices=tuple(notices))


def _entries(cells: list[Any], tasks: Container[str]) -> Iterator[_Entry]:
    for cell in cells:
        source = _source(_mapping(cell).get("source"))
        if source is None:
            continue
        grade_id = _mapping(_mapping(_mapping(cell).get("metadata")).get("nbgrader")).get("grade_id")
        named = _task_of(grade_id)
        said, text = cell_text(source) if not _is_words(grade_id) else (None, _words(source))
        task = named if named in tasks else said
        if task not in tasks or task is None:
            continue
        problem = ""
        if named in tasks and said not in (None, named):
            problem = "its answer cell holds the answer line of another task"
        elif len(text) > MOST_ANSWER_CHARS:
            problem = f"the answer is longer than {MOST_ANSWER_CHARS} characters"
        yield _Entry(task, text, named in tasks, problem)


def _settle(entries: list[_Entry]) -> tuple[str, str, str]:
    """Choose the one answer among the cells that claim a task: text, problem, notice."""
    if not entries:
        return "", "its answer cell was deleted", ""
    filled = [entry for entry in entries if entry.text.strip() or entry.problem]
    problem = next((entry.problem for entry in filled if entry.problem), "")
    if problem:
        return "", problem, ""
    texts = {entry.text.strip() for entry in filled}
    if len(texts) > 1:
        return "", f"it has {len(texts)} answer cells with different answers", ""
    notice = "" if any(entry.named for entry in entries) else "its answer cell had lost its label"
    if len(entries) > 1:
        notice = "its answer cell is there more than once"
    return (filled[0].text if filled else ""), "", notice


def _task_of(grade_id: Any) -> str | None:
    if not isinstance(grade_id, str):
        return None
    for prefix in (ANSWER, WORDS):
        if grade_id.startswith(prefix):
            return grade_id.removeprefix(prefix)
    return None


def _is_words(grade_id: Any) -> bool:
    return isinstance(grade_id, str) and grade_id.startswith(WORDS)


def _words(source: str) -> str:
    return source.replace(WORDS_PROMPT, "").strip()


def _mapping(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, dict) else {}


def _source(value: Any) -> str | None:
    if isinstance(value, list) and all(isinstance(line, str) for line in value):
        value = "".join(value)
    if not isinstance(value, str):
        return None
    return value.encode("utf-8", "replace").decode()
