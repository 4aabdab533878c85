"""Bring nbgrader's folders and its gradebook into step with the records."""

from __future__ import annotations

from autograde.cohort.attempts import counting, marks_of_attempts
from autograde.cohort.autograded import write_autograded
from autograde.cohort.collect import attempts_collected, put_in_place
from autograde.cohort.families import load_case
from autograde.cohort.folder import BEST, Cohort
from autograde.cohort.gradebook_marks import note_what_people_gave, write_marks

__all__ = ["bring_in_step", "refresh"]


def bring_in_step(cohort: Cohort) -> int:
    """Let gradebook and folders show the attempts that count.

    Parameters
    ----------
    cohort : Cohort
        Marked.

    Returns
    -------
    int
        Submissions written into the gradebook. What is in step already is left alone, and what people gave is put into
        the record first.
    """
    if cohort.settings.attempt_that_counts == BEST:
        note_what_people_gave(cohort)  # before choosing: the best attempt hangs on it
    records = marks_of_attempts(cohort)
    chosen = counting(cohort, records)
    several = {key[:2] for key in records if key[2] > 1}
    collected = attempts_collected(cohort)
    several = {who for who in several if (*who, chosen[who]) in collected}
    put_in_place(cohort, {who: collected[(*who, chosen[who])] for who in several})
    for who in several:
        record = records[(*who, chosen[who])]
        trainee, case = who
        told = cohort.root / "autograded" / trainee / case / "timestamp.txt"
        stamp = record["arrived"].replace("T", " ").replace("+00:00", " UTC")
        if not told.exists() or told.read_text(encoding="ascii", errors="replace") != stamp:
            write_autograded(cohort.root, load_case(case, cohort.settings.case_folders), record, cohort.secret)
    return write_marks(cohort, [records[(*who, attempt)] for who, attempt in chosen.items()])


def refresh(cohort: Cohort) -> None:
    """Put what people gave into the record; where a trainee has several attempts, show the one that counts now.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    """
    if any(key[2] > 1 for key in attempts_collected(cohort)):
        bring_in_step(cohort)
    else:
        note_what_people_gave(cohort)
