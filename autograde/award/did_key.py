"""Public Ed25519 keys written as ``did:key``: the key itself is the name, nothing has to be looked up.

References: w3c_did_key.
"""

from __future__ import annotations

from autograde.award.errors import AwardError

__all__ = ["decode_base58", "did_key", "encode_base58", "key_url", "public_bytes"]

ALPHABET = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"
ED25519 = bytes([0xED, 0x01])
"""Multicodec prefix of an Ed25519 public key."""


def encode_base58(data: bytes) -> str:
    """Write bytes in base 58 with the alphabet that leaves out look-alikes.

    Examples
    --------
    >>> encode_base58(b"Hello World!")
    '2NEpo7TZRRrLZSi2U'
    """
    number, digits = int.from_bytes(data, "big"), ""
    while number:
        number, digit = divmod(number, 58)
        digits = ALPHABET[digit] + digits
    return ALPHABET[0] * (len(data) - len(data.lstrip(b"\0"))) + digits


def decode_base58(text: str) -> bytes:
    """Read bytes from base 58; AwardError for another sign."""
    number = 0
    for sign in text:
        digit = ALPHABET.find(sign)
        if digit < 0:
            raise AwardError(f"{sign!r} does not occur in base 58; the text was damaged")
        number = number * 58 + digit
    zeros = len(text) - len(text.lstrip(ALPHABET[0]))
    return b"\0" * zeros + number.to_bytes((number.bit_length() + 7) // 8, "big")


def did_key(public: bytes) -> str:
    """Name a public key.

    Parameters
    ----------
    public : bytes
        32 bytes of an Ed25519 public key.

    Returns
    -------
    str
        ``did:key:z6Mk…``
    """
    return "did:key:z" + encode_base58(ED25519 + public)


def key_url(public: bytes) -> str:
    """Give the DID URL that stands as key id in a signed token."""
    name = did_key(public)
    return f"{name}#{name.removeprefix('did:key:')}"


def public_bytes(name: str) -> bytes:
    """Read the public key out of its name.

    Parameters
    ----------
    name : str
        ``did:key:z6Mk…``, with or without ``#…``.

    Returns
    -------
    bytes
        32 bytes.

    Raises
    ------
    AwardError
        If it is not the name of an Ed25519 key.
    """
    bare = name.strip().split("#")[0]
    if not bare.startswith("did:key:z") or len(bare) > 100:
        raise AwardError(f"{name[:60]!r} is no did:key of an Ed25519 key; it starts with did:key:z6Mk")
    data = decode_base58(bare.removeprefix("did:key:z"))
    if data[:2] != ED25519 or len(data) != 34:
        raise AwardError(f"{name[:60]!r} names a key of another kind; only Ed25519 is used here")
    return data[2:]
