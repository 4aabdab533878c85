"""Run a program and hold it to its time, its memory and the length of what it says."""

from __future__ import annotations

import os
import selectors
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Watched", "watch"]

LOOK_EVERY_SECONDS = 0.05
CHUNK_BYTES = 65_536
MOST_COMPLAINT_BYTES = 4_000


@dataclass(frozen=True)
class Watched:
    """What a program said before it ended or was stopped.

    Parameters
    ----------
    said : bytes
        From its standard output.
    complained : bytes
        The start of its standard error.
    stopped : str
        Which bound it went past, or empty.
    code : int
        Its exit code; negative for a signal.
    """

    said: bytes
    complained: bytes
    stopped: str
    code: int


def watch(
    command: Sequence[str],
    order: bytes,
    *,
    seconds: float,
    memory_bytes: int,
    said_bytes: int,
    folder: str = "/",
    variables: Mapping[str, str] | None = None,
    pass_fds: Sequence[int] = (),
) -> Watched:
    """Run a command to its end, or stop it with all its children.

    Parameters
    ----------
    command : sequence of str
        What to run.
    order : bytes
        Given to it on standard input.
    seconds : float
        Time it may take, s.
    memory_bytes : int
        Memory that it and its children may hold together, bytes.
    said_bytes : int
        What it may write to standard output, bytes.
    folder : str
        Where it is started.
    variables : mapping, optional
        Its environment; by default none.
    pass_fds : sequence of int
        Open files it inherits.

    Returns
    -------
    Watched
        What it said, and why it was stopped if it was.
    """
    with tempfile.TemporaryFile() as stream:
        stream.write(order)
        stream.seek(0)
        process = subprocess.Popen(
            command,
            stdin=stream,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env=dict(variables or {}),
            cwd=folder,
            pass_fds=pass_fds,
            start_new_session=True,
        )
    try:
        said, complained, stopped = _listen(process, seconds, memory_bytes, said_bytes)
    finally:
        _stop(process)
    return Watched(bytes(said), bytes(complained), stopped, process.returncode)


def _listen(
    process: subprocess.Popen[bytes], seconds: float, memory_bytes: int, said_bytes: int
) -> tuple[bytearray, bytearray, str]:
    assert process.stdout is not None
    assert process.stderr is not None
    said, complained = bytearray(), bytearray()
    deadline, next_look = time.monotonic() + seconds, 0.0
    with selectors.DefaultSelector() as streams:
        for stream, kept in ((process.stdout, said), (process.stderr, complained)):
            os.set_blocking(stream.fileno(), False)
            streams.register(stream, selectors.EVENT_READ, kept)
        while streams.get_map() and process.stdout in {key.fileobj for key in streams.get_map().values()}:
            for key, _ in streams.select(LOOK_EVERY_SECONDS):
                chunk = os.read(key.fd, CHUNK_BYTES)
                if not chunk:
                    streams.unregister(key.fileobj)
                elif key.data is said or len(complained) < MOST_COMPLAINT_BYTES:
                    key.data.extend(chunk)
            now = time.monotonic()
            if len(said) > said_bytes:
                return said[:said_bytes], complained, "it put out more than is allowed"
            if now > deadline:
                return said, complained, f"it took longer than {seconds:g} s"
            if now > next_look:
                next_look = now + LOOK_EVERY_SECONDS
                if sum(map(_memory_bytes, family(process.pid))) > memory_bytes:
                    words = f"it held more than {memory_bytes / 1e6:.0f} MB of memory"
                    return said, complained, words
            if process.poll() is not None and not streams.select(0):
                break
    return said, complained, ""


def _stop(process: subprocess.Popen[bytes]) -> None:
    """End the program: its sandbox dies with it, and outside a sandbox its session is ended too."""
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(process.pid, signal.SIGKILL)
    process.kill()
    process.wait()
    for stream in (process.stdout, process.stderr):
        if stream is not None:
            stream.close()


def family(pid: int) -> Iterator[int]:
    """List a process and all that descend from it, as far as the system shows them.

    Parameters
    ----------
    pid : int
        The first of them.

    Yields
    ------
    int
        Process numbers.
    """
    parents: dict[int, list[int]] = {}
    for entry in Path("/proc").glob("[0-9]*/stat"):
        with suppress(OSError, ValueError, IndexError):
            after_the_name = entry.read_bytes().rpartition(b")")[2].split()
            parents.setdefault(int(after_the_name[1]), []).append(int(entry.parent.name))
    waiting = [pid]
    while waiting:
        waiting += parents.get(waiting[0], [])
        yield waiting.pop(0)


def _memory_bytes(pid: int) -> int:
    """Memory that belongs to one process, without files that others read too."""
    total = 0
    with suppress(OSError, ValueError, IndexError):
        for line in Path(f"/proc/{pid}/status").read_bytes().splitlines():
            if line.startswith((b"RssAnon:", b"RssShmem:")):
                total += int(line.split()[1]) * 1024
    return total
