"""The brief of one variant, as plain parts.

``brief.md`` is MyST notebook text: cells parted by lines that begin with ``+++``, with placeholders
``{{ name }}`` for what the family's `context` gives. A cell with the metadata ``+++ {"task": "torque"}``
is followed by that task. A line ``![what it shows](figure:name)`` is the family's figure of that name.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeAlias

import jinja2
from jinja2.sandbox import ImmutableSandboxedEnvironment

from autograde.cases.contract import Family, FamilyError
from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Task

BRIEF_FILE = "brief.md"
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
    context = dict(family.context(case))
    figures = family.figures(case)
    parts: list[Part] = []
    for task_id, template in _cells(family):
        parts += _text_and_figures(family, _fill(family, template, context), figures)
        if task_id:
            parts.append(TaskPart(task_id, task_markdown(family, task_id, context)))
    return parts


def task_markdown(family: Family, task_id: str, context: Mapping[str, Any]) -> str:
    """Write one task as Markdown: heading, question, options, tolerance."""
    task = family.task(task_id)
    number = [each.id for each in family.tasks].index(task_id) + 1
    marks = f"{task.marks:g} mark{'' if task.marks == 1 else 's'}"
    lines = [f"### Task {number}: {task.title} ({marks})", _fill(family, task.prompt, context).strip()]
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
    named = [task_id for task_id, template in _cells(family) if task_id]
    wanted = [task.id for task in family.tasks]
    if named != wanted:
        raise FamilyError(
            f"{_file(family)}: its cells name the tasks {named}, and case.py lists {wanted}; "
            'give every task one cell that begins with a line +++ {"task": "…"}, in the same order'
        )
    for _, template in _cells(family):
        try:
            ENVIRONMENT.parse(template)
        except jinja2.TemplateError as problem:
            raise FamilyError(f"{_file(family)}: {problem}; correct the placeholder") from problem


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


def _text_and_figures(family: Family, text: str, figures: Mapping[str, bytes]) -> Iterator[Part]:
    at = 0
    for match in _FIGURE.finditer(text):
        yield from _text(text[at : match.start()])
        if match["name"] not in figures:
            raise FamilyError(
                f"{_file(family)}: figure {match['name']!r} is not made by case.py, which makes {sorted(figures)}"
            )
        yield FigurePart(match["name"], figures[match["name"]], match["alt"])
        at = match.end()
    yield from _text(text[at:])


def _text(text: str) -> Iterator[TextPart]:
    if text.strip():
        yield TextPart(text.strip())


def _cells(family: Family) -> list[tuple[str | None, str]]:
    """Task id (or None) and template text of every cell."""
    text = _FRONT_MATTER.sub("", _file(family).read_text(encoding="utf-8"))
    breaks = list(_BREAK.finditer(text))
    cells: list[tuple[str | None, str]] = [(None, text[: breaks[0].start()] if breaks else text)]
    for this, following in zip(breaks, [*breaks[1:], None], strict=True):
        body = text[this.end() : following.start() if following else len(text)]
        cells.append((_task_of(family, this[1].strip()), body))
    return cells


def _task_of(family: Family, metadata: str) -> str | None:
    if not metadata:
        return None
    try:
        found = json.loads(metadata)
    except json.JSONDecodeError as problem:
        raise FamilyError(
            f'{_file(family)}: "+++ {metadata}" is not JSON ({problem.msg}); write +++ {{"task": "…"}}'
        ) from problem
    task_id = found.get("task") if isinstance(found, dict) else None
    return str(task_id) if task_id is not None else None


@lru_cache(maxsize=1024)
def _template(text: str) -> jinja2.Template:
    return ENVIRONMENT.from_string(text)


def _fill(family: Family, template: str, context: Mapping[str, Any]) -> str:
    try:
        return _template(template).render(context)
    except jinja2.TemplateError as problem:
        raise FamilyError(
            f"{_file(family)}: {problem}; give the placeholder a value in the family's context, or correct it"
        ) from problem


def _file(family: Family) -> Path:
    if family.folder is None:
        raise FamilyError(f"family {family.name!r} has no folder; load it with load_family")
    return family.folder / BRIEF_FILE
