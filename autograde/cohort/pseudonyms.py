"""Names of the workshop in place of people's names, with the key kept in a file of its own."""

from __future__ import annotations

import csv
import io
import secrets
from collections.abc import Sequence
from pathlib import Path

from autograde.cohort.errors import CohortError
from autograde.cohort.files import write_text
from autograde.cohort.folder import Cohort
from autograde.cohort.roster import Trainee

__all__ = ["KEY_FILE", "forget_name", "read_key", "real_trainee", "under_pseudonyms"]

KEY_FILE = "pseudonyms.csv"
WORDS = (
    "anvil", "bell", "bolt", "brake", "cable", "chain", "clamp", "collar", "cone", "crank", "file", "fork",
    "frame", "gauge", "grip", "hub", "lamp", "level", "lever", "link", "nut", "pawl", "pedal", "pin", "pump",
    "rim", "rivet", "saddle", "screw", "seat", "shim", "sleeve", "spanner", "spoke", "spring", "stem", "strap",
    "tape", "thread", "tube", "tyre", "valve", "vice", "washer", "wedge", "wheel",
)  # fmt: skip


def under_pseudonyms(root: Path, roster: Sequence[Trainee]) -> tuple[tuple[Trainee, ...], str]:
    """Give every trainee a name of the workshop; who has one keeps it.

    Parameters
    ----------
    root : Path
        The cohort folder, or where it is to be.
    roster : sequence of Trainee
        With their own ids and names.

    Returns
    -------
    tuple of Trainee, str
        The roster to work with, and the text of the key file; `write_key` keeps it. Nothing is written yet.
    """
    key = read_key(root)
    known = {person.id: pseudonym for pseudonym, person in key.items()}
    for person in roster:
        pseudonym = known.get(person.id) or _draw(set(key))
        known[person.id] = pseudonym
        key[pseudonym] = person
    roster_now = tuple(Trainee(known[person.id], known[person.id].replace("-", " ").capitalize()) for person in roster)
    return roster_now, _key_text(key)


def _draw(taken: set[str]) -> str:
    for _ in range(100_000):
        pseudonym = f"{secrets.choice(WORDS)}-{100 + secrets.randbelow(900)}"
        if pseudonym not in taken:
            return pseudonym
    raise CohortError(f"all names are given to {len(taken)} trainees; begin another cohort")


def write_key(root: Path, text: str) -> None:
    """Keep the key file, readable by its owner only."""
    write_text(root / KEY_FILE, text, mode=0o600)


def read_key(root: Path) -> dict[str, Trainee]:
    """Read who is behind the pseudonyms.

    Parameters
    ----------
    root : Path
        The cohort folder.

    Returns
    -------
    dict
        The person by pseudonym; empty if the cohort has none.

    Raises
    ------
    CohortError
        If the key file is damaged.
    """
    path = root / KEY_FILE
    if not path.exists():
        return {}
    try:
        rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8")), strict=True))
        return {row["pseudonym"]: Trainee(row["id"], row["name"], row["email"]) for row in rows}
    except (csv.Error, KeyError, TypeError, UnicodeDecodeError) as trouble:
        raise CohortError(f"{path} is damaged ({trouble}); restore it from a backup") from trouble


def real_trainee(cohort: Cohort, trainee: Trainee) -> Trainee:
    """Give the person behind a pseudonym, for the award; without pseudonyms the trainee as is."""
    return read_key(cohort.root).get(trainee.id, trainee)


def forget_name(root: Path, pseudonym: str) -> bool:
    """Take a person out of the key file; says whether there was one."""
    key = read_key(root)
    if pseudonym not in key:
        return False
    del key[pseudonym]
    write_key(root, _key_text(key))
    return True


def _key_text(key: dict[str, Trainee]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["pseudonym", "id", "name", "email"])
    writer.writerows([pseudonym, person.id, person.name, person.email] for pseudonym, person in key.items())
    return out.getvalue()
