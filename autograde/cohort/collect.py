"""Collect: take submissions from the inbox, refuse what is unsafe, keep every version."""

from __future__ import annotations

import hashlib
import re
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath
from typing import Any

from autograde.cohort.errors import CohortError
from autograde.cohort.files import append_records, read_bounded, read_records, write_bytes, write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.text import plain

__all__ = ["Collected", "Found", "collect", "current_submissions"]

MOST_IN_A_ZIP = 20_000
MOST_ZIP_BYTES = 2_000_000_000
COPY_MARK = re.compile(r"(?: ?\(\d{1,3}\)|-Copy\d{1,3})+\Z")
"""What a browser or a notebook server adds to the name of a second copy."""
PASSED_OVER = frozenset({".DS_Store", "Thumbs.db", "__MACOSX", ".ipynb_checkpoints"})


@dataclass(frozen=True)
class Found:
    """One notebook found in the inbox, or the reason why a file was refused."""

    source: str
    trainee: str = ""
    case: str = ""
    content: bytes = b""
    modified: str = ""
    refused: str = ""


@dataclass(frozen=True)
class Collected:
    """What happened to one file: ``taken``, ``newer version``, ``kept before`` or ``refused``."""

    source: str
    trainee: str
    case: str
    what: str
    reason: str = ""


def look(cohort: Cohort) -> Iterator[Found]:
    """Look through the inbox without taking anything.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Yields
    ------
    Found
        One for each file, the oldest first within a folder or archive.
    """
    finds = [(path.lstat().st_mtime, path) for path in _files(cohort.inbox)]
    for modified, path in sorted(finds, key=lambda find: (find[0], str(find[1]))):
        name = path.relative_to(cohort.inbox).as_posix()
        if path.suffix.lower() == ".zip" and not path.is_symlink():
            yield from _look_in_zip(cohort, path, name)
        else:
            yield _look_at_file(cohort, path, name, modified)


def _files(folder: Path) -> Iterator[Path]:
    for path in sorted(folder.iterdir()):
        if path.name in PASSED_OVER:
            continue
        if path.is_dir() and not path.is_symlink():
            yield from _files(path)
        else:
            yield path


def _look_at_file(cohort: Cohort, path: Path, name: str, modified: float) -> Found:
    try:
        trainee, case = _whose(cohort, name)
        content = read_bounded(path, cohort.limit_bytes)
    except (CohortError, OSError) as trouble:
        return Found(plain(name, 200), refused=plain(str(trouble), 300))
    return Found(plain(name, 200), trainee, case, content, datetime.fromtimestamp(modified, UTC).isoformat())


def _look_in_zip(cohort: Cohort, path: Path, name: str) -> Iterator[Found]:
    try:
        if path.stat().st_size > MOST_ZIP_BYTES:
            raise CohortError("the archive is larger than 2 GB; split it")
        with zipfile.ZipFile(path) as archive:
            entries = [entry for entry in archive.infolist() if not entry.is_dir()]
            if len(entries) > MOST_IN_A_ZIP or sum(entry.file_size for entry in entries) > MOST_ZIP_BYTES:
                raise CohortError(f"the archive unpacks to more than {MOST_IN_A_ZIP} files or 2 GB; split it")
            for entry in sorted(entries, key=lambda e: (e.date_time, e.filename)):
                if PASSED_OVER.isdisjoint(PurePosixPath(entry.filename).parts):
                    yield _look_at_entry(cohort, archive, entry, name)
    except (CohortError, OSError, zipfile.BadZipFile, NotImplementedError, ValueError) as trouble:
        yield Found(plain(name, 200), refused=plain(f"the archive cannot be read: {trouble}", 300))


def _look_at_entry(cohort: Cohort, archive: zipfile.ZipFile, entry: zipfile.ZipInfo, name: str) -> Found:
    source = f"{name}:{entry.filename}"
    try:
        if (entry.external_attr >> 16) & 0o170000 == 0o120000:
            raise CohortError("is a symbolic link; only real files are taken")
        trainee, case = _whose(cohort, entry.filename)
        with archive.open(entry) as stream:
            content = stream.read(cohort.limit_bytes + 1)
        if len(content) > cohort.limit_bytes:
            raise CohortError(
                f"is larger than the limit of {cohort.settings.submission_limit_mb:g} MB set in cohort.toml"
            )
        modified = datetime(*entry.date_time, tzinfo=UTC).isoformat()
    except Exception as trouble:  # a damaged or hostile entry fails in many ways; the others are still taken
        return Found(plain(source, 200), refused=plain(str(trouble) or type(trouble).__name__, 300))
    return Found(plain(source, 200), trainee, case, content, modified)


