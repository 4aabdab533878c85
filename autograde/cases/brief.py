"""The brief of one variant, as plain parts.

``brief.md`` is MyST notebook text: cells parted by lines that begin with ``+++``, with placeholders
``{{ name }}`` for what the family's `context` gives. A cell with the metadata ``+++ {"task": "torque"}``
is followed by that task. A line ``![what it shows](figure:name)`` is the family's figure of that name.
"""

from __future__ import annotations

import json
import re
import traceback
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeAlias

import jinja2
from jinja2.sandbox import ImmutableSandboxedEnvironment

from autograde.cases.calling import case_file, context_of, figures_of, words_of
from autograde.cases.contract import BRIEF_FILE, Family, FamilyError
from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Task

_FRONT_MATTER = re.compile(r"\A---\n.*?\n---\n", re.DOTALL)
_BREAK = re.compile(r"^\+\+\+[ \t]*(.*)$", re.MULTILINE)
_FIGURE = re.compile(r"^!\[(?P<alt>[^\]]*)\]\(figure:(?P<name>[a-z0-9-]+)\)[ \t]*$", re.MULTILINE)

ENVIRONMENT = ImmutableSandboxedEnvironment(
    undefined=jinja2.StrictUndefined, trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True
)


@dataclass(frozen=True)
class TextPart:
    """Markdown text of one cell."""

    markdown: str


@dataclass(frozen=True)
class FigurePart:
    """A picture, with the text that stands for it."""

    name: str
    png: bytes
    alt: str


@dataclass(frozen=True)
class TaskPart:
    """A task: its question as Markdown, with options, tolerance and marks; the answer goes after it."""

    task_id: str
    markdown: str


@dataclass(frozen=True)
class _Cell:
    """One cell of the brief: its task, its text, and the line of the file on which the text begins."""

    task_id: str | None
    text: str
    line: int


Part: TypeAlias = TextPart | FigurePart | TaskPart


def render_brief(family: Family, case: Any) -> list[Part]:
    """Fill the family's brief for one variant.

    Parameters
    ----------
    family : Family
        With its folder.
    case : object
        The drawn case.

    Returns
    -------
    list of TextPart, FigurePart and TaskPart
        In order.

    Raises
    ------
    FamilyError
        When a placeholder or a figure has no counterpart in the family.
    """
    context, figures = context_of(family, case), figures_of(family, case)
    parts: list[Part] = []
    for cell in _cells(family):
        parts += _text_and_figures(family, cell, _fill(cell.text, context, f"{_file(family)}", cell.line), figures)
        if cell.task_id:
            parts.append(TaskPart(cell.task_id, task_markdown(family, cell.task_id, context)))
    return parts


def task_markdown(family: Family, task_id: str, context: Mapping[str, Any]) -> str:
    """Write one task as Markdown: heading, question, options, tolerance."""
    task = family.task(task_id)
    number = [each.id for each in family.tasks].index(task_id) + 1
    marks = f"{task.marks:g} mark{'' if task.marks == 1 else 's'}"
    question = _fill(task.prompt, context, f"{case_file(family)}: the question of task {task_id!r}")
    lines = [f"### Task {number}: {task.title} ({marks})", question.strip()]
    if isinstance(task.kind, Choice | ChoiceSet | Ordering):
        lines.append(_options(task.kind))
    lines.append(_small_print(task))
    return "\n\n".join(line for line in lines if line)


def check_brief(family: Family) -> None:
    """Check that the brief names each task of the family once.

    Raises
    ------
    FamilyError
        When a task is missing, unknown or named twice, or the text cannot be parsed.
    """
    cells = _cells(family)
    named = [cell.task_id for cell in cells if cell.task_id]
    wanted = [task.id for task in family.tasks]
    for cell in cells:
        if cell.task_id and (cell.task_id not in wanted or named.count(cell.task_id) > 1):
            known = "is named twice" if cell.task_id in wanted else f"is not in case.py, which lists {wanted}"
            raise FamilyError(
                f"{_file(family)}, line {cell.line - 1}: the task {cell.task_id!r} {known}; "
                'give every task one cell that begins with a line +++ {"task": "…"}'
            )
    if named != wanted:
        raise FamilyError(
            f"{_file(family)}: its cells name the tasks {named}, and case.py lists {wanted}; "
            'give every task one cell that begins with a line +++ {"task": "…"}, in the same order'
        )
    for cell in cells:
        _parse(cell.text, f"{_file(family)}", cell.line)
    for task in family.tasks:
        _parse(task.prompt, f"{case_file(family)}: the question of task {task.id!r}")


