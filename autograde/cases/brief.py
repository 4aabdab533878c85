"""The brief of one variant, as plain parts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

from autograde.cases.contract import Family


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
    """Fill the family's brief for one variant."""
    raise NotImplementedError
