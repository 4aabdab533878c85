"""Who receives an award, and how the credential tells it without naming anybody.

The credential holds salted hashes of the name and, if given, of the e-mail address (the badge standard's identity
object). Who knows the name can check it; who only finds the token learns no name. The salt stands in the token, so a
guessed name can be tried: the hash hides from readers, not from searchers.

References: open_badges_3.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from autograde.award.errors import AwardError

__all__ = ["Recipient", "identities", "identity_hash", "tidy_identity"]


@dataclass(frozen=True)
class Recipient:
    """Who receives the award.

    Parameters
    ----------
    name : str
        As printed on the certificate.
    salt : str
        At least 32 hexadecimal digits.
    email : str
        If it may be checked.
    """

    name: str
    salt: str
    email: str = ""

    def __post_init__(self) -> None:
        if not self.name.strip() or not re.match(r"[0-9a-f]{32,}\Z", self.salt):
            raise AwardError("a recipient needs a name, and a salt of at least 32 hexadecimal digits")


def identity_hash(identity: str, salt: str) -> str:
    """Hash an identity as the badge standard does.

    Parameters
    ----------
    identity : str
        A name or an e-mail address.
    salt : str
        Appended before hashing.

    Returns
    -------
    str
        ``sha256$`` and 64 hexadecimal digits.

    References
    ----------
    open_badges_3

    Examples
    --------
    >>> identity_hash("a@example.com", "Kosher")
    'sha256$b5809d8a92f8858436d7e6b87c12ebc0ae1eac4baecc2c0b913aee2c922ef399'
    """
    return "sha256$" + hashlib.sha256((identity + salt).encode()).hexdigest()


def tidy_identity(identity: str, kind: str) -> str:
    """Write a name or address in one way, so that blanks and composed letters do not change its hash."""
    tidy = " ".join(unicodedata.normalize("NFC", identity).split())
    return tidy.lower() if kind == "emailAddress" else tidy


def identities(recipient: Recipient) -> Iterable[dict[str, Any]]:
    """Give the identity objects of a recipient."""
    for kind, identity in (("name", recipient.name), ("emailAddress", recipient.email)):
        if identity.strip():
            yield {
                "type": "IdentityObject",
                "hashed": True,
                "identityHash": identity_hash(tidy_identity(identity, kind), recipient.salt),
                "identityType": kind,
                "salt": recipient.salt,
            }