def _small_print(task: Task) -> str:
    match task.kind:
        case Quantity(unit=unit, tolerance=tolerance) | DirectedChange(unit=unit, tolerance=tolerance):
            return f"*{tolerance.sentence(unit)}*"
        case Choice() | ChoiceSet() | Ordering():
            return ""
        case _:
            return "*An instructor reads and marks this answer.*"


def _options(kind: Choice | ChoiceSet | Ordering) -> str:
    labelled = kind.labelled()
    if kind.numbered and len(labelled) > 6:
        shown = [option.text for _, option in (*labelled[:2], labelled[-1])]
        return f"Answer with a number from 1 to {len(labelled)}: {shown[0]}; {shown[1]}; … {shown[2]}."
    return "\n".join(f"- **{label}**: {option.text}" for label, option in labelled)


def _text_and_figures(family: Family, cell: _Cell, text: str, figures: Mapping[str, bytes]) -> Iterator[Part]:
    at = 0
    for match in _FIGURE.finditer(text):
        yield from _text(text[at : match.start()])
        if match["name"] not in figures:
            line = next(
                (number for number, line in enumerate(cell.text.splitlines(), cell.line) if match[0].strip() in line),
                cell.line,
            )
            raise FamilyError(
                f"{_file(family)}, line {line}: the figure {match['name']!r} is not made by case.py, which makes "
                f"{sorted(figures) or 'none'}; correct the name, or draw it"
            )
        yield FigurePart(match["name"], figures[match["name"]], match["alt"])
        at = match.end()
    yield from _text(text[at:])


def _text(text: str) -> Iterator[TextPart]:
    if text.strip():
        yield TextPart(text.strip())


def _cells(family: Family) -> list[_Cell]:
    """All cells of the brief, the first one before any break included."""
    try:
        text = _file(family).read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as problem:
        raise FamilyError(
            f"{_file(family)}: it is not UTF-8 text (byte {problem.start}); save it as UTF-8"
        ) from problem
    except OSError as problem:
        raise FamilyError(
            f"{_file(family)}: it cannot be read ({problem.strerror}); write the brief there"
        ) from problem
    front = _FRONT_MATTER.match(text)
    text, lines_before = (text[front.end() :], front[0].count("\n")) if front else (text, 0)
    breaks = list(_BREAK.finditer(text))
    cells = [_Cell(None, text[: breaks[0].start()] if breaks else text, lines_before + 1)]
    for this, following in zip(breaks, [*breaks[1:], None], strict=True):
        body = text[this.end() + 1 : following.start() if following else len(text)]
        line = lines_before + text.count("\n", 0, this.start()) + 2
        cells.append(_Cell(_task_of(family, this[1].strip(), line - 1), body, line))
    return cells


def _task_of(family: Family, metadata: str, line: int) -> str | None:
    if not metadata:
        return None
    try:
        found = json.loads(metadata)
    except json.JSONDecodeError as problem:
        raise FamilyError(
            f'{_file(family)}, line {line}: "+++ {metadata}" is not JSON ({problem.msg}); write +++ {{"task": "…"}}'
        ) from problem
    task_id = found.get("task") if isinstance(found, dict) else None
    return str(task_id) if task_id is not None else None


@lru_cache(maxsize=1024)
def _template(text: str) -> jinja2.Template:
    return ENVIRONMENT.from_string(text)


def _parse(template: str, where: str, line: int | None = None) -> None:
    try:
        ENVIRONMENT.parse(template)
    except jinja2.TemplateSyntaxError as problem:
        raise FamilyError(
            f"{where}{_on_line(line, problem.lineno)}: {problem.message}; correct the placeholder"
        ) from problem


def _fill(template: str, context: Mapping[str, Any], where: str, line: int | None = None) -> str:
    """Fill a template; `line` is the line of the file on which it begins."""
    try:
        return _template(template).render(context)
    except Exception as problem:  # a placeholder may call a value's methods, and these may raise anything
        frames = [frame for frame in traceback.extract_tb(problem.__traceback__) if frame.filename == "<template>"]
        place = where + _on_line(line, frames[-1].lineno if frames else None)
        raise FamilyError(
            f"{place}: {words_of(problem)}; give the placeholder a value in the family's context, or correct it (it "
            f"may use: {', '.join(sorted(context))})"
        ) from problem


def _on_line(first: int | None, line: int | None) -> str:
    return "" if first is None or line is None else f", line {first + line - 1}"


def _file(family: Family) -> Path:
    if family.folder is None:
        raise FamilyError(f"family {family.name!r} has no folder; load it with load_family")
    return family.folder / BRIEF_FILE
