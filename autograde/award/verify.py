"""Verify an award offline: from its file, the issuer's public key file and, if at hand, the status list.

Nothing is fetched, nothing inside the award is trusted before its signature holds, and every answer is a sentence.

References: open_badges_3, w3c_vc_jose_cose, w3c_bitstring_status_list.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import Any

from autograde.award.embed import SEAL_KIND, Extracted, extract
from autograde.award.errors import AwardError
from autograde.award.files import read_limited
from autograde.award.recipient import identity_hash, tidy_identity
from autograde.award.ring import KeyRing, PublicKey, read_ring, read_time
from autograde.award.schema import schema_problems
from autograde.award.status_check import check_status
from autograde.award.tokens import Opened, open_token, token_header

__all__ = ["Check", "Verdict", "Verification", "plain", "verify_award", "verify_file"]

LARGEST_FILE = 10_000_000


class Verdict(StrEnum):
    """What the checks together say."""

    VERIFIED = "verified"
    REVOCATION_UNKNOWN = "verified, but revocation was not checked"
    NOT_VERIFIED = "not verified"


@dataclass(frozen=True)
class Check:
    """One check: what it is about, whether it holds (None: not checked), and the answer in words."""

    about: str
    holds: bool | None
    sentence: str


@dataclass(frozen=True)
class Verification:
    """The answer.

    Parameters
    ----------
    verdict : Verdict
        All in one.
    checks : tuple of Check
        In the order in which they were made.
    facts : dict
        What the award says, only if its signature holds.
    """

    verdict: Verdict
    checks: tuple[Check, ...]
    facts: dict[str, str] = field(default_factory=dict)

    @property
    def holds(self) -> bool:
        """Whether nothing speaks against it."""
        return self.verdict is not Verdict.NOT_VERIFIED


def verify_file(
    award: Path,
    public_key: Path,
    status_list: Path | None = None,
    *,
    name: str = "",
    email: str = "",
    now: datetime | None = None,
) -> Verification:
    """Verify an award from files.

    Parameters
    ----------
    award : Path
        The ``.jwt``, ``.pdf`` or ``.png`` from the holder.
    public_key : Path
        The issuer's public key file, from the issuer and not from the holder.
    status_list : Path, optional
        The issuer's current status list.
    name, email : str
        Whom the award should belong to.
    now : datetime, optional
        With a time zone; the present time if left out.

    Returns
    -------
    Verification
        Never an exception for what the files hold.
    """
    try:
        ring = read_ring(read_limited(public_key, 1_000_000))
    except AwardError as error:
        return _refused("public key", error)
    try:
        content = read_limited(award, LARGEST_FILE)
        listed = read_limited(status_list, LARGEST_FILE) if status_list else None
    except AwardError as error:
        return _refused("file", error)
    return verify_award(content, ring, listed, name=name, email=email, now=now)


def verify_award(
    content: bytes,
    ring: KeyRing,
    status_list: bytes | None = None,
    *,
    name: str = "",
    email: str = "",
    now: datetime | None = None,
) -> Verification:
    """Verify an award from bytes; see `verify_file`."""
    now = now or datetime.now(UTC)
    try:
        found = extract(content)
        key, opened = _open(found.token, ring)
    except AwardError as error:
        return _refused("signature", error)
    credential = opened.payload
    checks = [Check("signature", True, "The token was signed by a key of the issuer and not changed since.")]
    checks.append(_form(opened))
    if not checks[-1].holds:
        return Verification(Verdict.NOT_VERIFIED, tuple(checks))
    checks += [_issuer(credential, ring), _key_time(credential, key), _claims(credential), _time(credential, now)]
    if found.kind == "PDF":
        checks.append(_page(found, ring, str(credential["id"])))
    status, sentence = check_status(credential, status_list, ring, now)
    checks.append(Check("revocation", status, plain(sentence)))
    checks += _recipient(credential, name, email)
    return Verification(_verdict(checks), tuple(checks), _facts(credential, found.token, ring))


def plain(text: object, longest: int = 300) -> str:
    """Make text from a file fit to be shown: no control characters, no half characters, not too long."""
    shown = "".join(sign if sign.isprintable() else " " for sign in str(text)[: longest + 1])
    shown = shown.encode("utf-8", "replace").decode("utf-8")
    return shown if len(shown) <= longest else shown[:longest] + "…"


def _open(token: str, ring: KeyRing) -> tuple[PublicKey, Opened]:
    kid = token_header(token).get("kid")
    keys = [key for key in ring.keys if kid in (None, key.kid)]
    if not keys:
        raise AwardError(
            f"the token says it was signed with {plain(kid, 120)}, which is none of the {len(ring.keys)} key(s) in the "
            "public key file; it is another issuer's, or the key file is old"
        )
    for key in keys[:-1]:
        try:
            return key, open_token(token, key.public)
        except AwardError:
            continue
    return keys[-1], open_token(token, keys[-1].public)


def _form(opened: Opened) -> Check:
    problems = schema_problems(opened.payload)
    if opened.header.get("typ") not in (None, "JWT", "vc+jwt"):
        problems.append("the token is of another kind")
    if "vc" in opened.payload:
        problems.append("the credential is wrapped as in an older version of the standard")
    if problems:
        return Check("form", False, plain("It is no credential of the badge standard: " + "; ".join(problems)))
    return Check("form", True, "It has all fields that the badge standard requires.")


def _issuer(credential: Mapping[str, Any], ring: KeyRing) -> Check:
    issuer = _id(credential["issuer"])
    if ring.issuer is None:
        return Check("issuer", None, f"The bare key does not say whose it is; the award names {plain(issuer, 120)}.")
    if issuer != ring.issuer.id:
        return Check(
            "issuer", False, f"The award names {plain(issuer, 120)}, the key file {plain(ring.issuer.id, 120)}."
        )
    return Check("issuer", True, f"It was issued by {plain(ring.issuer.name, 120)}.")


def _key_time(credential: Mapping[str, Any], key: PublicKey) -> Check:
    try:
        trouble = key.trouble_at(read_time(credential["validFrom"]))
    except AwardError as error:
        trouble = str(error)
    if trouble:
        return Check("key", False, plain(f"The key did not count when the award was signed: {trouble}."))
    return Check("key", True, "The key was in use when the award was signed.")


def _claims(credential: Mapping[str, Any]) -> Check:
    subject = credential["credentialSubject"]
    wanted: dict[str, Any] = {
        "iss": _id(credential["issuer"]),
        "jti": credential["id"],
        "sub": subject.get("id"),
    }
    try:
        wanted["nbf"] = int(read_time(credential["validFrom"]).timestamp())
        if "validUntil" in credential or "exp" in credential:
            wanted["exp"] = int(read_time(credential.get("validUntil")).timestamp())
    except (AwardError, OverflowError, ValueError, OSError) as error:
        return Check("claims", False, plain(f"A time in the award cannot be read: {error}."))
    wrong = [name for name, value in wanted.items() if credential.get(name) != value]
    if wrong:
        return Check("claims", False, f"The token's {', '.join(wrong)} do not agree with the credential in it.")
    return Check("claims", True, "Token and credential agree.")


def _time(credential: Mapping[str, Any], now: datetime) -> Check:
    try:
        start = read_time(credential["validFrom"])
        end = read_time(credential["validUntil"]) if "validUntil" in credential else None
    except AwardError as error:
        return Check("time", False, plain(f"A time in the award cannot be read: {error}."))
    if now < start:
        return Check("time", False, f"It holds only from {credential['validFrom']} on.")
    if end and now > end:
        return Check("time", False, f"It held until {credential['validUntil']} and has expired.")
    until = f"until {credential['validUntil']}" if end else "without end"
    return Check("time", True, f"It holds from {credential['validFrom']} {until}.")


def _page(found: Extracted, ring: KeyRing, credential_id: str) -> Check:
    changed = "the page was changed since it was issued; rely on nothing that is printed on it"
    if not found.seal:
        return Check("page", False, f"The PDF has no seal at its end: {changed}.")
    try:
        key, seal = _open(found.seal, ring)
    except AwardError:
        return Check("page", False, f"The seal of the PDF is not by the issuer: {changed}.")
    if key.compromised_since:
        return Check(
            "page", False, "The issuer gave up the key of the PDF's seal: rely on nothing that is printed on it."
        )
    if seal.header.get("typ") != SEAL_KIND or seal.payload.get("jti") != credential_id:
        return Check("page", False, f"The seal of the PDF belongs to another award: {changed}.")
    if seal.payload.get("sha256") != found.sha256:
        return Check("page", False, f"The seal of the PDF does not fit: {changed}.")
    return Check("page", True, "The printed page, with the name on it, is as the issuer made it.")


def _recipient(credential: Mapping[str, Any], name: str, email: str) -> list[Check]:
    objects = credential["credentialSubject"].get("identifier", [])
    checks = []
    for kind, known in (("name", name), ("emailAddress", email)):
        if not known.strip():
            continue
        what = "name" if kind == "name" else "e-mail address"
        fits = any(_same(entry, tidy_identity(known, kind)) for entry in objects if entry["identityType"] == kind)
        sentence = f"It was issued to this {what}." if fits else f"It was not issued to this {what}, or not so written."
        checks.append(Check("recipient", fits, sentence))
    return checks or [Check("recipient", None, "Whom it belongs to was not checked: no name was given to compare.")]


def _same(entry: Mapping[str, Any], known: str) -> bool:
    told = str(entry["identityHash"])
    return told.lower() == identity_hash(known, str(entry.get("salt", ""))) if entry["hashed"] else told == known


def _facts(credential: Mapping[str, Any], token: str, ring: KeyRing) -> dict[str, str]:
    subject, achievement = credential["credentialSubject"], credential["credentialSubject"]["achievement"]
    issuer = credential["issuer"]
    facts = {
        "award": achievement["name"],
        "issuer": issuer.get("name", _id(issuer)) if isinstance(issuer, dict) else issuer,
        "awarded": credential.get("awardedDate", credential["validFrom"]),
        "credential": credential["id"],
        "criteria": achievement["criteria"].get("narrative", ""),
        "token SHA-256": hashlib.sha256(token.encode()).hexdigest(),
    }
    if ring.issuer and ring.issuer.demo:
        facts["note"] = "An invented demonstration: the school and the trainees do not exist."
    named = {entry["id"]: entry["name"] for entry in achievement.get("resultDescription", [])}
    for result in subject.get("result", []):
        title = named.get(result.get("resultDescription"), "result")
        facts[f"result: {plain(title, 80)}"] = f"{result.get('value', '')} %"
    return {name: plain(value, 2000 if name == "criteria" else 300) for name, value in facts.items()}


def _verdict(checks: list[Check]) -> Verdict:
    if any(check.holds is False for check in checks):
        return Verdict.NOT_VERIFIED
    unknown = any(check.about == "revocation" and check.holds is None for check in checks)
    return Verdict.REVOCATION_UNKNOWN if unknown else Verdict.VERIFIED


def _refused(about: str, error: AwardError) -> Verification:
    sentence = plain(str(error)[:1].upper() + str(error)[1:] + ".", 400)
    return Verification(Verdict.NOT_VERIFIED, (Check(about, False, sentence),))


def _id(issuer: Any) -> Any:
    return issuer["id"] if isinstance(issuer, dict) else issuer
