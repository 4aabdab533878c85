"""Which of a trainee's attempts at a case counts.

Which one does is a setting of the cohort, ``attempt_that_counts``. With ``last`` it is the last attempt handed in. With
``best`` it is the one with most marks, among those marked to the end; while the last one is not, that one counts, so
that the form for hand marking shows it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from autograde.cohort.files import read_records
from autograde.cohort.folder import BEST, Cohort
from autograde.cohort.hand_record import HandLine, Key, moment, recorded_hand_marks

__all__ = ["counting", "marks_of_attempts", "total_marks"]

Record = Mapping[str, Any]


def marks_of_attempts(cohort: Cohort) -> dict[Key, dict[str, Any]]:
    """Read the marks of every attempt.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        The latest record by trainee, case and attempt.
    """
    return {(line["trainee"], line["case"], line["attempt"]): line for line in read_records(cohort.record("marks"))}


def counting(cohort: Cohort, records: Mapping[Key, Record]) -> dict[tuple[str, str], int]:
    """Choose the attempt that counts.

    Parameters
    ----------
    cohort : Cohort
        Its settings hold the policy.
    records : mapping
        From `marks_of_attempts`.

    Returns
    -------
    dict
        The attempt by trainee and case.
    """
    by_case: dict[tuple[str, str], list[int]] = {}
    for trainee, case, attempt in records:
        by_case.setdefault((trainee, case), []).append(attempt)
    chosen = {who: max(attempts) for who, attempts in by_case.items()}
    several = [who for who, attempts in by_case.items() if len(attempts) > 1]
    if cohort.settings.attempt_that_counts != BEST or not several:
        return chosen
    given = recorded_hand_marks(cohort)
    for who in several:
        keys = [(*who, attempt) for attempt in by_case[who]]
        totals = {key[2]: total_marks(records[key], given.get(key, {})) for key in keys}
        known = {attempt: total for attempt, total in totals.items() if total is not None}
        if chosen[who] in known:
            chosen[who] = max(known, key=lambda attempt: (known[attempt], attempt))
    return chosen


def total_marks(record: Record, given: Mapping[str, HandLine]) -> float | None:
    """Add up the marks of an attempt.

    Parameters
    ----------
    record : mapping
        What marking found.
    given : mapping
        What people gave, by task id.

    Returns
    -------
    float or None
        None while a task waits for a person.
    """
    marks = []
    for result in record["results"]:
        line = given.get(result["task"])
        mark = result["marks"]
        if line is not None and line.manual is not None:
            mark = line.manual if moment(line.arrived) == moment(record["arrived"]) else None
        if line is not None and line.extra:
            mark = (mark or 0.0) + line.extra
        marks.append(mark)
    return None if any(mark is None for mark in marks) else round(math.fsum(m for m in marks if m is not None), 6)
