"""Writing that survives a kill at any moment, and reading with a limit."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from autograde.award.errors import AwardError

__all__ = ["locked", "partial_of", "read_limited", "sync_folder", "write_atomic"]


def write_atomic(path: Path, content: bytes, mode: int = 0o644) -> None:
    """Write a file so that a reader sees the old content or the new one, never a part.

    Parameters
    ----------
    path : Path
        Where to; one process at a time (see `locked`).
    content : bytes
        The whole new content.
    mode : int
        Permission bits of the new file.

    Notes
    -----
    What a kill leaves behind is ``.name.partial``; the next writing of the file takes its place.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    partial = partial_of(path)
    partial.unlink(missing_ok=True)
    descriptor = os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    try:
        with os.fdopen(descriptor, "wb") as stream:
            os.fchmod(stream.fileno(), mode)
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        partial.replace(path)
    except BaseException:
        partial.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def partial_of(path: Path) -> Path:
    """Say what an unfinished file is called."""
    return path.with_name(f".{path.name}.partial")


def sync_folder(folder: Path) -> None:
    """Make new, renamed and deleted names of a folder last."""
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold ``path`` + ``.lock`` so that one process at a time works on `path`; freed when the process ends."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.with_name(path.name + ".lock").open("ab") as stream:
        fcntl.flock(stream, fcntl.LOCK_EX)
        yield


def read_limited(path: Path, most_bytes: int) -> bytes:
    """Read a file that may come from anybody.

    Parameters
    ----------
    path : Path
        Which one.
    most_bytes : int
        The largest size that is read.

    Returns
    -------
    bytes
        Its content.

    Raises
    ------
    AwardError
        If it cannot be read, is not a plain file or is larger than allowed.
    """
    try:
        if not path.is_file():
            raise AwardError(f"there is no file {path}; check the name")
        with path.open("rb") as stream:
            content = stream.read(most_bytes + 1)
    except (OSError, ValueError) as error:
        raise AwardError(f"{path} cannot be read: {getattr(error, 'strerror', None) or error}") from error
    if len(content) > most_bytes:
        raise AwardError(f"{path} is larger than {most_bytes} bytes, more than any file of this kind needs")
    return content