def _whose(cohort: Cohort, name: str) -> tuple[str, str]:
    """Tell trainee and case from ``<trainee>/<case>/<file>.ipynb`` or ``<trainee>__<case>.ipynb``."""
    path = PurePosixPath(name)
    if "\\" in name or "\0" in name or path.is_absolute() or ".." in path.parts:
        raise CohortError("its name leads out of the inbox")
    if path.suffix.lower() != ".ipynb":
        raise CohortError("is not a notebook (its name does not end in .ipynb)")
    known_trainees = {trainee.id for trainee in cohort.trainees}
    if "__" in path.name:
        trainee, _, case = path.stem.partition("__")
        case = COPY_MARK.sub("", case)
    elif len(path.parts) >= 3:
        trainee, case = path.parts[-3:-1]
    else:
        raise CohortError("says not whose it is: name it TRAINEE__CASE.ipynb or put it in TRAINEE/CASE/")
    if trainee not in known_trainees:
        raise CohortError(f"nobody on the roster has the id {plain(trainee, 60)!r}")
    if case not in cohort.settings.cases:
        raise CohortError(f"this cohort has no case {plain(case, 60)!r}")
    return trainee, case


def current_submissions(cohort: Cohort) -> dict[tuple[str, str], dict[str, Any]]:
    """Read which version of each submission counts: the one that arrived last.

    Parameters
    ----------
    cohort : Cohort
        The cohort.

    Returns
    -------
    dict
        The latest collecting record for each trainee and case.
    """
    return {(line["trainee"], line["case"]): line for line in read_records(cohort.record("collected"))}


def collect(cohort: Cohort, *, dry_run: bool = False, now: datetime | None = None) -> list[Collected]:
    """Take in what is new in the inbox; the inbox itself is left as it is.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    dry_run : bool
        Only say what would be taken.
    now : datetime, optional
        Time of arrival to record.

    Returns
    -------
    list of Collected
        One for each file found.

    Notes
    -----
    Every version ever taken stays in ``collected/``. The version that arrived last counts; the same file seen
    again changes nothing.
    """
    arrived = (now or datetime.now(UTC)).isoformat(timespec="microseconds")
    seen: set[tuple[str, str, str, str]] = set()
    versions: set[tuple[str, str, str]] = set()
    current: dict[tuple[str, str], dict[str, Any]] = {}
    for line in read_records(cohort.record("collected")):
        seen.add((line["trainee"], line["case"], line["sha256"], line["modified"]))
        versions.add((line["trainee"], line["case"], line["sha256"]))
        current[line["trainee"], line["case"]] = line
    outcome = []
    for found in look(cohort):
        if found.refused:
            outcome.append(Collected(found.source, "", "", "refused", found.refused))
            continue
        record = _record(found, arrived)
        who = (found.trainee, found.case)
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
        what = "kept before" if again else "newer version" if latest else "taken"
        outcome.append(Collected(found.source, *who, what))
        if not again:
            current[who] = record
            versions.add((*who, record["sha256"]))
            if not dry_run:
                _keep(cohort, found, record)
    if not dry_run:
        _note_refusals(cohort, outcome, arrived)
        _settle(cohort)
    return outcome


def _record(found: Found, arrived: str) -> dict[str, Any]:
    return {
        "trainee": found.trainee,
        "case": found.case,
        "attempt": 1,
        "sha256": hashlib.sha256(found.content).hexdigest(),
        "source": found.source,
        "modified": found.modified,
        "arrived": arrived,
    }


def version_path(cohort: Cohort, record: dict[str, Any]) -> Path:
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


def _settle(cohort: Cohort) -> None:
    """Put the version that counts where nbgrader looks for it; also mends what an interruption left."""
    for (trainee, case), record in current_submissions(cohort).items():
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
