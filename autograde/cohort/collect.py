"""Collect: take submissions from the inbox, refuse what is unsafe, keep every version."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from autograde.cohort.errors import CohortError
from autograde.cohort.files import append_records, read_records, write_bytes, write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.handout import attempts_handed_out
from autograde.cohort.inbox import Found, how_many, look
from autograde.cohort.whose import attempt_label

__all__ = ["Collected", "attempts_collected", "collect", "current_submissions", "last_attempts", "put_in_place"]


@dataclass(frozen=True)
class Collected:
    """What happened to one file: ``taken``, ``newer version``, ``kept before`` or ``refused``."""

    source: str
    trainee: str
    case: str
    what: str
    reason: str = ""
    attempt: int = 1


def current_submissions(cohort: Cohort) -> dict[tuple[str, str], dict[str, Any]]:
    """Read what was handed in last: of the last attempt, the version that arrived last.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        The latest collecting record for each trainee and case.
    """
    done = attempts_collected(cohort)
    return {(key[0], key[1]): done[key] for key in sorted(done, key=lambda key: key[2])}


def attempts_collected(cohort: Cohort) -> dict[tuple[str, str, int], dict[str, Any]]:
    """Read which version of each attempt is the last.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        The latest collecting record by trainee, case and attempt.
    """
    lines = read_records(cohort.record("collected"))
    return {(line["trainee"], line["case"], line["attempt"]): line for line in lines}


def collect(
    cohort: Cohort,
    folder: Path | None = None,
    *,
    dry_run: bool = False,
    now: datetime | None = None,
    progress: Callable[[int, int], None] = lambda _done, _all: None,
) -> list[Collected]:
    """Take in what is new in the inbox; the inbox itself is left as it is.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    folder : Path, optional
        Another folder, or a zip archive, to look through in place of the inbox.
    dry_run : bool
        Only say what would be taken.
    now : datetime, optional
        Time of arrival to record.
    progress : callable
        Told how many files of how many are looked at.

    Returns
    -------
    list of Collected
        One for each file found.

    Notes
    -----
    Every version ever taken stays in ``collected/``. Within an attempt the version that arrived last counts; the
    same file seen again changes nothing. An attempt is closed once a further one was handed out.
    """
    now = now or datetime.now(UTC)
    seen: set[tuple[str, str, int, str, str]] = set()
    versions: set[tuple[str, str, int, str]] = set()
    current: dict[tuple[str, str, int], dict[str, Any]] = {}
    for line in read_records(cohort.record("collected")):
        who = line["trainee"], line["case"], line["attempt"]
        seen.add((*who, line["sha256"], line["modified"]))
        versions.add((*who, line["sha256"]))
        current[who] = line
    given = last_attempts(cohort)
    outcome: list[Collected] = []
    of_all = how_many(cohort, folder)
    for found in look(cohort, folder):
        progress(len(outcome) + 1, of_all)
        if found.refused:
            outcome.append(Collected(found.source, "", "", "refused", found.refused))
            continue
        last = given.get((found.trainee, found.case), 1)
        attempt = (attempt_label(found.content) or last) if last > 1 else 1
        record = _record(found, attempt, now)
        who = (found.trainee, found.case, attempt)
        closed = _closed(attempt, last)
        if closed and (*who, record["sha256"]) not in versions:
            outcome.append(Collected(found.source, "", "", "refused", closed))
            continue
        latest = current.get(who)
        again = (
            (*who, record["sha256"]) in versions
            and latest is not None
            and (
                (*who, record["sha256"], record["modified"]) in seen
                or record["sha256"] == latest["sha256"]
                or record["modified"] <= latest["modified"]
            )
        )
        again = again or bool(closed)
        what = "kept before" if again else "newer version" if latest else "taken"
        outcome.append(Collected(found.source, found.trainee, found.case, what, attempt=attempt))
        if not again:
            current[who] = record
            versions.add((*who, record["sha256"]))
            if not dry_run:
                _keep(cohort, found, record)
    if not dry_run:
        _note_refusals(cohort, outcome, now.isoformat(timespec="microseconds"))
        put_in_place(cohort, current_submissions(cohort))
    return outcome


def last_attempts(cohort: Cohort) -> dict[tuple[str, str], int]:
    """Tell the last attempt that was handed out, by trainee and case."""
    return {(trainee, case): n for trainee, case, n in sorted(attempts_handed_out(cohort), key=lambda key: key[2])}


def _closed(attempt: int, last: int) -> str:
    if attempt > last:
        return f"says that it is attempt {attempt}; the last one handed out is attempt {last}"
    return f"is of attempt {attempt}, which was closed when attempt {last} was handed out" if attempt < last else ""


def _record(found: Found, attempt: int, now: datetime) -> dict[str, Any]:
    # the gradebook knows an attempt by its time of arrival, so two attempts never share one
    arrived = (now + timedelta(microseconds=attempt - 1)).isoformat(timespec="microseconds")
    return {
        "trainee": found.trainee,
        "case": found.case,
        "attempt": attempt,
        "sha256": hashlib.sha256(found.content).hexdigest(),
        "source": found.source,
        "modified": found.modified,
        "arrived": arrived,
    }


def version_path(cohort: Cohort, record: Mapping[str, Any]) -> Path:
    """Name the place where a version of a submission is kept for good.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    record : dict
        The collecting record of that version.

    Returns
    -------
    Path
        A file named after its content.
    """
    name = f"{record['sha256'][:32]}.ipynb"
    return cohort.root / "collected" / str(record["trainee"]) / str(record["case"]) / name


def _keep(cohort: Cohort, found: Found, record: dict[str, Any]) -> None:
    path = version_path(cohort, record)
    if not path.exists():
        write_bytes(path, found.content, mode=0o600)
    append_records(cohort.record("collected"), [record])


def put_in_place(cohort: Cohort, records: Mapping[tuple[str, str], Mapping[str, Any]]) -> None:
    """Put versions where nbgrader looks for them; also mends what an interruption left.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    records : mapping
        The collecting record that is to be shown, by trainee and case.
    """
    for (trainee, case), record in records.items():
        target = cohort.notebook("submitted", trainee, case)
        stamp = target.parent / "timestamp.txt"
        arrived = record["arrived"].replace("T", " ").replace("+00:00", " UTC")
        if target.exists() and stamp.exists() and stamp.read_text(encoding="ascii", errors="replace") == arrived:
            continue
        kept = version_path(cohort, record)
        if not kept.exists():
            raise CohortError(f"{kept} is gone, though it was collected; put it back from a copy")
        write_bytes(target, kept.read_bytes())
        write_text(stamp, arrived)


def _note_refusals(cohort: Cohort, outcome: list[Collected], arrived: str) -> None:
    known = {(line["source"], line["reason"]) for line in read_records(cohort.record("refused"))}
    append_records(
        cohort.record("refused"),
        [
            {"source": item.source, "reason": item.reason, "arrived": arrived}
            for item in outcome
            if item.what == "refused" and (item.source, item.reason) not in known
        ],
    )
