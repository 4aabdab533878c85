"""What the report shows beyond the marks: figures that are reckoned elsewhere and handed in.

A number that is estimated from a cohort comes as a `Span`, with its 95 % interval, or it does not come at all.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from autograde.cases import Family

__all__ = [
    "Agreed",
    "Agreement",
    "Competency",
    "Decision",
    "Figures",
    "Moderation",
    "Scale",
    "Span",
    "Standard",
    "TaskFigures",
    "plain_figures",
]

MOST_COLUMNS = 12
"""Competencies that a map can hold; with more of them tasks count under the module of their case."""


@dataclass(frozen=True)
class Span:
    """An estimate with the ends of its 95 % interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Competency:
    """A column of the map, and the least share of its marks in percent that is asked for; None if nothing is."""

    id: str
    name: str
    minimum_pct: float | None = None


@dataclass(frozen=True)
class TaskFigures:
    """How one task did.

    Parameters
    ----------
    case, task : str
        Which.
    known : int
        Trainees with a mark in it.
    difficulty : Span or None
        Mean share of its marks, 0 to 1.
    discrimination : Span or None
        Correlation with the other tasks, -1 to 1.
    flags : tuple of str
        Plain words about what is odd; empty if nothing is.
    """

    case: str
    task: str
    known: int
    difficulty: Span | None
    discrimination: Span | None
    flags: tuple[str, ...] = ()


@dataclass(frozen=True)
class Scale:
    """How far the marks of a set of tasks can be trusted.

    Parameters
    ----------
    id, name : str
        Of the competency; ``all`` for the whole.
    tasks, trainees : int
        What the figures rest on.
    max_marks : float
        Full marks of these tasks.
    alpha : Span or None
        Internal consistency.
    sem_marks : Span or None
        Standard error of measurement of one total, for the ends of alpha's interval.
    why : str
        Why there is no number, or empty.
    """

    id: str
    name: str
    tasks: int
    trainees: int
    max_marks: float
    alpha: Span | None
    sem_marks: Span | None
    why: str = ""


@dataclass(frozen=True)
class Standard:
    """The standard, and how sure decisions by it are.

    Parameters
    ----------
    cut_marks, cut_se_marks, sem_marks, low_marks, high_marks, max_marks : float
        The cut, its error, the error of one total, the band in which a person decides, and full marks.
    sentence : str
        How it was set.
    recorded : bool
        Whether it stands in the record of decisions; if not, it is as it would be set today.
    agreement, kappa : Span or None
        Expected share (0 to 1) decided alike by an equivalent assessment, and that beyond chance, for the ends of the
        reliability's interval.
    """

    cut_marks: float
    cut_se_marks: float
    sem_marks: float
    low_marks: float
    high_marks: float
    max_marks: float
    sentence: str
    recorded: bool
    agreement: Span | None = None
    kappa: Span | None = None


@dataclass(frozen=True)
class Decision:
    """What was decided about a trainee, or would be today.

    Parameters
    ----------
    outcome : str
        In words.
    recorded : bool
        Whether the record holds just this.
    before : str
        What the record holds instead, or empty.
    total_marks : float
        Marks it rests on.
    attempt, attempts : int
        Which attempt of how many.
    reasons : tuple of str
        Why.
    next_step, appeal_until, decided_by, statement : str
        What follows, until when an appeal is taken (ISO 8601), who decided (empty: the rule) and in which words.
    """

    outcome: str
    recorded: bool
    before: str
    total_marks: float
    attempt: int
    attempts: int
    reasons: tuple[str, ...]
    next_step: str
    appeal_until: str
    decided_by: str = ""
    statement: str = ""


@dataclass(frozen=True)
class Agreement:
    """How two readers agree about the texts of a task (both names empty: of all tasks); shares from 0 to 1."""

    case: str
    task: str
    texts: int
    same: Span
    near: Span
    difference_marks: Span | None
    kappa: Span | None
    note: str = ""


@dataclass(frozen=True)
class Agreed:
    """A text whose two readings lay apart; ``agreed_marks`` is None while it is open."""

    number: str
    trainee: str
    case: str
    task: str
    drawn_as: str
    first_marks: float
    second_marks: float
    agreed_marks: float | None
    reason: str = ""
    by: str = ""


@dataclass(frozen=True)
class Moderation:
    """What came of second readings: texts drawn and read, the rule, figures, and the texts that lay apart."""

    drawn: int
    read: int
    rule: str
    figures: tuple[Agreement, ...]
    apart: tuple[Agreed, ...]

    @property
    def open(self) -> int:
        """Texts without an agreed mark."""
        return sum(one.agreed_marks is None for one in self.apart)


@dataclass(frozen=True)
class Figures:
    """All of it.

    Parameters
    ----------
    competencies : tuple of Competency
        Columns of the map.
    counts_as : mapping
        Id of the competency by case and task.
    tasks : tuple of TaskFigures
        In the order of cases and tasks; empty if not reckoned.
    whole : Scale or None
        All tasks together.
    parts : tuple of Scale
        Competency by competency.
    standard : Standard or None
        The standard in force.
    decisions : mapping
        By trainee id.
    moderation : Moderation or None
        None if no text was drawn for a second reading.
    notes : tuple of str
        What could not be had, and why; what the figures leave out.
    """

    competencies: tuple[Competency, ...]
    counts_as: Mapping[tuple[str, str], str]
    tasks: tuple[TaskFigures, ...] = ()
    whole: Scale | None = None
    parts: tuple[Scale, ...] = ()
    standard: Standard | None = None
    decisions: Mapping[str, Decision] = field(default_factory=dict)
    moderation: Moderation | None = None
    notes: tuple[str, ...] = ()


def plain_figures(families: Sequence[Family]) -> Figures:
    """Make figures that hold nothing but competencies as the cases name them, without minimums.

    Parameters
    ----------
    families : sequence of Family
        The cases.

    Returns
    -------
    Figures
        With more than `MOST_COLUMNS` names, tasks count under the module of their case.
    """
    named = Counter(task.competency for family in families for task in family.tasks)
    by_module = len(named) > MOST_COLUMNS
    counts_as = {
        (family.name, task.id): family.module_page if by_module else task.competency
        for family in families
        for task in family.tasks
    }
    names = dict.fromkeys(counts_as.values())
    columns = tuple(Competency(name, name.replace("-", " ").capitalize() if by_module else name) for name in names)
    return Figures(columns, counts_as)
