"""Where everybody stands: marking records and marks given by people, brought together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from autograde.cases import Family
from autograde.cohort.collect import current_submissions
from autograde.cohort.families import load_case
from autograde.cohort.folder import Cohort
from autograde.cohort.gradebook_marks import HandMark, hand_marks
from autograde.cohort.marking import marked
from autograde.cohort.roster import Trainee
from autograde.marking import State, Task

__all__ = ["NOT_HANDED_IN", "STATES", "WAITING", "Outcome", "Sheet", "Standing", "standing"]

WAITING = "for a person to mark"
BY_PERSON = "marked by a person"
NOT_HANDED_IN = "not handed in"
STATES = (*(str(state) for state in State), WAITING, BY_PERSON)


@dataclass(frozen=True)
class Outcome:
    """One answer as it stands.

    Parameters
    ----------
    task : Task
        The task.
    state : str
        One of `STATES`.
    marks : float or None
        None while a person has to look.
    typed, read_as, reason, feedback, comment : str
        What was written, how it was read, why it has its state, what the trainee is told, and what a person added.
    misconception : str or None
        Id of the recognised misconception.
    left_empty : bool
        Whether the answer cell was there and nothing was typed.
    """

    task: Task
    state: str
    marks: float | None
    typed: str
    read_as: str
    reason: str
    feedback: str
    comment: str
    misconception: str | None
    left_empty: bool


@dataclass(frozen=True)
class Sheet:
    """One trainee's submission of one case; without outcomes if nothing was handed in or marked yet."""

    trainee: Trainee
    family: Family
    outcomes: tuple[Outcome, ...] = ()
    trouble: str = ""
    notices: tuple[str, ...] = ()
    collected: bool = False

    @property
    def marks(self) -> float:
        """Marks known so far."""
        return round(sum(outcome.marks for outcome in self.outcomes if outcome.marks is not None), 2)

    @property
    def open_marks(self) -> float:
        """Marks that a person has yet to decide on."""
        return round(sum(outcome.task.marks for outcome in self.waiting), 2)

    @property
    def waiting(self) -> tuple[Outcome, ...]:
        """Answers a person has to look at."""
        return tuple(outcome for outcome in self.outcomes if outcome.marks is None)


@dataclass(frozen=True)
class Standing:
    """The whole cohort."""

    cohort: Cohort
    families: tuple[Family, ...]
    sheets: Mapping[tuple[str, str], Sheet]

    def of_case(self, family: Family) -> Sequence[Sheet]:
        """Sheets of one case in the order of the roster."""
        return [self.sheets[trainee.id, family.name] for trainee in self.cohort.trainees]

    @property
    def marked(self) -> Sequence[Sheet]:
        """Sheets that were handed in and marked."""
        return [sheet for sheet in self.sheets.values() if sheet.outcomes]


def standing(cohort: Cohort) -> Standing:
    """Bring together how a cohort stands.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    Standing
        With a sheet for each trainee and case.
    """
    families = tuple(load_case(case, cohort.settings.case_folders) for case in cohort.settings.cases)
    records, current = marked(cohort), current_submissions(cohort)
    people = hand_marks(cohort) if records else {}
    sheets = {}
    for family in families:
        for trainee in cohort.trainees:
            who = (trainee.id, family.name)
            sheets[who] = _sheet(trainee, family, records.get(who), people, who in current)
    return Standing(cohort, families, sheets)


def _sheet(
    trainee: Trainee,
    family: Family,
    record: Mapping[str, Any] | None,
    people: Mapping[tuple[str, str, str], HandMark],
    collected: bool,
) -> Sheet:
    if record is None:
        return Sheet(trainee, family, collected=collected)
    by_task = {result["task"]: result for result in record["results"]}
    outcomes = tuple(
        _outcome(task, by_task[task.id], people.get((trainee.id, family.name, task.id)))
        for task in family.tasks
        if task.id in by_task
    )
    return Sheet(trainee, family, outcomes, record["trouble"], tuple(record["notices"]), collected)


def _outcome(task: Task, result: Mapping[str, Any], hand: HandMark | None) -> Outcome:
    marks, state = result["marks"], result["state"]
    if hand is not None and hand.marks is not None:
        # marks given for an older version count again when that person has looked at the newer one
        marks, state = (None, WAITING) if hand.waiting else (hand.marks, BY_PERSON)
    elif task.by_hand and result["typed"].strip():
        state = WAITING
    return Outcome(
        task=task,
        state=state,
        marks=marks,
        typed=result["typed"],
        read_as=result["read_as"],
        reason=result["reason"],
        feedback=result["feedback"],
        comment=hand.comment if hand else "",
        misconception=result["misconception"],
        left_empty=result["left_empty"],
    )
