"""Compact JWS with Ed25519: signing, and reading that fails closed.

The credential is secured as a JSON Web Token and not with an embedded proof: the badge standard's certification text
for issuers names JWT or the suite ``eddsa-rdfc-2022`` only. The latter needs RDF canonicalization of JSON-LD; the suite
that canonicalizes plain JSON (``eddsa-jcs-2022``) makes a valid credential that badge hosts need not accept.

References: rfc_7515, rfc_7519, rfc_8037, open_badges_3, w3c_vc_jose_cose.
"""

from __future__ import annotations

import base64
import binascii
import json
import re
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
from joserfc import jws
from joserfc.errors import JoseError, SecurityWarning
from joserfc.jwk import OKPKey

from autograde.award.chain import canonical
from autograde.award.errors import AwardError
from autograde.award.keys import SigningKey

__all__ = ["LONGEST_TOKEN", "Opened", "open_token", "sign_token", "token_header", "token_payload"]

LONGEST_TOKEN = 120_000
COMPACT = re.compile(r"[A-Za-z0-9_-]+\.[A-Za-z0-9_-]+\.[A-Za-z0-9_-]+\Z")
ALGORITHMS = ("EdDSA", "Ed25519")
"""The name of the curve's signature, and the newer fully specified name (rfc_9864)."""


@dataclass(frozen=True)
class Opened:
    """A token whose signature holds: its header and its payload."""

    header: Mapping[str, Any]
    payload: Mapping[str, Any]


def sign_token(payload: Mapping[str, Any], key: SigningKey, kind: str = "JWT") -> str:
    """Sign a payload.

    Parameters
    ----------
    payload : mapping
        Of JSON kinds; signed as canonical JSON, so equal payloads give equal tokens.
    key : SigningKey
        The issuer's.
    kind : str
        The header ``typ``; the badge standard allows only ``JWT`` for its credentials.

    Returns
    -------
    str
        Header, payload and signature in base64url, joined by dots.

    Raises
    ------
    AwardError
        If the payload cannot be written exactly.
    """
    header = {"alg": "EdDSA", "kid": key.kid, "typ": kind}
    with _older_name():
        return jws.serialize_compact(header, canonical(dict(payload)), OKPKey.import_key(key.private), ["EdDSA"])


def token_header(token: str) -> dict[str, Any]:
    """Read the header of a token without trusting it.

    Parameters
    ----------
    token : str
        A compact JWS.

    Returns
    -------
    dict
        With ``alg`` one of the two names of Ed25519, and ``kid``, if there, a text.

    Raises
    ------
    AwardError
        If it is no token, or asks for something that is not done here.
    """
    if len(token) > LONGEST_TOKEN:
        raise AwardError(f"the token has {len(token)} characters, more than any award needs")
    if not COMPACT.match(token):
        raise AwardError("this is no signed token: three parts joined by dots, without blanks or line ends, are needed")
    header = _json(_decode(token.split(".")[0]), "the token's header")
    if header.get("alg") not in ALGORITHMS:
        raise AwardError(f"the token is signed as {str(header.get('alg'))[:20]!r}; only Ed25519 is accepted")
    unknown = header.keys() - {"alg", "kid", "typ", "cty", "jwk"}
    if unknown:
        raise AwardError(f"the token's header asks for {', '.join(sorted(unknown))[:60]}, which is not understood here")
    if not isinstance(header.get("kid", ""), str):
        raise AwardError("the token's key id is no text")
    return header


def token_payload(token: str) -> dict[str, Any]:
    """Read the payload of a token without trusting it; AwardError as `token_header`."""
    token_header(token)
    return _json(_decode(token.split(".")[1]), "the token's content")


def open_token(token: str, public: bytes) -> Opened:
    """Check the signature of a token, then read it.

    Parameters
    ----------
    token : str
        A compact JWS.
    public : bytes
        The issuer's Ed25519 public key, 32 bytes. A key inside the token is never used.

    Returns
    -------
    Opened
        Header and payload.

    Raises
    ------
    AwardError
        If it is no token, or the signature is not by this key over exactly these characters.
    """
    header = token_header(token)
    for part in token.split("."):
        _decode(part)
    key = OKPKey.import_key(Ed25519PublicKey.from_public_bytes(public))
    try:
        with _older_name():
            payload = jws.deserialize_compact(token, key, algorithms=list(ALGORITHMS)).payload
    except (JoseError, ValueError, TypeError, KeyError) as error:
        raise AwardError("the signature does not fit: the token was changed, or signed by another key") from error
    return Opened(header, _json(payload, "the token's content"))


@contextmanager
def _older_name() -> Iterator[None]:
    """Let the library not warn of the name ``EdDSA``: readers of badges know it, few know the newer one."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", SecurityWarning)
        yield


def _decode(part: str) -> bytes:
    """Read base64url that could not have been written otherwise."""
    try:
        data = base64.b64decode(part + "=" * (-len(part) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError) as error:
        raise AwardError("the token is damaged: a part of it is no base64url") from error
    if base64.urlsafe_b64encode(data).rstrip(b"=").decode() != part:
        raise AwardError("the token was changed: a part of it is not as it was written")
    return data


def _json(data: bytes, what: str) -> dict[str, Any]:
    try:
        value = json.loads(data.decode("utf-8"), object_pairs_hook=_once, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise AwardError(f"{what} is no valid JSON") from error
    if not isinstance(value, dict):
        raise AwardError(f"{what} is no JSON object")
    return value


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len({name for name, _ in pairs}) != len(pairs):
        raise ValueError("a name occurs twice")
    return dict(pairs)


def _no_constant(name: str) -> Any:
    raise ValueError(f"{name} is no JSON number")
