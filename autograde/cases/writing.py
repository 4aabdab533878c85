"""What the texts of many case families share: names of riders, numbers in print, slips of one page."""

from __future__ import annotations

from typing import Protocol

from autograde.marking import Misconception
from autograde.marking.tasks import Solve

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
