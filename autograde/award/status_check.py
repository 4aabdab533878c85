"""Look an award up in a status list.

References: w3c_bitstring_status_list.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from autograde.award.errors import AwardError
from autograde.award.ring import KeyRing, read_time
from autograde.award.status import decode_bits, status_bit
from autograde.award.tokens import open_token, token_header

__all__ = ["check_status"]


def check_status(
    credential: Mapping[str, Any], status_list: bytes | None, ring: KeyRing, now: datetime
) -> tuple[bool | None, str]:
    """Tell whether a credential is revoked.

    Parameters
    ----------
    credential : mapping
        Whose signature and form hold.
    status_list : bytes or None
        The published list, a signed token.
    ring : KeyRing
        The issuer's keys.
    now : datetime
        With a time zone.

    Returns
    -------
    tuple
        True if it is not revoked, False if it is, None if that could not be found out; and a sentence.
    """
    entry = credential.get("credentialStatus")
    if entry is None:
        return True, "The issuer gave this award no place in a status list, so it cannot be revoked."
    if entry.get("type") != "BitstringStatusListEntry" or entry.get("statusPurpose") != "revocation":
        return None, "Revocation was not checked: the award uses a kind of status that is not understood here."
    if status_list is None:
        return (
            None,
            f"Revocation was not checked: no status list was given. It lies at {entry.get('statusListCredential')}.",
        )
    try:
        revoked = _bit(entry, status_list, ring)
        fresh = _fresh(status_list, ring, now)
    except AwardError as error:
        return None, f"Revocation was not checked: {error}."
    if revoked:
        return False, "The issuer has revoked this award."
    if fresh:
        return None, f"Revocation was not checked: {fresh}; ask the issuer for the present list."
    return True, "The issuer has not revoked this award, as the status list says."


def _bit(entry: Mapping[str, Any], status_list: bytes, ring: KeyRing) -> bool:
    payload = _open(status_list, ring)
    types, subject = payload.get("type"), payload.get("credentialSubject")
    if not isinstance(types, list) or "BitstringStatusListCredential" not in types or not isinstance(subject, dict):
        raise AwardError("the given file is no status list")
    if ring.issuer is not None and payload.get("issuer") != ring.issuer.id:
        raise AwardError("the given status list is by another issuer")
    if subject.get("type") != "BitstringStatusList" or subject.get("statusPurpose") != entry["statusPurpose"]:
        raise AwardError("the given status list serves another purpose")
    if payload.get("id") != entry.get("statusListCredential"):
        raise AwardError(f"the given status list is another one; needed is {entry.get('statusListCredential')}")
    if entry.get("statusSize", 1) != 1:
        raise AwardError("the award's status has more than one bit, which is not understood here")
    index, encoded = entry.get("statusListIndex"), subject.get("encodedList")
    if not (isinstance(index, str) and re.match(r"(0|[1-9]\d{0,11})\Z", index, re.ASCII) and isinstance(encoded, str)):
        raise AwardError("the award's place in the status list, or the list itself, is damaged")
    return status_bit(decode_bits(encoded), int(index))


def _fresh(status_list: bytes, ring: KeyRing, now: datetime) -> str:
    """Say why the list does not tell of the present; empty if it does."""
    payload = _open(status_list, ring)
    if now < read_time(payload.get("validFrom")):
        return f"the status list holds only from {payload.get('validFrom')} on"
    if "validUntil" in payload and now > read_time(payload["validUntil"]):
        return f"the status list is old, it held until {payload['validUntil']}"
    return ""


def _open(status_list: bytes, ring: KeyRing) -> dict[str, Any]:
    try:
        token = status_list.decode("ascii").strip()
    except UnicodeDecodeError as error:
        raise AwardError("the given status list is no signed token") from error
    kid = token_header(token).get("kid")
    key = ring.find(str(kid)) if kid is not None else ring.keys[-1]
    if key is None:
        raise AwardError("the given status list was signed with a key that is not in the public key file")
    payload = dict(open_token(token, key.public).payload)
    trouble = key.trouble_at(read_time(payload.get("validFrom")))
    if trouble:
        raise AwardError(f"the given status list does not count: {trouble}")
    return payload
