"""Decide about everybody in a cohort, and put into the record what is new."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from shlex import quote
from typing import Any

from autograde.award.blueprint import Blueprint
from autograde.award.chain import Entry, canonical
from autograde.award.decision import decide
from autograde.award.issue import DECISION
from autograde.award.outcome import Decision, Outcome
from autograde.award.record import Record
from autograde.award.review import ON_APPEAL, settle
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.cohort.marking import to_mark
from autograde.cohort.roster import Trainee
from autograde.cohort.standing import Standing, standing
from autograde.desk.places import Places
from autograde.desk.plan import open_blueprint
from autograde.desk.standards import StandardInForce, standard_for
from autograde.desk.table import mark_table

__all__ = ["AS_BEFORE", "CHANGED", "NEW", "Decided", "Decisions", "decide_cohort", "latest_by_trainee", "settle_one"]

NEW, CHANGED, AS_BEFORE = "new", "changed", "as before"


@dataclass(frozen=True)
class Decided:
    """A decision about one trainee, and how it stands in the record.

    Parameters
    ----------
    trainee : Trainee
        Who.
    decision : Decision
        As it is now.
    what : str
        `NEW`, `CHANGED` or `AS_BEFORE`.
    entry : Entry or None
        Where the record holds it; None if it does not yet.
    before : str
        The outcome before, if it changed.
    """

    trainee: Trainee
    decision: Decision
    what: str
    entry: Entry | None
    before: str = ""


@dataclass(frozen=True)
class Decisions:
    """All decisions, and what they were made by."""

    blueprint: Blueprint
    standard: StandardInForce
    all: tuple[Decided, ...]

    @property
    def to_record(self) -> Sequence[Decided]:
        """Those that the record does not hold."""
        return [decided for decided in self.all if decided.entry is None]


@dataclass(frozen=True)
class _Recorded:
    entry: Entry
    personal: Mapping[str, Any]


def decide_cohort(
    cohort: Cohort,
    stand: Standing | None = None,
    *,
    new_standard: bool = False,
    sem_marks: float | None = None,
    dry_run: bool = False,
    today: date | None = None,
) -> Decisions:
    """Decide by the written rules.

    Parameters
    ----------
    cohort : Cohort
        Marked.
    stand : Standing, optional
        How it stands, if known.
    new_standard, sem_marks
        See `standard_for`.
    dry_run : bool
        Write nothing.
    today : date, optional
        Day of the decisions.

    Returns
    -------
    Decisions
        One for each trainee on the roster. A decision that is as before stays the entry it was; what a person settled
        stays settled as long as the marks under it are the same.

    Raises
    ------
    AwardError, CohortError
        If blueprint, ratings or record need a person, or collected work is not marked.
    """
    unmarked = len(to_mark(cohort))
    if unmarked:
        raise CohortError(
            f"{unmarked} collected sheets are not marked; mark them first: "
            f"pedalwright cohort mark {quote(str(cohort.root))}"
        )
    places = Places.of(cohort)
    blueprint, text = open_blueprint(cohort)
    stand = stand or standing(cohort)
    table, attempts = mark_table(stand, blueprint), attempt_by_trainee(stand)
    record = places.record
    in_force = standard_for(places, record, text, table, anew=new_standard, sem_marks=sem_marks)
    latest, on = latest_by_trainee(record), today or datetime.now(UTC).date()

    def compare(trainee: Trainee) -> Decided:
        def rule(day: date) -> Decision:
            attempt = min(attempts[trainee.id], blueprint.attempts)
            return decide(table, trainee.id, blueprint, in_force.standard, attempt=attempt, on=day)

        return _compare(trainee, latest.get(trainee.id), rule, blueprint, on)

    found = [compare(trainee) for trainee in cohort.trainees if not trainee.gone]
    if not dry_run:
        in_force.record(record)
        found = [_write(record, decided) for decided in found]
    return Decisions(blueprint, in_force, tuple(found))


def settle_one(
    cohort: Cohort,
    trainee_id: str,
    *,
    award: bool,
    by: str,
    statement: str,
    dry_run: bool = False,
    today: date | None = None,
) -> Decided:
    """Let a person decide about a borderline trainee.

    Parameters
    ----------
    cohort : Cohort
        Decided.
    trainee_id : str
        Who.
    award : bool
        What the person decides.
    by, statement : str
        Who decides, and why.
    dry_run : bool
        Write nothing.
    today : date, optional
        Day of the decision.

    Returns
    -------
    Decided
        The settled decision; said again in the same words, it is as before.

    Raises
    ------
    AwardError, CohortError
        If nobody has this id, marks changed since the decision, or the result is not borderline.
    """
    decisions = decide_cohort(cohort, dry_run=True, today=today)
    one = next((decided for decided in decisions.all if decided.trainee.id == trainee_id), None)
    if one is None:
        raise CohortError(f"nobody on the roster has the id {trainee_id!r}")
    if one.entry is None:
        raise CohortError(f"decide first, so that the borderline result is recorded: {_line(cohort)}")
    record, on = Places.of(cohort).record, today or datetime.now(UTC).date()
    held = latest_by_trainee(record)[trainee_id]
    stand = standing(cohort)
    table = mark_table(stand, decisions.blueprint)
    attempt = min(attempt_by_trainee(stand)[trainee_id], decisions.blueprint.attempts)

    def settled(day: date) -> Decision:
        rule = decide(table, trainee_id, decisions.blueprint, decisions.standard.standard, attempt=attempt, on=day)
        return settle(rule, award=award, by=by, statement=statement)

    decided = _compare(one.trainee, held, settled, decisions.blueprint, on)
    return decided if dry_run else _write(record, decided)


def attempt_by_trainee(stand: Standing) -> dict[str, int]:
    """Count a trainee's attempts at the whole assessment: the highest among the cases, whichever counts there."""
    found = {trainee.id: 1 for trainee in stand.cohort.trainees}
    for (trainee, case), sheet in stand.sheets.items():
        tried = (sheet, *stand.earlier.get((trainee, case), ()))
        found[trainee] = max(found[trainee], *(one.attempt for one in tried))
    return found


