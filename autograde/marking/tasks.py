"""Tasks and the kinds of answer they ask for."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

from autograde.marking.tolerance import Tolerance

Value: TypeAlias = float | str | frozenset[str] | tuple[str, ...]
"""A read answer: number in the task's unit, option key, set of keys, order of keys, or words."""

Solve: TypeAlias = Callable[[Any, Mapping[str, Any]], Any]
"""From a case and the values of earlier tasks to the value of this one."""


@dataclass(frozen=True)
class Quantity:
    """A number with a unit.

    Parameters
    ----------
    unit : str
        The unit the task asks for, such as ``"N m"``; any unit of the same kind is read.
    plausible : tuple of float
        Lowest and highest value that can occur at all, in that unit; the form check warns outside.
    tolerance : Tolerance
        The band in which an answer is the same as the right value.
    asks : str
        What is asked, as a noun: "torque".
    example : str
        A well written answer. Made from the plausible range when empty.
    """

    unit: str
    plausible: tuple[float, float]
    tolerance: Tolerance
    asks: str = "value"
    example: str = ""

    def __post_init__(self) -> None:
        _check_range(self.plausible)
        if not self.example:
            low, high = self.plausible
            middle = float(f"{low + 0.37 * (high - low):.2g}")
            object.__setattr__(self, "example", f"{middle:g} {self.unit}".strip())


@dataclass(frozen=True)
class Option:
    """One of the wordings to choose from.

    Parameters
    ----------
    key : str
        Name in the program.
    text : str
        What the trainee reads.
    also : tuple of str
        Other wordings that mean the same.
    """

    key: str
    text: str
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Options:
    options: tuple[Option, ...]
    numbered: bool = False

    def __post_init__(self) -> None:
        keys = [option.key for option in self.options]
        if len(keys) < 2 or len(set(keys)) != len(keys):
            raise ValueError(f"options have the keys {keys}; give at least two, each once")
        if not self.numbered and len(keys) > 26:
            raise ValueError(f"{len(keys)} options are more than the alphabet has letters; number them")

    def label(self, index: int) -> str:
        """Letter or number in front of an option."""
        return str(index + 1) if self.numbered else chr(ord("A") + index)

    def labelled(self) -> tuple[tuple[str, Option], ...]:
        """All options with their letter or number."""
        return tuple((self.label(i), option) for i, option in enumerate(self.options))


@dataclass(frozen=True)
class Choice(_Options):
    """One of several wordings, given by letter (or number) or by its words."""


@dataclass(frozen=True)
class ChoiceSet(_Options):
    """Any number of several wordings."""


@dataclass(frozen=True)
class Ordering(_Options):
    """All wordings, brought into an order."""


@dataclass(frozen=True)
class DirectedChange:
    """A change with a direction: "raise 8 mm", "8 mm up".

    The value is the signed number: positive along the first direction.

    Parameters
    ----------
    unit, plausible, tolerance
        As for `Quantity`; the plausible range is that of the signed number.
    positive, negative : tuple of str
        Words for the two directions, the shown one first.
    asks : str
        What is asked, as a noun.
    """

    unit: str
    plausible: tuple[float, float]
    tolerance: Tolerance
    positive: tuple[str, ...] = ("raise", "up", "higher", "upward", "upwards")
    negative: tuple[str, ...] = ("lower", "down", "downward", "downwards", "drop")
    asks: str = "change"

    def __post_init__(self) -> None:
        _check_range(self.plausible)
        if not self.positive or not self.negative or set(self.positive) & set(self.negative):
            raise ValueError("each direction needs a word of its own")


@dataclass(frozen=True)
class Criterion:
    """One line of a rubric."""

    text: str
    marks: float


@dataclass(frozen=True)
class Words:
    """A short reasoned text, marked by a person on a rubric."""

    rubric: tuple[Criterion, ...]

    def __post_init__(self) -> None:
        if not self.rubric:
            raise ValueError("a text needs a rubric with at least one criterion")


Kind: TypeAlias = Quantity | Choice | ChoiceSet | Ordering | DirectedChange | Words


@dataclass(frozen=True)
class Task:
    """One thing to answer.

    Parameters
    ----------
    id : str
        Short name, lower case with hyphens; it is what follows ``%%answer``.
    prompt : str
        The question; Jinja placeholders are filled from the family's context.
    kind : Quantity, Choice, ChoiceSet, Ordering, DirectedChange or Words
        What kind of answer is read.
    marks : float
        Full marks, greater than 0.
    competency : str
        Which competency the task shows.
    page : str
        Page of the book to revisit, without ending.
    solve : callable or None
        From the case and the values of the tasks in `uses` to the right value; None for `Words`.
    uses : tuple of str
        Earlier tasks whose values this one builds on.
    title : str
        Short heading; made from the id when empty.
    safety : bool
        Whether the task gates the pass.
    """

    id: str
    prompt: str
    kind: Kind
    marks: float
    competency: str
    page: str
    solve: Solve | None = None
    uses: tuple[str, ...] = ()
    title: str = ""
    safety: bool = False

    def __post_init__(self) -> None:
        if not (math.isfinite(self.marks) and self.marks > 0):
            raise ValueError(f"task {self.id!r} has {self.marks!r} marks; give a number greater than 0")
        if (self.solve is None) != isinstance(self.kind, Words):
            raise ValueError(f"task {self.id!r}: every kind but Words needs `solve`, and Words has none")
        if not self.title:
            object.__setattr__(self, "title", self.id.replace("-", " ").capitalize())

    @property
    def by_hand(self) -> bool:
        """Whether a person marks it."""
        return isinstance(self.kind, Words)


def _check_range(plausible: tuple[float, float]) -> None:
    low, high = plausible
    if not (math.isfinite(low) and math.isfinite(high) and low < high):
        raise ValueError(f"plausible range is {plausible!r}; give two numbers, the lower first")
