"""What the texts of many case families share: names of riders, numbers in print, slips of one page."""

from __future__ import annotations

from typing import Protocol

from autograde.marking import Choice, ChoiceSet, DirectedChange, Misconception, Ordering, Quantity, Task
from autograde.marking.tasks import Solve, Value

RIDERS = ("Rowan", "Hazel", "Alder", "Linden", "Willow", "Aspen", "Juniper", "Maple", "Olive", "Laurel")


class SlipMaker(Protocol):
    """Makes one wrong way; its page is the usual one unless named."""

    def __call__(
        self,
        task: str,
        name: str,
        label: str,
        predict: Solve,
        feedback: str,
        credit: float = 0.0,
        page: str = "",
    ) -> Misconception:
        """Make it, in the order in which an author thinks of it."""


def slips_on(usual_page: str) -> SlipMaker:
    """Make a short way of writing misconceptions that are treated on one page.

    Parameters
    ----------
    usual_page : str
        Page of the book to revisit, without ending.

    Returns
    -------
    callable
        From task, name, label, prediction, feedback, credit and page to a `Misconception`.

    Examples
    --------
    >>> slip = slips_on("conventions")
    >>> slip("width", "halved", "halved it", lambda case, _: case["width"] / 2, "You halved it.").page
    'conventions'
    """

    def slip(
        task: str, name: str, label: str, predict: Solve, feedback: str, credit: float = 0.0, page: str = ""
    ) -> Misconception:
        return Misconception(name, task, label, predict, feedback, page or usual_page, credit)

    return slip


def plain(number: float, places: int = 0) -> str:
    """Write a number with a real minus sign and without a negative nought.

    Parameters
    ----------
    number : float
        What to write.
    places : int
        Digits after the point.

    Returns
    -------
    str
        The number in print.

    Examples
    --------
    >>> plain(-3.14159, 2), plain(-0.01, 1)
    ('−3.14', '0.0')
    """
    return f"{round(float(number), places) + 0.0:.{places}f}".replace("-", "−")


def as_typed(task: Task, value: Value, figures: int = 7) -> str:
    """Write a value as a careful trainee would type it.

    Parameters
    ----------
    task : Task
        A task marked by the program.
    value : float, str, frozenset or tuple
        A value of its kind.
    figures : int
        Figures of a number, 1 to 15.

    Returns
    -------
    str
        What would stand in the answer cell.

    Examples
    --------
    >>> from autograde.marking import Quantity, Tolerance
    >>> task = Task("width", "?", Quantity("mm", (0, 200), Tolerance(1)), 1, "c", "p", lambda case, _: 1.0)
    >>> as_typed(task, 123.456, 3)
    '123 mm'
    """
    kind = task.kind
    if isinstance(kind, Quantity) and isinstance(value, float):
        return f"{_figures(value, figures)} {kind.unit}".strip()
    if isinstance(kind, DirectedChange) and isinstance(value, float):
        word = (kind.positive if value >= 0 else kind.negative)[0]
        return f"{word} {_figures(abs(value), figures)} {kind.unit}"
    if isinstance(kind, Choice | ChoiceSet | Ordering) and not isinstance(value, float):
        labels = {option.key: label for label, option in kind.labelled()}
        keys = [value] if isinstance(value, str) else sorted(value) if isinstance(kind, ChoiceSet) else value
        return ", ".join(labels[key] for key in keys) or "none"
    raise ValueError(f"{value!r} is no value of the task {task.id!r}")


def _figures(value: float, figures: int) -> str:
    return f"{float(f'{value:.{figures}g}'):.15g}"
