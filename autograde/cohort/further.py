"""Who may have a further attempt at a case, with numbers of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from autograde.cohort.attempts import marks_of_attempts
from autograde.cohort.collect import attempts_collected, last_attempts
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import Cohort

__all__ = ["Further", "plan_further"]


@dataclass(frozen=True)
class Further:
    """Attempts to hand out by trainee and case, and why others are not."""

    attempts: Mapping[tuple[str, str], int]
    refused: Mapping[tuple[str, str], str]


def plan_further(cohort: Cohort, wanted: Iterable[tuple[str, str]], *, allowed: int) -> Further:
    """Work out further attempts; nothing is written.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    wanted : iterable of (str, str)
        Trainee ids and case names.
    allowed : int
        Attempts that the blueprint allows in all.

    Returns
    -------
    Further
        A further attempt opens when the one before was handed in and marked. Asked for again before that, the open one
        is given again and no other; so the command can be repeated.

    Raises
    ------
    CohortError
        If a trainee or a case is not of this cohort.
    """
    given, handed_in, marks = last_attempts(cohort), attempts_collected(cohort), marks_of_attempts(cohort)
    ids = {trainee.id for trainee in cohort.trainees}
    attempts: dict[tuple[str, str], int] = {}
    refused: dict[tuple[str, str], str] = {}
    for who in dict.fromkeys(wanted):
        if who[0] not in ids:
            raise CohortError(f"nobody on the roster has the id {who[0]!r}")
        if who[1] not in cohort.settings.cases:
            raise CohortError(f"this cohort has no case {who[1]!r}; its cases: {', '.join(cohort.settings.cases)}")
        last = given.get(who, 0)
        if last == 0:
            refused[who] = "the first attempt is not handed out yet"
        elif (*who, last) not in handed_in:
            refused[who] = f"attempt {last} is open: not handed in yet"
        elif (*who, last) not in marks:
            refused[who] = f"attempt {last} is not marked yet"
        elif last >= allowed:
            refused[who] = f"all {allowed} attempts that the blueprint allows are used"
        else:
            attempts[who] = last + 1
    return Further(attempts, refused)
