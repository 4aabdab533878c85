"""Checking the form of an answer: number, unit, plausible range. Never whether it is right."""

from __future__ import annotations

from dataclasses import dataclass

from autograde.marking.answers import how_to_write, read_answer
from autograde.marking.mark import is_possible
from autograde.marking.reading import show_number, with_article
from autograde.marking.tasks import DirectedChange, Quantity, Task


@dataclass(frozen=True)
class FormCheck:
    """Whether an answer can be marked as it stands, and what to tell the trainee."""

    readable: bool
    message: str


def check_form(task: Task, text: str | None) -> FormCheck:
    """Check that an answer can be read.

    Parameters
    ----------
    task : Task
        What was asked.
    text : str or None
        What was typed.

    Returns
    -------
    FormCheck
        Says how the answer is read; it needs no case and knows no right value.
    """
    if task.by_hand:
        return FormCheck(True, "Your reasoning is read by an instructor.")
    reading = read_answer(task.kind, text)
    if reading.value is None:
        return FormCheck(False, f"This cannot be read. {reading.reason}")
    lines = [f"Read as: {reading.read_as}."]
    if isinstance(task.kind, Quantity | DirectedChange):
        if reading.unit_missing:
            lines.append(f"There is no unit: it is taken in {task.kind.unit}, and that costs marks.")
            lines.append(f"{how_to_write(task.kind)}.")
        if not is_possible(task, reading.value):
            low, high = (show_number(limit) for limit in task.kind.plausible)
            lines.append(
                f"{with_article(task.kind.asks, capital=True)} outside {low} to {high} {task.kind.unit} is not "
                "plausible here. Check the unit and the decimal point."
            )
    lines.append("Only the form was checked, not whether it is right.")
    return FormCheck(True, " ".join(lines))
