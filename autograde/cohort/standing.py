"""Where everybody stands: marking records and marks given by people, brought together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from autograde.cases import Family
from autograde.cohort.attempts import counting, marks_of_attempts
from autograde.cohort.collect import current_submissions
from autograde.cohort.families import load_case
from autograde.cohort.folder import Cohort
from autograde.cohort.gradebook_marks import HandMark, hand_marks
from autograde.cohort.hand_record import HandLine, moment, recorded_hand_marks, stamp_of
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
    attempt: int = 1

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
    """The whole cohort: the sheet that counts for each trainee and case, and attempts that do not count.

    ``earlier`` holds the latter, by trainee and case in the order of the attempts; most cohorts have none.
    """

    cohort: Cohort
    families: tuple[Family, ...]
    sheets: Mapping[tuple[str, str], Sheet]
    earlier: Mapping[tuple[str, str], Sequence[Sheet]] = field(default_factory=dict)

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
    attempts, current = marks_of_attempts(cohort), current_submissions(cohort)
    chosen = counting(cohort, attempts)
    people = hand_marks(cohort) if attempts else {}
    sheets = {}
    for family in families:
        for trainee in cohort.trainees:
            who = (trainee.id, family.name)
            record = attempts.get((*who, chosen.get(who, 1)))
            sheets[who] = _sheet(trainee, family, record, people, who in current)
    return Standing(cohort, families, sheets, _earlier(cohort, families, attempts, chosen))


def _earlier(
    cohort: Cohort,
    families: Sequence[Family],
    attempts: Mapping[tuple[str, str, int], Mapping[str, Any]],
    chosen: Mapping[tuple[str, str], int],
) -> Mapping[tuple[str, str], Sequence[Sheet]]:
    rest = sorted(key for key in attempts if chosen[key[:2]] != key[2])
    if not rest:
        return {}
    given, found = recorded_hand_marks(cohort), dict[tuple[str, str], list[Sheet]]()
    people = {trainee.id: trainee for trainee in cohort.trainees}
    cases = {family.name: family for family in families}
    for key in rest:
        trainee, case, _ = key
        if trainee in people and case in cases:
            auto = {result["task"]: result["marks"] for result in attempts[key]["results"]}
            held = given.get(key, {})
            lines = {(trainee, case, task): _as_hand_mark(line, auto.get(task)) for task, line in held.items()}
            sheet = _sheet(people[trainee], cases[case], attempts[key], lines, collected=True)
            found.setdefault((trainee, case), []).append(sheet)
    return found


def _as_hand_mark(line: HandLine, auto: float | None) -> HandMark:
    base = auto if line.manual is None else line.manual
    marks = None if line.manual is None and not line.extra else (base or 0.0) + (line.extra or 0.0)
    return HandMark(marks, line.comment, waiting=False, stamp=moment(line.arrived))


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
        _outcome(task, by_task[task.id], people.get((trainee.id, family.name, task.id)), stamp_of(record))
        for task in family.tasks
        if task.id in by_task
    )
    return Sheet(trainee, family, outcomes, record["trouble"], tuple(record["notices"]), collected, record["attempt"])


def _outcome(task: Task, result: Mapping[str, Any], hand: HandMark | None, arrived: datetime) -> Outcome:
    marks, state = result["marks"], result["state"]
    if hand is not None and hand.marks is not None:
        # marks given for an older version count again when that person has looked at the newer one
        older = hand.waiting or hand.stamp != arrived
        marks, state = (None, WAITING) if older else (hand.marks, BY_PERSON)
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
