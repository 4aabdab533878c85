"""Mark what was collected: every submission ends in a record, whatever it holds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from autograde.cases import Family, seeded_variant, trainee_variant
from autograde.cohort.attempts import counting, marks_of_attempts
from autograde.cohort.autograded import write_autograded
from autograde.cohort.collect import attempts_collected, version_path
from autograde.cohort.errors import CohortError
from autograde.cohort.families import load_case, stamp
from autograde.cohort.files import append_records, read_bounded
from autograde.cohort.folder import Cohort
from autograde.cohort.handout import attempts_handed_out
from autograde.cohort.read import Sheet, read_sheet
from autograde.cohort.text import plain
from autograde.cohort.workers import Runner, in_this_process
from autograde.marking import SheetResult, State, TaskResult, mark_sheet

__all__ = ["MarkingJob", "mark_all", "mark_bytes", "mark_content", "marked", "show_marked", "to_mark"]

Record = dict[str, Any]
BATCH = 50
"""Submissions between two writes of the record."""
FOR_A_PERSON = "A person will look at this; nothing is lost."


@dataclass(frozen=True)
class MarkingJob:
    """One submission to mark, as plain data that can travel to another process."""

    root: Path
    trainee: str
    case: str
    attempt: int
    path: Path
    sha256: str
    arrived: str
    fingerprint: str
    secret: bytes
    folders: tuple[str, ...]
    limit_bytes: int
    shown: bool = True
    """Whether the gradebook shows this attempt, so that a person finds it in ``autograded/``."""
    seed: bytes = field(default=b"", repr=False)
    """Of this one variant, where the job travels to another machine and the secret does not."""

    def __repr__(self) -> str:
        """Name the job without its secret."""
        return f"MarkingJob({self.trainee!r}, {self.case!r}, {self.attempt})"


def marked(cohort: Cohort) -> dict[tuple[str, str], Record]:
    """Read the marks that count: the latest record of the attempt that counts, for each trainee and case.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        Records by trainee id and case name.
    """
    records = marks_of_attempts(cohort)
    return {who: records[(*who, attempt)] for who, attempt in counting(cohort, records).items()}


def to_mark(cohort: Cohort, *, again: bool = False) -> list[MarkingJob]:
    """List the submissions whose latest version is not marked yet with this edition of its case.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    again : bool
        List every submission.

    Returns
    -------
    list of MarkingJob
        In the order of the roster.
    """
    done, given = marks_of_attempts(cohort), attempts_handed_out(cohort)
    folders = cohort.settings.case_folders
    handed_in: dict[tuple[str, str], list[Record]] = {}
    for (trainee_id, case, _), submission in sorted(attempts_collected(cohort).items()):
        handed_in.setdefault((trainee_id, case), []).append(submission)
    todo = []
    for case in cohort.settings.cases:
        for trainee in cohort.trainees:
            attempts = handed_in.get((trainee.id, case), [])
            for submission in attempts:
                key = (trainee.id, case, submission["attempt"])
                record, shown = done.get(key), submission is attempts[-1]
                version = (submission["sha256"], submission["arrived"], stamp(case, folders))
                settled = record and version == (record["sha256"], record["arrived"], record["edition"])
                there = not shown or cohort.notebook("autograded", trainee.id, case).exists()
                if settled and there and not again:
                    continue
                todo.append(_job(cohort, submission, given.get(key, {}).get("fingerprint", ""), shown))
    return todo


def _job(cohort: Cohort, submission: Record, fingerprint: str, shown: bool) -> MarkingJob:
    return MarkingJob(
        root=cohort.root,
        trainee=submission["trainee"],
        case=submission["case"],
        attempt=submission["attempt"],
        path=version_path(cohort, submission),
        sha256=submission["sha256"],
        arrived=submission["arrived"],
        fingerprint=fingerprint,
        secret=cohort.secret,
        folders=cohort.settings.case_folders,
        limit_bytes=cohort.limit_bytes,
        shown=shown,
    )


def mark_all(
    cohort: Cohort,
    todo: list[MarkingJob],
    *,
    runner: Runner = in_this_process,
    progress: Callable[[int, int], None] = lambda _done, _all: None,
) -> Iterator[Record]:
    """Mark submissions and append each mark to the record.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    todo : list of MarkingJob
        From `to_mark`.
    runner : callable
        Does the jobs, here or side by side.
    progress : callable
        Told how many of how many are done.

    Yields
    ------
    dict
        The record of each submission, once it is on disk.
    """
    batch: list[Record] = []
    for count, record in enumerate(runner(mark_submission, todo), start=1):
        batch.append(record)
        progress(count, len(todo))
        if len(batch) == BATCH or count == len(todo):
            append_records(cohort.record("marks"), batch)
            yield from batch
            batch.clear()


def mark_submission(job: MarkingJob) -> Record:
    """Mark one submission and write the notebook a person would open to mark by hand.

    Parameters
    ----------
    job : MarkingJob
        Which.

    Returns
    -------
    dict
        The record. Whatever goes wrong is in it, with the state *not gradable* for every task concerned.
    """
    return show_marked(job, mark_bytes(job, lambda: read_bounded(job.path, job.limit_bytes)))


def mark_bytes(job: MarkingJob, read: Callable[[], bytes]) -> Record:
    """Mark one submission and write nothing.

    Parameters
    ----------
    job : MarkingJob
        Which.
    read : callable
        Gives the notebook as it was handed in.

    Returns
    -------
    dict
        The record, as of `mark_submission`.
    """
    family = load_case(job.case, job.folders)
    try:
        sheet, result = mark_content(family, job, read())
    except Exception as trouble:  # marking fails closed: no submission may stop the batch or earn marks by a crash
        sheet = Sheet(trouble=f"marking stopped ({type(trouble).__name__}: {plain(str(trouble), 200)})")
        result = _all_not_gradable(family, sheet.trouble)
    return _record(family, job, sheet, result)


def show_marked(job: MarkingJob, record: Record) -> Record:
    """Write the notebook a person would open, if the gradebook shows this attempt; returns the record."""
    if job.shown:
        write_autograded(job.root, load_case(job.case, job.folders), record, job.secret)
    return record


def mark_content(family: Family, job: MarkingJob, content: bytes) -> tuple[Sheet, SheetResult]:
    """Mark the content of one submission.

    Parameters
    ----------
    family : Family
        The case family.
    job : MarkingJob
        Whose submission it is; its variant is drawn again from the secret.
    content : bytes
        The notebook as it was handed in.

    Returns
    -------
    sheet : Sheet
        What was read.
    result : SheetResult
        What it is worth.
    """
    sheet = read_sheet(content, family.tasks, job.trainee, job.case)
    if sheet.trouble:
        return sheet, _all_not_gradable(family, sheet.trouble)
    if job.seed:
        variant = seeded_variant(family, job.seed)
    else:
        variant = trainee_variant(family, job.secret, job.trainee, job.attempt)
    if not job.fingerprint:
        raise CohortError("this case was never handed out to this trainee from this folder")
    if variant.fingerprint != job.fingerprint:
        raise CohortError("the case has changed since it was handed out, and its numbers no longer fit the notebook")
    typed = {task.id: sheet.answers.get(task.id) for task in family.tasks}
    result = mark_sheet(family.tasks, family.misconceptions, variant.case, typed)
    return sheet, _with_problems(result, sheet)


def _with_problems(result: SheetResult, sheet: Sheet) -> SheetResult:
    return SheetResult(
        tuple(
            _not_gradable(item, sheet.problems[item.task]) if item.task in sheet.problems else item
            for item in result.results
        )
    )


def _not_gradable(result: TaskResult, reason: str) -> TaskResult:
    return replace(
        result,
        state=State.NOT_GRADABLE,
        marks=None,
        reason=reason,
        misconception=None,
        feedback=f"This could not be marked: {reason}. {FOR_A_PERSON}",
        read_value=None,
        read_as="",
    )


def _all_not_gradable(family: Family, reason: str) -> SheetResult:
    return SheetResult(
        tuple(
            TaskResult(
                task=task.id,
                state=State.NOT_GRADABLE,
                marks=None,
                max_marks=task.marks,
                reason=reason,
                misconception=None,
                feedback=f"This could not be marked: {reason}. {FOR_A_PERSON}",
                page=task.page,
                read_value=None,
                by_hand=task.by_hand,
            )
            for task in family.tasks
        )
    )


def _record(family: Family, job: MarkingJob, sheet: Sheet, result: SheetResult) -> Record:
    return {
        "trainee": job.trainee,
        "case": job.case,
        "attempt": job.attempt,
        "sha256": job.sha256,
        "arrived": job.arrived,
        "edition": stamp(job.case, job.folders),
        "trouble": sheet.trouble,
        "notices": list(sheet.notices),
        "marks": result.marks,
        "max_marks": result.max_marks,
        "results": [
            {
                "task": item.task,
                "state": str(item.state),
                "marks": item.marks,
                "max_marks": item.max_marks,
                "reason": plain(item.reason),
                "misconception": item.misconception,
                "feedback": plain(item.feedback),
                "page": item.page,
                "by_hand": item.by_hand,
                "read_as": plain(item.read_as, 200),
                "typed": plain(sheet.answers.get(item.task, ""), 20_000),
                "left_empty": not sheet.answers.get(item.task, "-").strip(),
            }
            for item in result.results
        ],
    }
