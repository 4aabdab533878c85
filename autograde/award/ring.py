"""The public key file: every key of an issuer with its dates.

References: rfc_7517, rfc_8037.
"""

from __future__ import annotations

import base64
import json
import re
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

from cryptography.exceptions import UnsupportedAlgorithm
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from autograde.award.did_key import key_url, public_bytes
from autograde.award.errors import AwardError

__all__ = ["Issuer", "KeyRing", "PublicKey", "read_ring", "read_time", "utc_text"]

TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,9})?(Z|[+-]\d\d:\d\d)\Z")


@dataclass(frozen=True)
class Issuer:
    """Who issues.

    Parameters
    ----------
    id : str
        A URL of the issuer's own.
    name : str
        As it stands on the certificate.
    demo : bool
        True for an invented school; everything it issues says so.
    """

    id: str
    name: str
    demo: bool = False

    def __post_init__(self) -> None:
        if not re.match(r"(https://|did:|urn:)[^\s#]+\Z", self.id) or not self.name.strip():
            raise AwardError(f"the issuer has id {self.id!r} and name {self.name!r}; give an https address and a name")


@dataclass(frozen=True)
class PublicKey:
    """A public key (32 bytes) and when it was in use; empty dates mean no limit."""

    public: bytes
    valid_from: str = ""
    valid_until: str = ""
    compromised_since: str = ""
    reason: str = ""

    @property
    def kid(self) -> str:
        """The key's id."""
        return key_url(self.public)

    def ended(self, time: str) -> PublicKey:
        """Give the key with the end of its use."""
        return replace(self, valid_until=time)

    def given_up(self, since: str, reason: str) -> PublicKey:
        """Give the key as one not to be trusted from a time on."""
        return replace(self, compromised_since=since, reason=reason)

    def trouble_at(self, time: datetime) -> str:
        """Say why the key does not count for something signed at a time; empty if it does."""
        if self.compromised_since and time >= read_time(self.compromised_since):
            return f"the issuer gave this key up as not surely its own since {self.compromised_since}: {self.reason}"
        if self.valid_from and time < read_time(self.valid_from):
            return f"the key was in use only from {self.valid_from} on"
        if self.valid_until and time > read_time(self.valid_until):
            return f"the key was in use only until {self.valid_until}"
        return ""

    def as_jwk(self) -> dict[str, str]:
        """Give the key as a JSON Web Key."""
        dates = {
            "validFrom": self.valid_from,
            "validUntil": self.valid_until,
            "compromisedSince": self.compromised_since,
            "reason": self.reason,
        }
        x = base64.urlsafe_b64encode(self.public).rstrip(b"=").decode()
        jwk = {"kty": "OKP", "crv": "Ed25519", "x": x, "kid": self.kid, "use": "sig", "alg": "EdDSA"}
        return jwk | {name: value for name, value in dates.items() if value}


@dataclass(frozen=True)
class KeyRing:
    """All keys of an issuer; no issuer when a bare key was given."""

    issuer: Issuer | None
    keys: tuple[PublicKey, ...]

    def find(self, kid: str) -> PublicKey | None:
        """Give the key with this id, None if there is none."""
        return next((key for key in self.keys if key.kid == kid), None)

    def as_json(self) -> bytes:
        """Give the public key file."""
        data: dict[str, Any] = {"keys": [key.as_jwk() for key in self.keys]}
        if self.issuer:
            data["issuer"] = {"id": self.issuer.id, "name": self.issuer.name, "demo": self.issuer.demo}
        return (json.dumps(data, indent=2, ensure_ascii=False) + "\n").encode()


def read_ring(content: bytes) -> KeyRing:
    """Read public keys.

    Parameters
    ----------
    content : bytes
        A public key file, a single JSON Web Key, a PEM public key, or a ``did:key``.

    Returns
    -------
    KeyRing
        At least one key.

    Raises
    ------
    AwardError
        If it holds no Ed25519 public key, or a private one.
    """
    try:
        text = content.decode("utf-8-sig").strip()
        if text.startswith("did:key:"):
            return KeyRing(None, (PublicKey(public_bytes(text)),))
        if text.startswith("-----BEGIN"):
            return KeyRing(None, (PublicKey(_from_pem(text)),))
        data = json.loads(text)
        entries = data.get("keys", [data])
        issuer = data.get("issuer")
        ring = KeyRing(
            Issuer(str(issuer["id"]), str(issuer["name"]), bool(issuer.get("demo"))) if issuer else None,
            tuple(_from_jwk(entry) for entry in entries),
        )
    except AwardError:
        raise
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        raise AwardError("this is no public key file: give issuer.jwks.json, a PEM public key or a did:key") from error
    if not ring.keys:
        raise AwardError("the public key file holds no key; ask the issuer for it again")
    return ring


def utc_text(time: datetime) -> str:
    """Write a time as UTC, to the second."""
    return time.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def read_time(text: object) -> datetime:
    """Read a time with its zone; AwardError if it is none."""
    try:
        if isinstance(text, str) and TIME.match(text):
            return datetime.fromisoformat(text)
    except ValueError:
        pass
    raise AwardError(f"{str(text)[:40]!r} is no time; written is, for example, 2025-10-04T09:00:00Z")


def _from_jwk(entry: dict[str, Any]) -> PublicKey:
    if "d" in entry:
        raise AwardError("this file holds a private key; never give it to anybody, and change the key now")
    if entry.get("kty") != "OKP" or entry.get("crv") != "Ed25519":
        raise AwardError("this is a key of another kind; only Ed25519 is used here")
    public = base64.b64decode(str(entry["x"]) + "=", altchars=b"-_", validate=True)
    if len(public) != 32:
        raise AwardError(f"the key has {len(public)} bytes instead of 32; ask for the public key file again")
    start, end, given_up = (str(entry.get(name) or "") for name in ("validFrom", "validUntil", "compromisedSince"))
    for date in filter(None, (start, end, given_up)):
        read_time(date)
    key = PublicKey(public, start, end, given_up, str(entry.get("reason") or ""))
    if entry.get("kid") not in (None, key.kid) and str(entry["kid"]).startswith("did:key:"):
        raise AwardError("the key's id belongs to another key; ask for the public key file again")
    return key


def _from_pem(text: str) -> bytes:
    if "PRIVATE KEY" in text:
        raise AwardError("this file holds a private key; never give it to anybody, and change the key now")
    try:
        public = serialization.load_pem_public_key(text.encode())
    except (ValueError, UnsupportedAlgorithm) as error:
        raise AwardError("this PEM file is damaged or holds no public key") from error
    if not isinstance(public, Ed25519PublicKey):
        raise AwardError("this is a key of another kind; only Ed25519 is used here")
    return public.public_bytes_raw()
