"""Issue, revoke and forget: each step can be killed and run again, and then gives the same files.

An award's number, its salt and its place in the status list follow from the ledger's seed and the decision's entry in
the record; its date is that of the entry which records the issue. So whatever was written before a kill is written
again byte for byte.
"""

from __future__ import annotations

import shutil
import uuid
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from autograde.award.badge import badge_png
from autograde.award.blueprint import Blueprint
from autograde.award.certificate import Certificate, certificate_pdf
from autograde.award.chain import Entry, canonical
from autograde.award.credential import build_credential, sign_credential
from autograde.award.embed import seal_pdf
from autograde.award.errors import AwardError
from autograde.award.files import locked, write_atomic
from autograde.award.keys import SigningKey
from autograde.award.outcome import Decision
from autograde.award.recipient import Recipient
from autograde.award.record import Record
from autograde.award.ring import read_time
from autograde.award.standard import Standard
from autograde.award.status import StatusLedger

__all__ = ["DECISION", "ISSUED", "REVOKED", "Desk", "Issued", "forget_trainee", "issue_award", "record_decision"]

DECISION, ISSUED, REVOKED = "decision", "award issued", "award revoked"


@dataclass(frozen=True)
class Desk:
    """What issuing needs.

    Parameters
    ----------
    folder : Path
        Where the awards are put, one folder each.
    blueprint, standard
        What decisions are made by.
    record : Record
        Of decisions.
    ledger : StatusLedger
        Of places in the status list; made before.
    key : SigningKey
        The issuer's, opened.
    """

    folder: Path
    blueprint: Blueprint
    standard: Standard
    record: Record
    ledger: StatusLedger
    key: SigningKey

    def revoke(self, credential_id: str, reason: str, by: str) -> None:
        """Revoke an award for good and record it; the new status list has still to be published.

        Parameters
        ----------
        credential_id : str
            Which.
        reason : str
            Why, at least ten characters; kept as personal data.
        by : str
            Who decided it.

        Raises
        ------
        AwardError
            If the award is unknown or no reason is given.
        """
        if len(reason.strip()) < 10 or not by.strip():
            raise AwardError("a revocation needs a name and a reason of at least ten characters")
        issued = [e for e in self.record.entries() if e.kind == ISSUED and e.body.get("credential") == credential_id]
        if not issued:
            raise AwardError(f"{credential_id} was not issued here; look its number up in the record")
        trainee = (self.record.personal(issued[-1].n) or {}).get("trainee", "")
        private = {"trainee": trainee, "by": by.strip(), "reason": reason.strip()}
        entry = self.record.append_once(REVOKED, {"credential": credential_id}, private)
        self.ledger.revoke(credential_id, f"entry {entry.n} of the record of decisions", read_time(entry.time))

    def publish_status(self, path: Path, on: datetime, days: int = 30) -> None:
        """Sign the status list as it stands and write it."""
        write_atomic(path, self.ledger.publish(self.key, on, days).encode())


@dataclass(frozen=True)
class Issued:
    """Where an award's files are, and its number."""

    credential_id: str
    token: Path
    certificate: Path
    badge: Path


def record_decision(record: Record, decision: Decision) -> Entry:
    """Put a decision into the record once, its personal part beside it."""
    return record.append_once(DECISION, decision.public(), decision.personal())


def issue_award(
    desk: Desk,
    entry: Entry,
    decision: Decision,
    *,
    name: str,
    email: str = "",
    name_font: Path | None = None,
    again: int = 0,
) -> Issued:
    """Issue the award that a recorded decision gives.

    Parameters
    ----------
    desk : Desk
        The issuing office.
    entry : Entry
        From `record_decision`.
    decision : Decision
        The same decision.
    name, email : str
        Of the recipient; the address only if it may be checked.
    name_font : Path, optional
        For a name in a script that the certificate's font does not have.
    again : int
        How many awards of this decision were issued and revoked before; each has a number of its own.

    Returns
    -------
    Issued
        Token, sealed certificate and badge, written in this order.

    Raises
    ------
    AwardError
        If the decision is no award or not the recorded one, or a part cannot be made. Then nothing is half made: run
        it again when the cause is gone.
    """
    if canonical(decision.public()) != canonical(dict(entry.body)) or entry.kind != DECISION:
        raise AwardError(f"entry {entry.n} of the record is another decision; record this one first")
    derived = desk.ledger.derive("credential", f"{entry.hash}|{again}" if again else entry.hash)
    credential_id = uuid.UUID(bytes=derived[:16], version=4).urn
    subject_id = uuid.UUID(bytes=derived[16:], version=4).urn
    recipient = Recipient(name, desk.ledger.derive("salt", entry.hash)[:16].hex(), email)
    status = desk.ledger.entry(credential_id)
    issued = desk.record.append_once(
        ISSUED,
        {"credential": credential_id, "decision": entry.hash, "key": desk.key.kid},
        {"trainee": decision.trainee, "name": name, "email": email},
    )
    issued_at, awarded_at = read_time(issued.time), read_time(entry.time)
    credential = build_credential(
        decision,
        desk.blueprint,
        desk.standard,
        recipient,
        desk.key,
        credential_id=credential_id,
        subject_id=subject_id,
        issued=issued_at,
        awarded=awarded_at,
        status=status,
        entry=(entry.n, entry.hash),
    )
    token = sign_credential(credential, desk.key)
    certificate = Certificate(
        issuer=desk.key.issuer,
        blueprint=desk.blueprint,
        standard=desk.standard,
        results=decision.competencies,
        recipient=name,
        awarded=awarded_at,
        valid_until=read_time(credential["validUntil"]) if "validUntil" in credential else None,
        credential_id=credential_id,
        kid=desk.key.kid,
        token=token,
        name_font=name_font,
    )
    pdf = seal_pdf(certificate_pdf(certificate), credential_id, desk.key)
    png = badge_png(desk.blueprint.title, desk.key.issuer, entry.time[:10], token)
    place = award_folder(desk.folder, credential_id)
    files = Issued(credential_id, place / "award.jwt", place / "certificate.pdf", place / "badge.png")
    with locked(desk.folder / "issue"):
        for path, content in ((files.token, token.encode()), (files.certificate, pdf), (files.badge, png)):
            write_atomic(path, content)
    return files


def award_folder(folder: Path, credential_id: str) -> Path:
    """Say where the files of an award lie."""
    return folder / str(uuid.UUID(credential_id))


def forget_trainee(folder: Path, record: Record, trainee: str) -> int:
    """Delete the personal data of a trainee: the issuer's copies of awards, then the personal parts of the record.

    Parameters
    ----------
    folder : Path
        Where the awards are.
    record : Record
        Of decisions; it stays whole, and so do its statistics.
    trainee : str
        Id or pseudonym.

    Returns
    -------
    int
        How many personal parts were deleted. Backups have to be dealt with apart.
    """
    for entry in record.entries():
        if entry.kind == ISSUED and (record.personal(entry.n) or {}).get("trainee") == trainee:
            shutil.rmtree(award_folder(folder, entry.body["credential"]), ignore_errors=True)
    return record.forget(trainee)
