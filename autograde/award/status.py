"""Revocation: a signed list of bits, one an award, published as a credential of its own.

The ledger file is the issuer's private list of which award has which place, and why one was revoked; the published
list shows only bits. Places are drawn from a random seed, so a place tells neither when nor in which group an award
was made. A revocation is never taken back, as the standard says.

References: w3c_bitstring_status_list, rfc_1952, rfc_4648.
"""

from __future__ import annotations

import base64
import binascii
import gzip
import hashlib
import hmac
import json
import secrets
import zlib
from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from autograde.award.credential import CONTEXTS, StatusEntry
from autograde.award.errors import AwardError
from autograde.award.files import locked, read_limited, write_atomic
from autograde.award.keys import SigningKey
from autograde.award.ring import utc_text
from autograde.award.tokens import sign_token

__all__ = ["SHORTEST", "StatusLedger", "decode_bits", "encode_bits", "sign_status_list", "status_bit"]

SHORTEST = 131_072
"""Bits a list has at least, so that an award hides in a crowd."""
LONGEST_BYTES = 4_000_000


def encode_bits(ones: Iterable[int], size: int = SHORTEST) -> str:
    """Write a list of bits as the standard demands.

    Parameters
    ----------
    ones : iterable of int
        Places that are set, 0 to size − 1; the first bit is the highest of the first byte.
    size : int
        How many bits, a multiple of 8, at least 131 072.

    Returns
    -------
    str
        ``u`` (multibase: base64url without padding) and the gzip-compressed bits.

    Raises
    ------
    AwardError
        If a place or the size is out of range.

    Examples
    --------
    >>> status_bit(decode_bits(encode_bits([5])), 5), status_bit(decode_bits(encode_bits([5])), 4)
    (True, False)
    """
    if size < SHORTEST or size % 8:
        raise AwardError(f"a list of {size} bits is not allowed; take a multiple of 8, at least {SHORTEST}")
    data = bytearray(size // 8)
    for place in ones:
        if not 0 <= place < size:
            raise AwardError(f"place {place} lies outside the list of {size} bits")
        data[place // 8] |= 0x80 >> place % 8
    return "u" + base64.urlsafe_b64encode(gzip.compress(bytes(data), 9, mtime=0)).rstrip(b"=").decode()


def decode_bits(text: str) -> bytes:
    """Read a list of bits.

    Parameters
    ----------
    text : str
        As from `encode_bits`.

    Returns
    -------
    bytes
        At least 16 384.

    Raises
    ------
    AwardError
        If it is damaged, too short, or unpacks to more than 4 million bytes.
    """
    if not text.startswith("u"):
        raise AwardError("the status list is not written in base64url with the letter u in front")
    try:
        packed = base64.b64decode(text[1:] + "=" * (-len(text[1:]) % 4), altchars=b"-_", validate=True)
        unpacker = zlib.decompressobj(wbits=31)
        data = unpacker.decompress(packed, LONGEST_BYTES)
    except (binascii.Error, zlib.error, ValueError) as error:
        raise AwardError("the status list is damaged: it does not unpack") from error
    if not unpacker.eof:
        raise AwardError(f"the status list is cut off, or larger than {LONGEST_BYTES} bytes")
    if len(data) * 8 < SHORTEST:
        raise AwardError(f"the status list has {len(data) * 8} bits; the standard demands at least {SHORTEST}")
    return data


def status_bit(data: bytes, index: int) -> bool:
    """Read one bit; AwardError if the place lies outside the list."""
    if not 0 <= index < len(data) * 8:
        raise AwardError(f"place {index} lies outside the status list of {len(data) * 8} bits")
    return bool(data[index // 8] & (0x80 >> index % 8))


def sign_status_list(
    url: str, ones: Iterable[int], key: SigningKey, *, issued: datetime, days: int = 30, size: int = SHORTEST
) -> str:
    """Sign the published list.

    Parameters
    ----------
    url : str
        Address that credentials point to.
    ones : iterable of int
        Revoked places.
    key : SigningKey
        The issuer's.
    issued : datetime
        With a time zone.
    days : int
        How long the list counts as fresh; publish a new one before.
    size : int
        Bits.

    Returns
    -------
    str
        A token of the type ``vc+jwt``.
    """
    return sign_token(
        {
            "@context": CONTEXTS[:1],
            "id": url,
            "type": ["VerifiableCredential", "BitstringStatusListCredential"],
            "issuer": key.issuer.id,
            "validFrom": utc_text(issued),
            "validUntil": utc_text(issued + timedelta(days=days)),
            "credentialSubject": {
                "id": f"{url}#list",
                "type": "BitstringStatusList",
                "statusPurpose": "revocation",
                "encodedList": encode_bits(ones, size),
            },
        },
        key,
        kind="vc+jwt",
    )


class StatusLedger:
    """The issuer's private list of places and revocations.

    Parameters
    ----------
    path : Path
        The ledger file.
    """

    def __init__(self, path: Path) -> None:
        self.path = path

    def create(self, url: str, size: int = SHORTEST) -> None:
        """Begin a ledger for the list at an address; nothing happens if there is one already."""
        with locked(self.path):
            if not self.path.exists():
                seed = secrets.token_hex(32)
                self._write({"url": url, "size": size, "seed": seed, "places": {}, "revoked": {}})

    def entry(self, credential_id: str) -> StatusEntry:
        """Give a credential its place; the same one however often it is asked for."""
        with locked(self.path):
            data = self._data()
            places: dict[str, int] = data["places"]
            if credential_id not in places:
                taken, turn = set(places.values()), 0
                if len(taken) >= data["size"] // 2:
                    raise AwardError(f"{self.path} is half full; begin a second list with another address")
                while (place := self._draw(data, f"place {turn} {credential_id}")) in taken:
                    turn += 1
                places[credential_id] = place
                self._write(data)
            return StatusEntry(data["url"], places[credential_id])

    def derive(self, purpose: str, about: str) -> bytes:
        """Give 32 bytes that only the issuer can know and that are the same each time."""
        return hmac.digest(bytes.fromhex(self._data()["seed"]), f"{purpose}\0{about}".encode(), "sha256")

    def revoke(self, credential_id: str, reason: str, on: datetime) -> None:
        """Revoke an award for good.

        Parameters
        ----------
        credential_id : str
            Which.
        reason : str
            Why, for the issuer's own file; at least ten characters.
        on : datetime
            When, with a time zone. A second revocation changes nothing.

        Raises
        ------
        AwardError
            If the award is unknown or no reason is given.
        """
        if len(reason.strip()) < 10:
            raise AwardError("a revocation needs a reason of at least ten characters")
        with locked(self.path):
            data = self._data()
            if credential_id not in data["places"]:
                raise AwardError(f"{credential_id} was not issued here; {len(data['places'])} awards were")
            data["revoked"].setdefault(credential_id, {"on": utc_text(on), "reason": reason.strip()})
            self._write(data)

    def revoked(self) -> dict[str, dict[str, str]]:
        """Give all revocations with day and reason by credential."""
        found: dict[str, dict[str, str]] = self._data()["revoked"]
        return found

    def publish(self, key: SigningKey, issued: datetime, days: int = 30) -> str:
        """Sign the list as it stands."""
        data = self._data()
        ones = [data["places"][name] for name in data["revoked"]]
        return sign_status_list(data["url"], ones, key, issued=issued, days=days, size=data["size"])

    def _draw(self, data: dict[str, Any], about: str) -> int:
        digest = hashlib.sha256(bytes.fromhex(data["seed"]) + about.encode()).digest()
        return int.from_bytes(digest, "big") % int(data["size"])

    def _data(self) -> dict[str, Any]:
        try:
            data: dict[str, Any] = json.loads(read_limited(self.path, 50_000_000))
            if not {"url", "size", "seed", "places", "revoked"} <= data.keys():
                raise ValueError("an entry is missing")
        except (ValueError, AttributeError) as error:
            raise AwardError(f"{self.path} is damaged: {error}; restore it from a backup") from error
        return data

    def _write(self, data: dict[str, Any]) -> None:
        write_atomic(self.path, json.dumps(data, indent=1).encode(), mode=0o600)
