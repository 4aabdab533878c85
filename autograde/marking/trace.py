"""How a mark came about, written down by the marker while it marks."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from autograde.marking.answers import Reading
from autograde.marking.misconceptions import Misconception
from autograde.marking.result import State, TaskResult
from autograde.marking.tasks import Task, Value


class Origin(StrEnum):
    """Where the value of an earlier task comes from, on which a later one builds."""

    ANSWER = "the trainee's own answer"
    WORKED_OUT = "worked out from the answers before it, as the own answer is missing, unreadable or cannot occur"
    NONE = "no value"


class Against(StrEnum):
    """What an answer was compared with."""

    RIGHT = "right value"
    OWN = "follows from own earlier answers"
    SLIP = "slip"
    SLIP_FROM_OWN = "slip, from own earlier answers"


@dataclass(frozen=True)
class Comparison:
    """One comparison of an answer with a value.

    Parameters
    ----------
    against : Against
        What it was compared with.
    value : float, str, frozenset, tuple or None
        That value; None where a slip does not apply or could not be worked out.
    bands : float or None
        Distance in half widths of the value's tolerance band, up to 1 is inside; infinite for another
        wording; None without a value.
    fits : bool
        Whether the answer lies inside the band.
    slip : Misconception or None
        The slip, for the two kinds of slip.
    problem : str
        Why there is no value, if something failed.
    """

    against: Against
    value: Value | None
    bands: float | None
    fits: bool
    slip: Misconception | None = None
    problem: str = ""


@dataclass(frozen=True)
class Used:
    """An earlier value that a task builds on.

    Parameters
    ----------
    task : str
        Id of the earlier task.
    value : float, str, frozenset, tuple or None
        What the later task was re-solved from.
    origin : Origin
        Where it comes from.
    right : bool
        Whether it fits the right value.
    """

    task: str
    value: Value | None
    origin: Origin
    right: bool


@dataclass(frozen=True)
class Earning:
    """What the policy was asked: the state before a missing unit counts, the slip's credit, whether it is missing."""

    state: State
    credit: float = 0.0
    unit_missing: bool = False


@dataclass(frozen=True)
class TaskTrace:
    """How the mark of one task came about.

    Parameters
    ----------
    task : Task
        What was asked.
    typed : str or None
        What was typed; None when there is no answer.
    reading : Reading
        How it was read.
    right : float, str, frozenset, tuple or None
        The right value; None for texts and where it could not be worked out.
    used : tuple of Used
        The earlier values that the task builds on.
    follows : float, str, frozenset, tuple or None
        What follows from them.
    compared : tuple of Comparison
        In the order in which it was compared.
    earning : Earning or None
        What the policy was asked; None where nothing was decided.
    result : TaskResult
        The mark.
    """

    task: Task
    typed: str | None
    reading: Reading
    right: Value | None
    used: tuple[Used, ...]
    follows: Value | None
    compared: tuple[Comparison, ...]
    earning: Earning | None
    result: TaskResult


@dataclass
class Trace:
    """Collects one `TaskTrace` a task when it is handed to `mark_sheet`."""

    tasks: list[TaskTrace] = field(default_factory=list)
