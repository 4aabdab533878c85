"""Words for the trainee. None of them holds a right value."""

from __future__ import annotations

from collections.abc import Sequence

from autograde.marking.answers import Reading
from autograde.marking.misconceptions import Misconception
from autograde.marking.reading import with_article
from autograde.marking.tasks import DirectedChange, Quantity, Task

UNIT_NOTE = "You wrote a number without its unit; it was taken in {unit}. A number without a unit cannot be acted on."


def correct() -> str:
    """Feedback on a right answer."""
    return "Right."


def in_consequence(slips: Sequence[Task]) -> str:
    """Feedback on an answer that follows from an earlier slip."""
    names = " and ".join(f"“{task.title}”" for task in slips)
    return f"This follows correctly from your own answer to {names}, so it earns its marks. Look for the slip there."


def misconception(found: Misconception, slips: Sequence[Task]) -> str:
    """Feedback on a recognised misconception, alone or on top of an earlier slip."""
    if not slips:
        return found.feedback
    names = " and ".join(f"“{task.title}”" for task in slips)
    return f"{found.feedback} (Reckoned from your own answer to {names}.)"


def out_of_tolerance(task: Task, *, possible: bool) -> str:
    """Feedback on an answer that fits nothing known."""
    advice = "Go through the worked example once more and check the units, the signs and each reading."
    if possible:
        return f"This lies outside the tolerance, and none of the usual slips leads there. {advice}"
    asks = task.kind.asks if isinstance(task.kind, Quantity | DirectedChange) else "value"
    return f"{with_article(asks, capital=True)} of this size cannot occur here. {advice}"


def unit_missing(task: Task) -> str:
    """Note on a number without its unit."""
    unit = task.kind.unit if isinstance(task.kind, Quantity | DirectedChange) else ""
    return UNIT_NOTE.format(unit=unit)


def not_readable(reading: Reading) -> str:
    """Feedback on an answer that could not be read."""
    return f"{not_workable()} {reading.reason}"


def not_workable() -> str:
    """Feedback when marking itself failed."""
    return "The program could not mark this answer, and it is not counted as wrong: an instructor looks at it."


def by_hand() -> str:
    """Feedback on a text before a person has read it."""
    return "Your reasoning is read by an instructor."
