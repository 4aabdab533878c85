"""One entry of a chained record: its line, its hash, and the commitment to its personal part.

References: rfc_8785, fips_180_4.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import rfc8785

from autograde.award.errors import AwardError

__all__ = ["START", "Entry", "canonical", "commitment", "content_key", "entry_hash", "parse_entry"]

START = "0" * 64
"""What the first entry has as hash of its predecessor."""


@dataclass(frozen=True)
class Entry:
    """One line of the record.

    Parameters
    ----------
    n : int
        Its number, from 1.
    time : str
        When it was written, UTC, ISO 8601.
    kind : str
        What it is about, such as "decision".
    body : mapping
        What may stay for good.
    commitment : str
        To the personal part; empty if there is none.
    previous, hash : str
        SHA-256 of the entry before and of this one, in hexadecimal.
    """

    n: int
    time: str
    kind: str
    body: Mapping[str, Any]
    commitment: str
    previous: str
    hash: str

    def as_line(self) -> bytes:
        """Give the line without its end."""
        return canonical({**self.content(), "hash": self.hash})

    def content(self) -> dict[str, Any]:
        """Give what the hash is taken over."""
        return {
            "n": self.n,
            "time": self.time,
            "kind": self.kind,
            "body": self.body,
            "commitment": self.commitment,
            "previous": self.previous,
        }


def canonical(data: Any) -> bytes:
    """Write data as canonical JSON.

    Parameters
    ----------
    data : any
        Of JSON kinds.

    Returns
    -------
    bytes
        UTF-8, the same for equal data everywhere.

    Raises
    ------
    AwardError
        If a value cannot be written exactly: NaN, infinite, whole numbers beyond 2⁵³.

    References
    ----------
    rfc_8785

    Examples
    --------
    >>> canonical({"b": 1.0, "a": [True, None]})
    b'{"a":[true,null],"b":1}'
    """
    try:
        return rfc8785.dumps(data)
    except (rfc8785.CanonicalizationError, RecursionError, UnicodeError) as error:
        raise AwardError(f"this cannot be written into the record exactly: {error}") from error


def entry_hash(content: Mapping[str, Any]) -> str:
    """Hash the content of an entry."""
    return hashlib.sha256(canonical(dict(content))).hexdigest()


def commitment(salt: bytes, personal: Mapping[str, Any]) -> str:
    """Commit to a personal part without telling it."""
    return hashlib.sha256(salt + canonical(dict(personal))).hexdigest()


def parse_entry(line: bytes, number: int) -> Entry:
    """Read one line, `number` being its place in the file; AwardError if it is no entry."""
    try:
        data = json.loads(line)
        entry = Entry(**data)
        if not (type(entry.n) is int and 0 < entry.n < 10**9 and isinstance(entry.body, dict)):
            raise TypeError("n is a whole number from 1 and body an object")
        for name in ("time", "kind", "commitment", "previous", "hash"):
            if not isinstance(data[name], str):
                raise TypeError(f"{name} is a text")
    except (ValueError, TypeError, RecursionError) as error:
        raise AwardError(f"line {number} of the record is no entry: {error}") from error
    return entry


def content_key(kind: str, body: Mapping[str, Any], personal: Mapping[str, Any] | None) -> bytes:
    """Tell entries of equal content by one key."""
    return hashlib.sha256(canonical([kind, dict(body), None if personal is None else dict(personal)])).digest()
