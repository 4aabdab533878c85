"""What a person decides: borderline cases and appeals."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from autograde.award.errors import AwardError
from autograde.award.outcome import Decision, Outcome, next_step

__all__ = ["ON_APPEAL", "after_appeal", "settle"]

ON_APPEAL = "Marked again on appeal by another person"
"""Begins the reason that tells of an appeal."""


def settle(decision: Decision, *, award: bool, by: str, statement: str) -> Decision:
    """Let a person decide a borderline case.

    Parameters
    ----------
    decision : Decision
        With the outcome borderline.
    award : bool
        What the person decides.
    by : str
        Who decides.
    statement : str
        Why, in the person's own words.

    Returns
    -------
    Decision
        The same attempt with the person's outcome.

    Raises
    ------
    AwardError
        If the decision is not borderline, or name or reasons are missing. A gate, a missed minimum or outstanding
        work is never settled away: it takes other marks.
    """
    if decision.outcome is not Outcome.BORDERLINE:
        raise AwardError(f"only a borderline result is settled by a person; this one is: {decision.outcome}")
    _signed(by, statement)
    outcome = Outcome.AWARD if award else Outcome.NOT_YET
    verdict = "awards" if award else "decides: not yet"
    return replace(
        decision,
        outcome=outcome,
        reasons=(*decision.reasons, f"A person looked at the work and {verdict}; the words are kept with the record."),
        next_step=next_step(outcome, decision.attempt, decision.attempts_allowed),
        decided_by=by.strip(),
        statement=statement.strip(),
    )


def after_appeal(first: Decision, second: Decision, *, by: str, statement: str, on: date) -> Decision:
    """Close an appeal: the work was marked again by another person.

    Parameters
    ----------
    first : Decision
        The one appealed against.
    second : Decision
        What the rules give with the marks of the second marking; equal outcome means the first is upheld.
    by : str
        Who heard the appeal; somebody else than decided before.
    statement : str
        Why, in that person's words.
    on : date
        Day on which the appeal was made.

    Returns
    -------
    Decision
        `second`, with the appeal among its reasons.

    Raises
    ------
    AwardError
        If the appeal came too late, concerns another attempt, or was heard by the same person.
    """
    if (first.trainee, first.attempt) != (second.trainee, second.attempt):
        raise AwardError("the second marking belongs to another trainee or attempt; mark the same attempt again")
    if on > date.fromisoformat(first.appeal_until):
        raise AwardError(f"the appeal was made on {on.isoformat()}; it was open until {first.appeal_until}")
    _signed(by, statement)
    if first.decided_by and by.strip() == first.decided_by:
        raise AwardError(f"{by.strip()} decided before; an appeal is heard by somebody else")
    kept = "upheld" if first.outcome is second.outcome else f"changed from: {first.outcome}"
    return replace(
        second,
        reasons=(*second.reasons, f"{ON_APPEAL}; the first decision is {kept}."),
        decided_by=by.strip(),
        statement=statement.strip(),
    )


def _signed(by: str, statement: str) -> None:
    if not by.strip() or len(statement.strip()) < 10:
        raise AwardError("a person's decision needs a name and reasons of at least ten characters")
