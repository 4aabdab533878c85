"""Delete what is personal about a trainee: marks stay without a name, statistics and chain stay whole."""

from __future__ import annotations

import json
import secrets
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from autograde.award.issue import forget_trainee
from autograde.cohort.errors import CohortError
from autograde.cohort.files import read_records, write_bytes, write_text
from autograde.cohort.folder import Cohort, open_cohort
from autograde.cohort.gradebook import remove_student
from autograde.cohort.in_step import bring_in_step
from autograde.cohort.make import bring_gradebook_in_step
from autograde.cohort.pseudonyms import forget_name
from autograde.cohort.roster import GONE, Trainee, roster_csv
from autograde.cohort.whose import whose
from autograde.desk.moderation import compare
from autograde.desk.places import Places
from autograde.desk.readers import write_agreement
from autograde.desk.rounds import forget_in_rounds

__all__ = ["Forgotten", "forget"]

JOURNAL = "forgetting.json"
NAMELESS = "(deleted)"
FOLDERS = ("release", "collected", "submitted", "autograded", "feedback", "reexecuted")


@dataclass(frozen=True)
class Forgotten:
    """What was deleted, or would be.

    Parameters
    ----------
    now : str
        The name that marks are kept under.
    files : tuple of Path
        Files and folders.
    personal_parts : int
        Personal parts of the record of decisions.
    archives : tuple of Path
        Zip archives in the inbox, which may hold work of this trainee among that of others; for a person to look at.
    """

    now: str
    files: tuple[Path, ...]
    personal_parts: int
    archives: tuple[Path, ...]


def forget(cohort: Cohort, trainee: str, *, dry_run: bool = False) -> Forgotten:
    """Delete a trainee's personal data and work.

    Parameters
    ----------
    cohort : Cohort
        Held by the caller.
    trainee : str
        Id or pseudonym.
    dry_run : bool
        Only say what would be deleted.

    Returns
    -------
    Forgotten
        Marks, states and misconceptions stay under a name that tells nothing, so that statistics do not move. Killed on
        the way, it goes on where it was when it is run again.

    Raises
    ------
    CohortError
        If nobody has this id.
    """
    journal = cohort.root / "records" / JOURNAL
    begun = json.loads(journal.read_bytes()) if journal.exists() else {}
    if trainee not in {one.id for one in cohort.trainees} | set(begun) or trainee.startswith(GONE):
        raise CohortError(f"nobody on the roster has the id {trainee!r}; nothing was deleted")
    now = begun.get(trainee) or f"{GONE}{secrets.token_hex(6)}"
    found = tuple(_files(cohort, trainee))
    archives = tuple(sorted(cohort.inbox.rglob("*.zip")))
    if dry_run:
        return Forgotten(now, found, 0, archives)
    write_text(journal, json.dumps(begun | {trainee: now}), mode=0o600)
    places = Places.of(cohort)
    parts = forget_trainee(places.awards, places.record, trainee)
    forget_in_rounds(cohort, trainee)
    for path in found:
        shutil.rmtree(path) if path.is_dir() and not path.is_symlink() else path.unlink(missing_ok=True)
    for name in ("handed_out", "collected", "refused", "marks", "by_hand", "reexecuted"):
        _rewrite(cohort, name, trainee, now)
    remove_student(cohort, trainee)
    forget_name(cohort.root, trainee)
    roster = [Trainee(now, NAMELESS) if one.id == trainee else one for one in cohort.trainees]
    write_text(cohort.root / "roster.csv", roster_csv(roster), mode=0o600)
    after = open_cohort(cohort.root)
    bring_gradebook_in_step(after)
    bring_in_step(after)
    if compare(after):
        write_agreement(after)
    rest = {who: name for who, name in begun.items() if who != trainee}
    write_text(journal, json.dumps(rest), mode=0o600) if rest else journal.unlink(missing_ok=True)
    return Forgotten(now, found, parts, archives)


def _files(cohort: Cohort, trainee: str) -> Iterator[Path]:
    yield from (cohort.root / step / trainee for step in FOLDERS if (cohort.root / step / trainee).exists())
    for path in sorted(cohort.inbox.rglob("*.ipynb")):
        try:
            who, _ = whose(path.relative_to(cohort.inbox).as_posix(), {trainee}, cohort.settings.cases)
        except CohortError:
            continue
        if who == trainee:
            yield path
    papers = Places.of(cohort).moderation
    theirs = [one.piece for one in compare(cohort) if one.piece.trainee == trainee]
    for piece in theirs:
        yield from papers.glob(f"*/papers/{piece.number}.ipynb")
    if theirs:
        yield from papers.glob("*/papers/texts.html")
    yield from (path for path in sorted(cohort.report.glob("*")) if not path.name.startswith("moderation."))


def _rewrite(cohort: Cohort, name: str, trainee: str, now: str) -> None:
    path = cohort.record(name)
    if not path.exists():
        return
    lines = [line for record in read_records(path) if (line := _kept(name, record, trainee, now)) is not None]
    text = b"".join(json.dumps(line, sort_keys=True).encode() + b"\n" for line in lines)
    if text != path.read_bytes():
        write_bytes(path, text)


def _kept(name: str, record: dict[str, Any], trainee: str, now: str) -> dict[str, Any] | None:
    """Give a line as it is kept: without a name and without anything the trainee wrote, or not at all."""
    if name == "refused":
        return None if trainee in record["source"] or trainee in record["reason"] else record
    if record["trainee"] != trainee:
        return record
    if name in ("handed_out", "collected", "reexecuted"):
        return None
    if name == "by_hand":
        return record | {"trainee": now, "comment": ""}
    bare = [result | {"typed": "", "read_as": "", "reason": "", "feedback": ""} for result in record["results"]]
    return record | {"trainee": now, "sha256": "", "trouble": "", "notices": [], "results": bare}
