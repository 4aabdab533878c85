"""Check a record of decisions line by line, and say in plain words what is wrong where."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from autograde.award.chain import START, Entry, commitment, entry_hash, parse_entry
from autograde.award.errors import AwardError
from autograde.award.record import DELETED, Record, personal_path

__all__ = ["Problem", "RecordReport", "check_record"]


@dataclass(frozen=True)
class Problem:
    """What is wrong, and on which line (0: with the record as a whole)."""

    line: int
    text: str


@dataclass(frozen=True)
class RecordReport:
    """What the check found.

    Parameters
    ----------
    entries : int
        Lines that are entries.
    head : tuple
        Number and hash of the last entry.
    problems : tuple of Problem
        Empty when the record is whole.
    notes : tuple of str
        What is in order but worth knowing.
    """

    entries: int
    head: tuple[int, str]
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]

    @property
    def whole(self) -> bool:
        """Whether nothing is wrong."""
        return not self.problems


def check_record(path: Path, anchors: dict[int, str] | None = None) -> RecordReport:
    """Check a record.

    Parameters
    ----------
    path : Path
        The file of lines.
    anchors : dict, optional
        Hashes by entry number known from elsewhere, such as from awards or a published head.

    Returns
    -------
    RecordReport
        With every line that was changed, removed, exchanged or cut off.

    Raises
    ------
    AwardError
        If the file cannot be read.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise AwardError(f"{path} cannot be read: {error.strerror}; check the name") from error
    lines = raw.split(b"\n")
    torn, lines = lines[-1], lines[:-1]
    problems: list[Problem] = []
    entries: list[tuple[int, Entry]] = []
    for number, line in enumerate(lines, 1):
        try:
            entry = parse_entry(line, number)
        except AwardError:
            problems.append(Problem(number, f"line {number} was changed: it is no entry any more"))
            continue
        problems += _line_problems(number, line, entry, entries)
        entries.append((number, entry))
    problems += _personal_problems(path, entries)
    last = (entries[-1][1].n, entries[-1][1].hash) if entries else (0, START)
    notes = _notes(path, [entry for _, entry in entries])
    problems += _end_problems(path, last, entries, bool(torn), len(lines) + 1, notes)
    by_number = {entry.n: entry.hash for _, entry in entries}
    problems += [
        Problem(0, f"entry {n} is not the one that was anchored elsewhere (its hash differs or it is gone)")
        for n, value in (anchors or {}).items()
        if by_number.get(n) != value
    ]
    return RecordReport(len(entries), last, tuple(problems), tuple(notes))


def _line_problems(number: int, line: bytes, entry: Entry, before: list[tuple[int, Entry]]) -> list[Problem]:
    try:
        intact = entry.as_line() == line and entry_hash(entry.content()) == entry.hash
    except AwardError:
        intact = False
    found = [] if intact else [Problem(number, f"line {number} (entry {entry.n}) was changed after it was written")]
    expected = before[-1][1].n + 1 if before else 1
    link = before[-1][1].hash if before else START
    if entry.n > expected:
        which = f"entry {expected} is" if entry.n == expected + 1 else f"entries {expected} to {entry.n - 1} are"
        found.append(Problem(number, f"{which} missing before line {number}"))
    elif entry.n < expected:
        found.append(Problem(number, f"line {number} holds entry {entry.n}: repeated or out of order"))
    elif entry.previous != link:
        place = f"line {number - 1}" if before else "the beginning"
        found.append(Problem(number, f"line {number} does not follow {place}: one of the two was put in its place"))
    return found


def _personal_problems(path: Path, entries: list[tuple[int, Entry]]) -> list[Problem]:
    deleted = _deleted([entry for _, entry in entries])
    found = []
    for number, entry in entries:
        part = personal_path(path, entry.n)
        if not entry.commitment:
            continue
        if not part.exists():
            if entry.n not in deleted:
                found.append(
                    Problem(number, f"the personal part of entry {entry.n} is missing; no deletion is recorded")
                )
            continue
        if entry.n in deleted:
            found.append(Problem(number, f"the personal part of entry {entry.n} should be deleted; delete it again"))
        try:
            data = json.loads(part.read_bytes())
            same = commitment(bytes.fromhex(data["salt"]), data["personal"]) == entry.commitment
        except (OSError, ValueError, KeyError, TypeError, AwardError):
            same = False
        if not same:
            found.append(Problem(number, f"the personal part of entry {entry.n} was changed after it was written"))
    return found


def _deleted(entries: list[Entry]) -> set[int]:
    lists = [entry.body.get("entries") for entry in entries if entry.kind == DELETED]
    return {n for numbers in lists if isinstance(numbers, list) for n in numbers if isinstance(n, int)}


def _notes(path: Path, entries: list[Entry]) -> list[str]:
    gone = [entry.n for entry in entries if entry.commitment and not personal_path(path, entry.n).exists()]
    return [f"personal parts deleted: {len(gone)} of {len(entries)} entries"] if gone else []


def _end_problems(
    path: Path, last: tuple[int, str], entries: list[tuple[int, Entry]], torn: bool, torn_line: int, notes: list[str]
) -> list[Problem]:
    try:
        head = Record(path).head()
    except AwardError as error:
        return [Problem(0, str(error))]
    ahead = bool(entries) and last[0] == head[0] + 1 and entries[-1][1].previous == head[1]
    found = []
    if head[0] > last[0]:
        which = f"entry {head[0]} is" if head[0] == last[0] + 1 else f"entries {last[0] + 1} to {head[0]} are"
        found.append(Problem(torn_line, f"{which} missing at the end, from line {torn_line} on"))
    elif head != last and not ahead:
        found.append(Problem(len(entries), "the end of the record is not the one its head file tells of"))
    elif torn:
        notes.append(
            f"line {torn_line} is cut off, as after a crash while it was written; it was never confirmed, and the "
            "next entry sets it aside"
        )
    return found
