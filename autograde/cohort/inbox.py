"""Look through what was handed in: files, folders and archives, each told whose it is or why it is refused."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath

from autograde.cohort.errors import CohortError
from autograde.cohort.files import read_bounded
from autograde.cohort.folder import Cohort
from autograde.cohort.text import plain
from autograde.cohort.whose import exchange_time, whose

__all__ = ["Found", "how_many", "look"]

MOST_IN_A_ZIP = 20_000
MOST_ZIP_BYTES = 2_000_000_000
PASSED_OVER = frozenset({".DS_Store", "Thumbs.db", "__MACOSX", ".ipynb_checkpoints", "timestamp.txt"})


@dataclass(frozen=True)
class Found:
    """One notebook found in the inbox, or the reason why a file was refused."""

    source: str
    trainee: str = ""
    case: str = ""
    content: bytes = b""
    modified: str = ""
    refused: str = ""


def look(cohort: Cohort, folder: Path | None = None) -> Iterator[Found]:
    """Look through the inbox without taking anything.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    folder : Path, optional
        Another folder, or a zip archive, in place of the inbox.

    Yields
    ------
    Found
        One for each file, the oldest first within a folder or archive.
    """
    folder = folder or cohort.inbox
    if not folder.exists():
        raise CohortError(f"there is no {folder}; give a folder or a zip archive with what was handed in")
    ids = frozenset(trainee.id for trainee in cohort.trainees)
    files = _files(folder) if folder.is_dir() else [folder]
    above = folder if folder.is_dir() else folder.parent
    names = ((path, path.relative_to(above).as_posix()) for path in files)
    finds = [(exchange_time(name) or _written(path), name, path) for path, name in names]
    for modified, name, path in sorted(finds):
        if path.suffix.lower() == ".zip" and not path.is_symlink():
            yield from _look_in_zip(cohort, ids, path, name)
        else:
            yield _look_at_file(cohort, ids, path, name, modified)


def how_many(cohort: Cohort, folder: Path | None = None) -> int:
    """Count the files that `look` will go through, those in archives included.

    Parameters
    ----------
    cohort : Cohort
        The cohort.
    folder : Path, optional
        In place of the inbox.

    Returns
    -------
    int
        For showing progress; an archive that cannot be read counts as one.
    """
    folder = folder or cohort.inbox
    count = 0
    for path in _files(folder) if folder.is_dir() else [folder]:
        try:
            with zipfile.ZipFile(path) if path.suffix.lower() == ".zip" else nullcontext() as archive:
                count += len(archive.namelist()) if archive else 1
        except (OSError, zipfile.BadZipFile, NotImplementedError, ValueError):
            count += 1
    return count


def _files(folder: Path) -> Iterator[Path]:
    for path in sorted(folder.iterdir()):
        if path.name in PASSED_OVER:
            continue
        if path.is_dir() and not path.is_symlink():
            yield from _files(path)
        else:
            yield path


def _written(path: Path) -> str:
    try:
        return datetime.fromtimestamp(path.lstat().st_mtime, UTC).isoformat()
    except (OverflowError, ValueError, OSError):
        return datetime.fromtimestamp(0, UTC).isoformat()  # a time that no calendar has


def _look_at_file(cohort: Cohort, ids: frozenset[str], path: Path, name: str, modified: str) -> Found:
    try:
        trainee, case = whose(name, ids, cohort.settings.cases)
        content = read_bounded(path, cohort.limit_bytes)
    except (CohortError, OSError) as trouble:
        return Found(plain(name, 200), refused=plain(str(trouble), 300))
    return Found(plain(name, 200), trainee, case, content, modified)


def _look_in_zip(cohort: Cohort, ids: frozenset[str], path: Path, name: str) -> Iterator[Found]:
    try:
        if path.stat().st_size > MOST_ZIP_BYTES:
            raise CohortError("the archive is larger than 2 GB; split it")
        with zipfile.ZipFile(path) as archive:
            entries = [entry for entry in archive.infolist() if not entry.is_dir()]
            if len(entries) > MOST_IN_A_ZIP or sum(entry.file_size for entry in entries) > MOST_ZIP_BYTES:
                raise CohortError(f"the archive unpacks to more than {MOST_IN_A_ZIP} files or 2 GB; split it")
            for entry in sorted(entries, key=_entry_order):
                if PASSED_OVER.isdisjoint(PurePosixPath(entry.filename).parts):
                    yield _look_at_entry(cohort, ids, archive, entry, name)
    except (CohortError, OSError, zipfile.BadZipFile, NotImplementedError, ValueError) as trouble:
        yield Found(plain(name, 200), refused=plain(f"the archive cannot be read: {trouble}", 300))


def _entry_order(entry: zipfile.ZipInfo) -> tuple[str, str]:
    written = "{:04d}-{:02d}-{:02d}T{:02d}:{:02d}:{:02d}".format(*entry.date_time)
    return exchange_time(entry.filename) or written, entry.filename


def _look_at_entry(
    cohort: Cohort, ids: frozenset[str], archive: zipfile.ZipFile, entry: zipfile.ZipInfo, name: str
) -> Found:
    source = f"{name}:{entry.filename}"
    try:
        if (entry.external_attr >> 16) & 0o170000 == 0o120000:
            raise CohortError("is a symbolic link; only real files are taken")
        trainee, case = whose(entry.filename, ids, cohort.settings.cases)
        with archive.open(entry) as stream:
            content = stream.read(cohort.limit_bytes + 1)
        if len(content) > cohort.limit_bytes:
            raise CohortError(
                f"is larger than the limit of {cohort.settings.submission_limit_mb:g} MB set in cohort.toml"
            )
        modified = exchange_time(entry.filename) or datetime(*entry.date_time, tzinfo=UTC).isoformat()
    except Exception as trouble:  # a damaged or hostile entry fails in many ways; the others are still taken
        return Found(plain(source, 200), refused=plain(str(trouble) or type(trouble).__name__, 300))
    return Found(plain(source, 200), trainee, case, content, modified)
