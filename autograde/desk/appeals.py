"""Appeals: recorded, the work marked again by another person, and decided anew with reasons."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import Any

from autograde.award.chain import Entry
from autograde.award.decision import decide
from autograde.award.issue import DECISION
from autograde.award.outcome import Decision, Outcome
from autograde.award.record import Record
from autograde.award.review import after_appeal, settle
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort
from autograde.cohort.standing import standing
from autograde.desk.decisions import attempt_by_trainee, decide_cohort, latest_by_trainee
from autograde.desk.places import Places
from autograde.desk.table import mark_table

__all__ = ["CLOSED", "OPENED", "Appeal", "close_appeal", "open_appeal", "open_appeals"]

OPENED, CLOSED = "appeal", "appeal heard"
"""Kinds of entries in the record."""
SHORTEST = 10


@dataclass(frozen=True)
class Appeal:
    """An appeal that waits to be heard.

    Parameters
    ----------
    trainee : str
        Whose.
    entry : Entry
        Where the record holds it.
    outcome : str
        The outcome it is about.
    """

    trainee: str
    entry: Entry
    outcome: str


def open_appeals(record: Record) -> tuple[Appeal, ...]:
    """Find the appeals that are not heard yet.

    Parameters
    ----------
    record : Record
        Of decisions.

    Returns
    -------
    tuple of Appeal
        In the order in which they were made; one of a trainee who was forgotten has ended.
    """
    entries = record.entries()
    heard = {entry.body["appeal"] for entry in entries if entry.kind == CLOSED}
    return tuple(
        Appeal(str(personal["trainee"]), entry, str(entry.body["outcome"]))
        for entry in entries
        if entry.kind == OPENED and entry.hash not in heard
        for personal in (record.personal(entry.n),)
        if personal
    )


def open_appeal(
    cohort: Cohort, trainee: str, *, reasons: str, on: date | None = None, dry_run: bool = False
) -> Appeal | None:
    """Record that a trainee appeals against the last decision.

    Parameters
    ----------
    cohort : Cohort
        Decided.
    trainee : str
        Who.
    reasons : str
        What the trainee says, at least ten characters; kept as personal data.
    on : date, optional
        Day on which the appeal was made.
    dry_run : bool
        Only check.

    Returns
    -------
    Appeal or None
        The appeal, also if it was on record already; None if it would be recorded.

    Raises
    ------
    CohortError
        If there is no decision, it came too late, or another one of the trainee is open.
    """
    record = Places.of(cohort).record
    held = latest_by_trainee(record).get(trainee)
    if held is None:
        raise CohortError(f"no decision about {trainee!r} is on record; there is nothing to appeal against")
    if len(reasons.strip()) < SHORTEST:
        raise CohortError(f"write down what the trainee says, in at least {SHORTEST} characters: --because WORDS")
    day, until = on or datetime.now(UTC).date(), str(held.entry.body["appeal_until"])
    if day > date.fromisoformat(until):
        raise CohortError(f"the appeal was made on {day.isoformat()}; it was open until {until}")
    present = next((appeal for appeal in open_appeals(record) if appeal.trainee == trainee), None)
    if present is not None or dry_run:
        return present
    body = {"decision": held.entry.hash, "outcome": held.entry.body["outcome"], "on": day.isoformat()}
    entry = record.append(OPENED, body, {"trainee": trainee, "reasons": reasons.strip()})
    return Appeal(trainee, entry, str(body["outcome"]))


def close_appeal(
    cohort: Cohort,
    trainee: str,
    *,
    by: str,
    statement: str,
    award: bool | None = None,
    dry_run: bool = False,
    today: date | None = None,
) -> Decision:
    """Decide anew after the work was marked again.

    Parameters
    ----------
    cohort : Cohort
        With the marks of the second marking in the gradebook.
    trainee : str
        Whose appeal.
    by, statement : str
        Who heard it, somebody else than decided before, and why.
    award : bool, optional
        What that person decides if the marks are borderline again; otherwise the rule decides.
    dry_run : bool
        Write nothing.
    today : date, optional
        Day of the new decision.

    Returns
    -------
    Decision
        The new decision, with the appeal among its reasons.

    Raises
    ------
    AwardError, CohortError
        If no appeal is open, the same person decided before, or reasons are missing.
    """
    record = Places.of(cohort).record
    appeal = next((one for one in open_appeals(record) if one.trainee == trainee), None)
    if appeal is None:
        raise CohortError(f"no appeal of {trainee!r} is open; record it first: appeal open")
    first_entry, personal = _appealed(record, appeal)
    decisions = decide_cohort(cohort, dry_run=True, today=today)
    if not decisions.standard.recorded:
        raise CohortError("the standard is not on record as it would be now; decide first")
    stand = standing(cohort)
    attempt = min(attempt_by_trainee(stand)[trainee], decisions.blueprint.attempts)
    day = today or datetime.now(UTC).date()
    rule = decide(
        mark_table(stand, decisions.blueprint),
        trainee,
        decisions.blueprint,
        decisions.standard.standard,
        attempt=attempt,
        on=day,
    )
    if award is not None and rule.outcome is Outcome.BORDERLINE:
        rule = settle(rule, award=award, by=by, statement=statement)
    first = _first(rule, first_entry, personal)
    decision = after_appeal(
        first, rule, by=by, statement=statement, on=date.fromisoformat(str(appeal.entry.body["on"]))
    )
    if not dry_run:
        entry = record.append_once(DECISION, decision.public(), decision.personal())
        body = {"appeal": appeal.entry.hash, "decision": entry.hash, "before": appeal.outcome}
        heard = {"trainee": trainee, "by": by.strip(), "statement": statement.strip()}
        record.append_once(CLOSED, body | {"after": str(decision.outcome)}, heard)
    return decision


def _appealed(record: Record, appeal: Appeal) -> tuple[Entry, Mapping[str, Any]]:
    found = next(entry for entry in record.entries() if entry.hash == appeal.entry.body["decision"])
    return found, record.personal(found.n) or {}


def _first(like: Decision, entry: Entry, personal: Mapping[str, Any]) -> Decision:
    """Bring back of the first decision what an appeal has to know."""
    return replace(
        like,
        attempt=int(entry.body["attempt"]),
        outcome=Outcome(entry.body["outcome"]),
        appeal_until=str(entry.body["appeal_until"]),
        decided_by=str(personal.get("decided_by", "")),
    )
