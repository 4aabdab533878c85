"""The record of decisions: lines that are only ever added, each holding the hash of the one before.

One entry is one line of canonical JSON (RFC 8785) with the SHA-256 of itself and of its predecessor, so a changed,
removed or exchanged line shows. What is personal lies beside it, in a file of its own; the line holds only a salted
commitment to it (SHA-256 over 32 random bytes and the text). Deleting that file leaves the chain whole, and without
the salt the commitment tells nothing. A small head file tells how long the record was, so a lost end shows too; who
can rewrite all files can forge all of them, therefore every award issued carries the hash of its entry, and the head
may be published.

**How long.** Personal parts are needed until the last appeal is closed, and for awards as long as they may have to be
revoked or issued again; after that, and on request, `Record.forget` deletes them. Backups hold them too: let them run
out, or delete there as well.

References: rfc_8785, fips_180_4.
"""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from autograde.award.chain import START, Entry, canonical, commitment, content_key, entry_hash, parse_entry
from autograde.award.errors import AwardError
from autograde.award.files import locked, sync_folder, write_atomic

__all__ = ["DELETED", "Record", "personal_path"]

DELETED = "personal data deleted"
"""Kind of the entry that tells which personal parts were deleted on request."""


def personal_path(record: Path, n: int) -> Path:
    """Say where the personal part of an entry lies."""
    return record.with_name(record.stem + ".personal") / f"{n:06d}.json"


