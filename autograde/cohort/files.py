"""Files that survive an interruption: whole-file replacement, append-only records, one command at a time."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from autograde.cohort.errors import CohortError

try:
    import fcntl
except ImportError:  # pragma: no cover - a system without file locks of this kind
    fcntl = None  # type: ignore[assignment]

__all__ = ["append_records", "one_at_a_time", "read_bounded", "read_records", "write_bytes", "write_text"]


def write_bytes(path: Path, content: bytes, *, mode: int = 0o644, derived: bool = False) -> None:
    """Replace a file in one step, so that a reader sees the old content or the new and never a half.

    Parameters
    ----------
    path : Path
        The file; missing folders above it are made.
    content : bytes
        All of its content.
    mode : int
        Permission bits.
    derived : bool
        True for what can be made again: the disk is then not waited for.

    Notes
    -----
    One process at a time writes a file. What a kill leaves behind is ``.name.part``; the next writing takes its place.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    unfinished = path.with_name(f".{path.name}.part")
    unfinished.unlink(missing_ok=True)
    handle = os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            if not derived:
                os.fsync(stream.fileno())
        os.chmod(unfinished, mode)
        os.replace(unfinished, path)
    except BaseException:
        unfinished.unlink(missing_ok=True)
        raise
    if not derived:
        _sync_folder(path.parent)


def write_text(path: Path, text: str, *, mode: int = 0o644, derived: bool = False) -> None:
    """Replace a text file in one step; see `write_bytes`.

    Parameters
    ----------
    path : Path
        The file.
    text : str
        All of its content, written as UTF-8 with unpaired surrogates replaced.
    mode : int
        Permission bits.
    derived : bool
        True for what can be made again.
    """
    write_bytes(path, text.encode("utf-8", "replace"), mode=mode, derived=derived)


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":  # pragma: no cover - elsewhere a folder cannot be opened
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def append_records(path: Path, records: Iterable[Mapping[str, Any]]) -> None:
    """Append JSON lines and wait until they are on disk.

    Parameters
    ----------
    path : Path
        The record file. A last line left half written by an interruption is closed off first, so that it
        spoils no later record.
    records : iterable of mapping
        What to append, one line each.
    """
    lines = b"".join(json.dumps(record, sort_keys=True).encode() + b"\n" for record in records)
    if not lines:
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a+b") as stream:
        if stream.seek(0, os.SEEK_END):
            stream.seek(-1, os.SEEK_END)
            if stream.read(1) != b"\n":
                lines = b"\n" + lines
        stream.write(lines)
        stream.flush()
        os.fsync(stream.fileno())


def read_records(path: Path) -> Iterator[dict[str, Any]]:
    """Read JSON lines one by one, passing over a line that an interruption left half written.

    Parameters
    ----------
    path : Path
        The record file; a missing file holds no records.

    Yields
    ------
    dict
        One record.
    """
    if not path.exists():
        return
    with path.open("rb") as stream:
        for line in stream:
            try:
                record = json.loads(line)
            except ValueError:
                continue
            if isinstance(record, dict):
                yield record


def read_bounded(path: Path, limit_bytes: int) -> bytes:
    """Read a regular file that is not a symbolic link and not larger than a limit.

    Parameters
    ----------
    path : Path
        The file.
    limit_bytes : int
        The most that is read.

    Returns
    -------
    bytes
        The content.

    Raises
    ------
    CohortError
        If the path is a link, is not a regular file, or is too large.
    """
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    if path.is_symlink():
        raise CohortError("is a symbolic link; only real files are taken")
    if not path.is_file():
        raise CohortError("is not a regular file")
    with os.fdopen(os.open(path, flags), "rb") as stream:
        content = stream.read(limit_bytes + 1)
    if len(content) > limit_bytes:
        raise CohortError(f"is larger than the limit of {limit_bytes / 1e6:g} MB set in cohort.toml")
    return content


@contextmanager
def one_at_a_time(lock: Path) -> Iterator[None]:
    """Hold a lock file while a command writes, so that two commands on one cohort do not cross.

    Parameters
    ----------
    lock : Path
        The lock file; the lock is released when the process ends, however it ends.

    Raises
    ------
    CohortError
        If another process holds it.
    """
    if fcntl is None:  # pragma: no cover
        yield
        return
    with lock.open("a") as stream:
        try:
            fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as trouble:
            raise CohortError(
                f"another command is at work on the cohort in {lock.parent}; wait for it to end, then try again"
            ) from trouble
        yield
