"""What marking found out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from autograde.marking.tasks import Value


class State(StrEnum):
    """The five states of a marked answer."""

    CORRECT = "correct"
    IN_CONSEQUENCE = "correct in consequence"
    MISCONCEPTION = "recognised misconception"
    OUT_OF_TOLERANCE = "out of tolerance"
    NOT_GRADABLE = "not gradable"


@dataclass(frozen=True)
class TaskResult:
    """The result of one task.

    Parameters
    ----------
    task : str
        Task id.
    state : State
        One of the five.
    marks : float or None
        0 to `max_marks`; None when a person has to look (never silently 0).
    max_marks : float
        Full marks.
    reason : str
        How the answer was read and why it has this state; for the instructor's record.
    misconception : str or None
        Id of the recognised misconception.
    feedback : str
        Text for the trainee; never holds the right value.
    page : str
        Page of the book to revisit.
    read_value : float, str, frozenset, tuple or None
        The answer as it was understood, in the task's unit.
    read_as : str
        The same in words.
    by_hand : bool
        True for a text, which is always marked by a person; its state is `NOT_GRADABLE`.
    """

    task: str
    state: State
    marks: float | None
    max_marks: float
    reason: str
    misconception: str | None
    feedback: str
    page: str
    read_value: Value | None
    read_as: str = ""
    by_hand: bool = False


@dataclass(frozen=True)
class SheetResult:
    """The results of one sheet, in the order of the tasks."""

    results: tuple[TaskResult, ...]

    def __getitem__(self, task: str) -> TaskResult:
        for result in self.results:
            if result.task == task:
                return result
        raise KeyError(task)

    @property
    def marks(self) -> float:
        """Sum of the marks known so far."""
        return round(sum(r.marks for r in self.results if r.marks is not None), 2)

    @property
    def max_marks(self) -> float:
        """Full marks of the whole sheet, hand-marked tasks included."""
        return sum(r.max_marks for r in self.results)

    @property
    def for_a_person(self) -> tuple[TaskResult, ...]:
        """Results that wait for a person: not gradable ones and texts."""
        return tuple(r for r in self.results if r.marks is None)

    @property
    def not_gradable(self) -> tuple[TaskResult, ...]:
        """Results that should have been marked and could not be."""
        return tuple(r for r in self.for_a_person if not r.by_hand)
