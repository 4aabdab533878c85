"""Wrong ways to an answer that trainees really take."""

from __future__ import annotations

import math
from dataclasses import dataclass

from autograde.marking.tasks import Solve


@dataclass(frozen=True)
class Misconception:
    """One wrong way, and the value it leads to.

    Parameters
    ----------
    id : str
        Short name, lower case with hyphens; the same slip may be listed for several tasks.
    task : str
        The task in which it shows.
    label : str
        Name for the instructor's report.
    predict : callable
        From the case and the values of earlier tasks to the value of someone with this
        misconception; None where it does not apply.
    feedback : str
        What the reasoning did, without the right value.
    page : str
        Page of the book to revisit.
    credit : float
        Fraction of the marks it earns, 0 to less than 1.
    """

    id: str
    task: str
    label: str
    predict: Solve
    feedback: str
    page: str
    credit: float = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.credit) and 0.0 <= self.credit < 1.0):
            raise ValueError(f"misconception {self.id!r} has credit {self.credit!r}; give 0 to less than 1")
