"""Where the parts of deciding and awarding lie in a cohort's folder."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from autograde.award.errors import AwardError
from autograde.award.files import read_limited
from autograde.award.keys import KeyStore
from autograde.award.record import Record
from autograde.award.status import StatusLedger
from autograde.cohort.folder import Cohort

__all__ = ["Places", "fingerprint", "read_words"]

LARGEST_TABLE = 5_000_000


@dataclass(frozen=True)
class Places:
    """What lies where.

    Parameters
    ----------
    root : Path
        The cohort folder.
    """

    root: Path

    @classmethod
    def of(cls, cohort: Cohort) -> Places:
        """Give the places of a cohort."""
        return cls(cohort.root)

    @property
    def blueprint(self) -> Path:
        """The written plan, the instructor's to change."""
        return self.root / "blueprint.toml"

    @property
    def ratings(self) -> Path:
        """What the raters of the standard wrote down."""
        return self.root / "ratings.csv"

    @property
    def ratings_form(self) -> Path:
        """An empty form for it, with one line a task."""
        return self.root / "ratings-form.csv"

    @property
    def bounds(self) -> Path:
        """What cut and failure rate each rater finds acceptable; may be left out."""
        return self.root / "bounds.csv"

    @property
    def record(self) -> Record:
        """The chained record of decisions."""
        return Record(self.root / "records" / "decisions.jsonl")

    @property
    def moderation(self) -> Path:
        """One folder for each sample that is read a second time."""
        return self.root / "moderation"

    @property
    def keys(self) -> KeyStore:
        """The issuer's keys."""
        return KeyStore(self.root / "keys")

    @property
    def ledger(self) -> StatusLedger:
        """The private list of places in the status list."""
        return StatusLedger(self.root / "keys" / "status.json")

    @property
    def awards(self) -> Path:
        """One folder for each award."""
        return self.root / "awards"

    @property
    def status_list(self) -> Path:
        """The signed list to publish, in which revocation is looked up."""
        return self.awards / "status.jwt"


def read_words(path: Path) -> str:
    """Read a text file that a person wrote.

    Parameters
    ----------
    path : Path
        UTF-8, at most 5 MB.

    Returns
    -------
    str
        Its text.

    Raises
    ------
    AwardError
        If it is missing, too large or not UTF-8.
    """
    try:
        return read_limited(path, LARGEST_TABLE).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise AwardError(f"{path} is not written in UTF-8; save it again with that encoding") from error


def fingerprint(*texts: str) -> str:
    """Give the SHA-256 of some texts, to tell later whether they changed."""
    digest = hashlib.sha256()
    for text in texts:
        part = text.encode()
        digest.update(len(part).to_bytes(8, "big") + part)
    return digest.hexdigest()
