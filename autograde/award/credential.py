"""The award as a verifiable credential: an Open Badges 3.0 AchievementCredential in the W3C data model 2.0.

References: open_badges_3, w3c_vc_data_model_2, w3c_bitstring_status_list.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from autograde.award.blueprint import Blueprint
from autograde.award.errors import AwardError
from autograde.award.keys import SigningKey
from autograde.award.outcome import Decision, Outcome
from autograde.award.recipient import Recipient, identities
from autograde.award.ring import read_time, utc_text
from autograde.award.schema import schema_problems
from autograde.award.standard import Standard
from autograde.award.tokens import sign_token

__all__ = [
    "CONTEXTS",
    "SCOPE_OF_PRACTICE",
    "StatusEntry",
    "build_credential",
    "sign_credential",
]

CONTEXTS = ["https://www.w3.org/ns/credentials/v2", "https://purl.imsglobal.org/spec/ob/v3p0/context-3.0.3.json"]
PUBLISHED_SCHEMA = "https://purl.imsglobal.org/spec/ob/v3p0/schema/json/ob_v3p0_achievementcredential_schema.json"
SCOPE_OF_PRACTICE = (
    "This award shows assessed competence in fitting bicycles. It does not license medical or physiotherapeutic "
    "practice: no diagnosis, no treatment, no orthoses as treatment. Pain, numbness and red flags are referred to a "
    "physician or physiotherapist."
)


@dataclass(frozen=True)
class StatusEntry:
    """Where revocation is looked up: address of the list, and the place in it (0 or more)."""

    url: str
    index: int


def build_credential(
    decision: Decision,
    blueprint: Blueprint,
    standard: Standard,
    recipient: Recipient,
    key: SigningKey,
    *,
    credential_id: str,
    subject_id: str,
    issued: datetime,
    awarded: datetime,
    status: StatusEntry | None = None,
    entry: tuple[int, str] | None = None,
) -> dict[str, Any]:
    """Build the credential of an award.

    Parameters
    ----------
    decision : Decision
        With the outcome award.
    blueprint, standard
        What the decision was made by.
    recipient : Recipient
        Hashed, never named.
    key : SigningKey
        Its issuer issues.
    credential_id, subject_id : str
        URIs, such as ``urn:uuid:…``; the second stands for the recipient in this credential only.
    issued, awarded : datetime
        With a time zone: from when on the credential holds, and when the award was decided.
    status : StatusEntry, optional
        Where revocation is looked up.
    entry : tuple, optional
        Number and hash of the decision in the record, which anchors the record as well.

    Returns
    -------
    dict
        Of JSON kinds, checked against `schema_problems`.

    Raises
    ------
    AwardError
        If there is no award to issue, or a required field is missing or wrong.
    """
    if decision.outcome is not Outcome.AWARD:
        raise AwardError(f"there is nothing to issue: the decision is: {decision.outcome}")
    issuer = key.issuer
    achievement_id = f"{issuer.id}#achievement-{blueprint.version}"
    title = f"{blueprint.title} (invented demonstration)" if issuer.demo else blueprint.title
    credential: dict[str, Any] = {
        "@context": CONTEXTS,
        "id": credential_id,
        "type": ["VerifiableCredential", "OpenBadgeCredential"],
        "name": title,
        "issuer": {"id": issuer.id, "type": ["Profile"], "name": issuer.name},
        "validFrom": utc_text(issued),
        "awardedDate": utc_text(awarded),
        "credentialSubject": {
            "id": subject_id,
            "type": ["AchievementSubject"],
            "identifier": list(identities(recipient)),
            "achievement": _achievement(achievement_id, title, blueprint, standard, issuer.demo),
            "result": [
                {
                    "type": ["Result"],
                    "resultDescription": f"{achievement_id}-{result.id}",
                    "value": f"{result.pct:.0f}",
                }
                for result in decision.competencies
            ],
        },
        "credentialSchema": [{"id": PUBLISHED_SCHEMA, "type": "1EdTechJsonSchemaValidator2019"}],
    }
    if blueprint.valid_years:
        credential["validUntil"] = utc_text(_years_later(issued, blueprint.valid_years))
    if status:
        credential["credentialStatus"] = {
            "id": f"{status.url}#{status.index}",
            "type": "BitstringStatusListEntry",
            "statusPurpose": "revocation",
            "statusListIndex": str(status.index),
            "statusListCredential": status.url,
        }
    if entry:
        narrative = f"Entry {entry[0]} of the issuer's record of decisions, SHA-256 {entry[1]}."
        credential["evidence"] = [{"type": ["Evidence"], "name": "Record of decisions", "narrative": narrative}]
    problems = schema_problems(credential)
    if problems:
        raise AwardError("the credential does not fulfil the badge standard: " + "; ".join(problems))
    return credential


def sign_credential(credential: Mapping[str, Any], key: SigningKey) -> str:
    """Sign a credential as the badge standard's JSON Web Token.

    Parameters
    ----------
    credential : mapping
        From `build_credential`.
    key : SigningKey
        The issuer's.

    Returns
    -------
    str
        The token. Its claims iss, jti, sub, nbf and exp repeat the credential, as the badge standard demands.
    """
    claims = {
        "iss": credential["issuer"]["id"],
        "jti": credential["id"],
        "sub": credential["credentialSubject"]["id"],
        "nbf": int(read_time(credential["validFrom"]).timestamp()),
    }
    if "validUntil" in credential:
        claims["exp"] = int(read_time(credential["validUntil"]).timestamp())
    return sign_token({**credential, **claims}, key)


def _achievement(
    achievement_id: str, title: str, blueprint: Blueprint, standard: Standard, demo: bool
) -> dict[str, Any]:
    assessed = [f"- {line}" for line in blueprint.assessed] or [f"- {c.name}" for c in blueprint.competencies]
    parts = ["Assessed:", *assessed]
    if blueprint.not_assessed:
        parts += ["", "Not assessed:", *(f"- {line}" for line in blueprint.not_assessed)]
    parts += ["", f"Standard: {standard.sentence}", "", f"Scope of practice: {SCOPE_OF_PRACTICE}"]
    achievement: dict[str, Any] = {
        "id": achievement_id,
        "type": ["Achievement"],
        "achievementType": "Certificate",
        "name": title,
        "version": blueprint.version,
        "description": blueprint.description or blueprint.title,
        "criteria": {"narrative": "\n".join(parts)},
        "resultDescription": [
            {
                "id": f"{achievement_id}-{competency.id}",
                "type": ["ResultDescription"],
                "name": competency.name,
                "resultType": "Percent",
                "requiredValue": f"{competency.minimum_pct:g}",
                "valueMin": "0",
                "valueMax": "100",
            }
            for competency in blueprint.competencies
        ],
    }
    if demo:
        achievement["tag"] = ["invented demonstration"]
    return achievement


def _years_later(time: datetime, years: int) -> datetime:
    try:
        return time.replace(year=time.year + years)
    except ValueError:  # 29 February
        return time.replace(year=time.year + years, day=28)