def latest_by_trainee(record: Record) -> dict[str, _Recorded]:
    """Give the last recorded decision about each trainee whose personal part is still there."""
    found = {}
    for entry in record.entries():
        if entry.kind == DECISION:
            personal = record.personal(entry.n)
            if personal:
                found[str(personal["trainee"])] = _Recorded(entry, personal)
    return found


def _compare(
    trainee: Trainee, held: _Recorded | None, make: Callable[[date], Decision], blueprint: Blueprint, on: date
) -> Decided:
    """Tell whether a decision is the recorded one; the day from which an appeal runs stays that of the record."""
    if held is None:
        return Decided(trainee, make(on), NEW, None)
    body = held.entry.body
    first = make(date.fromisoformat(body["appeal_until"]) - timedelta(days=blueprint.appeal_days))
    for decision in (first, *_as_settled(first, held)):
        public, personal = canonical(decision.public()), canonical(decision.personal())
        if public == canonical(dict(body)) and personal == canonical(dict(held.personal)):
            return Decided(trainee, decision, AS_BEFORE, held.entry)
    return Decided(trainee, make(on), CHANGED, None, str(body["outcome"]))


def _as_settled(rule: Decision, held: _Recorded) -> Sequence[Decision]:
    """Apply what a person decided before: on appeal, or because the rule leaves it to a person."""
    by, words = str(held.personal.get("decided_by", "")), str(held.personal.get("statement", ""))
    if not by:
        return ()
    found = [rule]
    if rule.outcome is Outcome.BORDERLINE:
        found.append(settle(rule, award=held.entry.body["outcome"] == str(Outcome.AWARD), by=by, statement=words))
    last = str(held.entry.body["reasons"][-1])
    if last.startswith(ON_APPEAL):
        return [replace(one, reasons=(*one.reasons, last), decided_by=by, statement=words) for one in reversed(found)]
    return found[1:]


def _write(record: Record, decided: Decided) -> Decided:
    if decided.entry is not None:
        return decided
    decision = decided.decision
    entry = record.append(DECISION, decision.public(), decision.personal())
    return Decided(decided.trainee, decision, decided.what, entry, decided.before)


def _line(cohort: Cohort) -> str:
    return f"pedalwright cohort decide {quote(str(cohort.root))}"
