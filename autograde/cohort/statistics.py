"""What the cohort's answers say together."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import stats

from autograde.cases import Family
from autograde.cohort.roster import Trainee
from autograde.cohort.standing import STATES, Standing
from autograde.marking import State, Task
from autograde.marking.policy import UNIT_MISSING, UNIT_MISSING_LABEL

__all__ = [
    "MisconceptionCount",
    "PageToReteach",
    "TaskCount",
    "misconception_counts",
    "misconception_name",
    "pages_to_reteach",
    "share_interval",
    "task_counts",
]


@dataclass(frozen=True)
class MisconceptionCount:
    """How often one misconception was recognised.

    Parameters
    ----------
    id, label, page : str
        Its name in the program, its name for people, and the page of the book to reteach.
    trainees : tuple of Trainee
        In whose work it showed.
    answers : int
        In how many answers.
    tasks : tuple of str
        Titles of the tasks in which it showed.
    handed_in : int
        Trainees whose work was marked, to compare with.
    """

    id: str
    label: str
    page: str
    trainees: tuple[Trainee, ...]
    answers: int
    tasks: tuple[str, ...]
    handed_in: int


@dataclass(frozen=True)
class PageToReteach:
    """A page of the book with the misconceptions that lead to it.

    Parameters
    ----------
    page : str
        Name of the page.
    trainees : tuple of Trainee
        In whose work at least one of them showed.
    handed_in : int
        Trainees whose work was marked.
    slips : tuple of MisconceptionCount
        Those seen in most trainees' work first.
    """

    page: str
    trainees: tuple[Trainee, ...]
    handed_in: int
    slips: tuple[MisconceptionCount, ...]

    @property
    def share(self) -> float:
        """Share of the trainees, 0 to 1."""
        return len(self.trainees) / self.handed_in


@dataclass(frozen=True)
class TaskCount:
    """How one task was answered.

    Parameters
    ----------
    family : Family
        Its case.
    task : Task
        The task.
    states : tuple of (str, int)
        Answers in each state, in the order of `STATES`.
    facility : float or None
        Mean share of the marks among answers that have marks, 0 to 1; None if none has.
    """

    family: Family
    task: Task
    states: tuple[tuple[str, int], ...]
    facility: float | None

    @property
    def answers(self) -> int:
        """Answers counted."""
        return sum(count for _, count in self.states)


def misconception_counts(standing: Standing) -> Sequence[MisconceptionCount]:
    """Count recognised misconceptions, the one seen in most trainees' work first.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.

    Returns
    -------
    sequence of MisconceptionCount
        Only those that were seen. A slip of one name is counted for each page apart, since that is what is retaught.
    """
    people: dict[tuple[str, str], dict[str, Trainee]] = defaultdict(dict)
    tasks: dict[tuple[str, str], dict[str, None]] = defaultdict(dict)
    answers: Counter[tuple[str, str]] = Counter()
    labels: dict[tuple[str, str], str] = {}
    for sheet in standing.marked:
        for outcome in sheet.outcomes:
            if outcome.misconception is None or outcome.state != State.MISCONCEPTION:
                continue
            label, page = misconception_name(sheet.family, outcome.task, outcome.misconception)
            key = outcome.misconception, page
            people[key][sheet.trainee.id] = sheet.trainee
            tasks[key][outcome.task.title] = None
            answers[key] += 1
            labels.setdefault(key, label)
    handed_in = len({sheet.trainee.id for sheet in standing.marked})
    counts = [
        MisconceptionCount(
            key[0], label, key[1], tuple(people[key].values()), answers[key], tuple(tasks[key]), handed_in
        )
        for key, label in labels.items()
    ]
    return sorted(counts, key=lambda count: (-len(count.trainees), -count.answers, count.label, count.page))


def pages_to_reteach(counts: Sequence[MisconceptionCount]) -> Sequence[PageToReteach]:
    """Group misconceptions by the page to reteach.

    Parameters
    ----------
    counts : sequence of MisconceptionCount
        From `misconception_counts`.

    Returns
    -------
    sequence of PageToReteach
        The page that concerns most trainees first; with as many, the one with the most frequent misconception.
    """
    by_page: dict[str, list[MisconceptionCount]] = defaultdict(list)
    for count in counts:
        by_page[count.page].append(count)
    pages = []
    for page, slips in by_page.items():
        people = {trainee.id: trainee for slip in slips for trainee in slip.trainees}
        pages.append(PageToReteach(page, tuple(people.values()), slips[0].handed_in, tuple(slips)))
    return sorted(pages, key=lambda one: (-len(one.trainees), -len(one.slips[0].trainees), one.page))


def share_interval(
    shares: ArrayLike, counts: ArrayLike, confidence: float = 0.95
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Find the score interval of mean shares.

    Parameters
    ----------
    shares : array_like
        Mean shares, 0 to 1.
    counts : array_like
        How many values each mean rests on; where it is 0 the interval is 0 to 1.
    confidence : float
        Between 0 and 1.

    Returns
    -------
    tuple of ndarray
        Lower and upper limits.

    Notes
    -----
    Wilson's interval for a proportion. A share of marks varies at most as much as a value that is 0 or 1 with the
    same mean, so with part marks the interval is rather too wide than too narrow.

    References
    ----------
    wilson_1927, newcombe_1998

    Examples
    --------
    >>> low, high = share_interval(81 / 263, 263)
    >>> round(float(low), 4), round(float(high), 4)
    (0.2553, 0.3662)
    """
    mean, count = np.asarray(shares, dtype=float), np.asarray(counts, dtype=float)
    z = float(stats.norm.ppf(0.5 + confidence / 2))
    centre = mean * count + z**2 / 2
    reach = z * np.sqrt(mean * (1 - mean) * count + z**2 / 4)
    low, high = (centre - reach) / (count + z**2), (centre + reach) / (count + z**2)
    return np.clip(low, 0.0, 1.0), np.clip(high, 0.0, 1.0)


def misconception_name(family: Family, task: Task, key: str) -> tuple[str, str]:
    """Find the name for people and the page of a misconception.

    Parameters
    ----------
    family : Family
        The case.
    task : Task
        Where it showed.
    key : str
        Its id.

    Returns
    -------
    label, page : str
        The id itself and the task's page, if the case no longer lists it.
    """
    if key == UNIT_MISSING:
        return UNIT_MISSING_LABEL, task.page
    listed = [item for item in family.misconceptions if item.id == key]
    here = next((item for item in listed if item.task == task.id), listed[0] if listed else None)
    return (here.label, here.page) if here else (key, task.page)


def task_counts(standing: Standing) -> Sequence[TaskCount]:
    """Count the states of every task's answers.

    Parameters
    ----------
    standing : Standing
        The cohort as it stands.

    Returns
    -------
    sequence of TaskCount
        In the order of the cases and their tasks.
    """
    found = []
    for family in standing.families:
        sheets = [sheet for sheet in standing.of_case(family) if sheet.outcomes]
        for task in family.tasks:
            outcomes = [outcome for sheet in sheets for outcome in sheet.outcomes if outcome.task.id == task.id]
            states = Counter(outcome.state for outcome in outcomes)
            shares = [outcome.marks / task.marks for outcome in outcomes if outcome.marks is not None]
            found.append(
                TaskCount(
                    family,
                    task,
                    tuple((state, states[state]) for state in STATES),
                    sum(shares) / len(shares) if shares else None,
                )
            )
    return found