class Record:
    """A record that can be added to by several processes, one at a time.

    Parameters
    ----------
    path : Path
        The file of lines; beside it lie its head, its personal parts and a lock.
    clock : callable, optional
        Gives the present time; for tests.
    """

    def __init__(self, path: Path, clock: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self.path = path
        self._clock = clock
        self._entries: list[Entry] = []
        self._offset = 0
        self._known: dict[bytes, Entry] = {}

    @property
    def head_path(self) -> Path:
        """The file that tells how long the record is."""
        return self.path.with_suffix(".head")

    def entries(self) -> tuple[Entry, ...]:
        """Give all entries; a line cut off by a crash is left out (`check_record` tells of it)."""
        self._read_on()
        return tuple(self._entries)

    def head(self) -> tuple[int, str]:
        """Give number and hash of the last entry as the head file has them; (0, `START`) for an empty record."""
        try:
            data = json.loads(self.head_path.read_bytes())
            return int(data["n"]), str(data["hash"])
        except FileNotFoundError:
            return 0, START
        except (OSError, ValueError, KeyError, TypeError) as error:
            raise AwardError(f"{self.head_path} is damaged; restore it from a backup") from error

    def personal(self, n: int) -> dict[str, Any] | None:
        """Give the personal part of an entry, None if there is none (any more)."""
        try:
            part: dict[str, Any] = json.loads(personal_path(self.path, n).read_bytes())["personal"]
        except FileNotFoundError:
            return None
        except (OSError, ValueError, KeyError, TypeError) as error:
            raise AwardError(f"the personal part of entry {n} is damaged; restore it from a backup") from error
        return part

    def append(self, kind: str, body: Mapping[str, Any], personal: Mapping[str, Any] | None = None) -> Entry:
        """Add an entry; when this returns, it is on the disk.

        Parameters
        ----------
        kind : str
            What it is about.
        body : mapping
            What may stay for good: of JSON kinds, no personal data.
        personal : mapping, optional
            What can be deleted on request; its ``trainee`` tells whose it is.

        Returns
        -------
        Entry
            As written.

        Raises
        ------
        AwardError
            If the record was changed from outside, or the entry cannot be written.
        """
        with locked(self.path):
            return self._append(kind, body, personal)

    def append_once(self, kind: str, body: Mapping[str, Any], personal: Mapping[str, Any] | None = None) -> Entry:
        """Add an entry unless one with the same content is there; so a step that was killed can be run again."""
        with locked(self.path):
            self._read_on()
            return self._known.get(content_key(kind, body, personal)) or self._append(kind, body, personal)

    def forget(self, trainee: str) -> int:
        """Delete the personal data of a trainee; decisions, statistics and chain stay.

        Parameters
        ----------
        trainee : str
            Id or pseudonym as in the personal parts.

        Returns
        -------
        int
            How many personal parts were deleted; 0 if there were none.
        """
        with locked(self.path):
            self._read_on()
            folder = personal_path(self.path, 1).parent
            numbers = sorted(int(part.stem) for part in folder.glob("[0-9]*.json"))
            numbers = [n for n in numbers if (self.personal(n) or {}).get("trainee") == trainee]
            told = {n for entry in self._entries if entry.kind == DELETED for n in entry.body["entries"]}
            recorded = [n for n in numbers if n <= len(self._entries)]
            if set(recorded) - told:
                self._append(DELETED, {"entries": recorded}, None)
            for n in numbers:
                personal_path(self.path, n).unlink(missing_ok=True)
            for unfinished in folder.glob(".*.partial"):
                unfinished.unlink(missing_ok=True)
            if folder.exists():
                sync_folder(folder)
            self._known = {key: entry for key, entry in self._known.items() if entry.n not in numbers}
            return len(numbers)

    def _append(self, kind: str, body: Mapping[str, Any], personal: Mapping[str, Any] | None) -> Entry:
        self._read_on()
        n, previous = self._last()
        self._set_torn_end_aside()
        if personal is None:
            personal_path(self.path, n + 1).unlink(missing_ok=True)  # left by a kill before its line was written
            promise = ""
        else:
            promise = self._write_personal(n + 1, personal)
        time = self._clock().astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
        draft = Entry(n + 1, time, kind, dict(body), promise, previous, "")
        entry = Entry(**{**draft.__dict__, "hash": entry_hash(draft.content())})
        self._write_line(entry.as_line() + b"\n")
        write_atomic(self.head_path, canonical({"n": entry.n, "hash": entry.hash}))
        return entry

    def _write_personal(self, n: int, personal: Mapping[str, Any]) -> str:
        salt = secrets.token_bytes(32)
        content = canonical({"salt": salt.hex(), "personal": dict(personal)})
        write_atomic(personal_path(self.path, n), content, mode=0o600)
        return commitment(salt, personal)

    def _write_line(self, line: bytes) -> None:
        try:
            with self.path.open("ab") as stream:
                stream.write(line)
                stream.flush()
                os.fsync(stream.fileno())
        except OSError as error:
            raise AwardError(f"{self.path} could not be written: {error.strerror}; make room and try again") from error
        sync_folder(self.path.parent)

    def _last(self) -> tuple[int, str]:
        """Give number and hash to go on from, if the end of the record is the one the head tells of."""
        last = (self._entries[-1].n, self._entries[-1].hash) if self._entries else (0, START)
        head = self.head()
        killed_before_head = last[0] == head[0] + 1 and self._entries[-1].previous == head[1]
        if last != head and not killed_before_head:
            raise AwardError(
                f"{self.path} ends with entry {last[0]}, its head file tells of entry {head[0]}: it was changed from "
                "outside. Check it and restore it from a backup before anything is added"
            )
        return last

    def _set_torn_end_aside(self) -> None:
        size = self.path.stat().st_size if self.path.exists() else 0
        if size > self._offset:
            with self.path.open("r+b") as stream:
                stream.seek(self._offset)
                with self.path.with_suffix(".torn").open("ab") as aside:
                    aside.write(stream.read() + b"\n")
                    aside.flush()
                    os.fsync(aside.fileno())
                stream.truncate(self._offset)
                os.fsync(stream.fileno())

    def _read_on(self) -> None:
        """Read the lines that were added since the last time."""
        size = self.path.stat().st_size if self.path.exists() else 0
        if size < self._offset:
            self._entries, self._known, self._offset = [], {}, 0
        if size == self._offset:
            return
        with self.path.open("rb") as stream:
            stream.seek(self._offset)
            for line in stream:
                if not line.endswith(b"\n"):
                    return
                entry = parse_entry(line[:-1], len(self._entries) + 1)
                self._entries.append(entry)
                self._known[content_key(entry.kind, entry.body, self.personal(entry.n))] = entry
                self._offset += len(line)
