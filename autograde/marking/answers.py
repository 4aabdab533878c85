"""From the text a trainee typed to a value."""

from __future__ import annotations

from dataclasses import dataclass

from autograde.marking.tasks import Kind, Value


@dataclass(frozen=True)
class Reading:
    """What was understood: a value and its words, or None and a reason."""

    value: Value | None
    read_as: str
    reason: str = ""
    unit_missing: bool = False


def read_answer(kind: Kind, text: str | None) -> Reading:
    """Read an answer; never raises."""
    raise NotImplementedError


def cell_text(source: str) -> tuple[str | None, str]:
    """Split an answer cell into the task id of its ``%%answer`` line and the trainee's text."""
    raise NotImplementedError
