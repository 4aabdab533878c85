"""A token inside a file: put into a PDF or a PNG, and taken out of a file that may come from anybody.

In a PNG the token is an ``iTXt`` chunk, as the badge standard says. In a PDF it is an attached file; and since the
page shows a name that the token only holds as a hash, the last line of the file is a seal: a signed SHA-256 of every
byte before it. Nothing of a PDF or PNG is rendered or unpacked here.

References: open_badges_3, w3c_png, iso_32000_2.
"""

from __future__ import annotations

import hashlib
import re
import struct
import zlib
from dataclasses import dataclass

from autograde.award.errors import AwardError
from autograde.award.keys import SigningKey
from autograde.award.tokens import COMPACT, LONGEST_TOKEN, sign_token

__all__ = ["Extracted", "bake_png", "extract", "seal_pdf"]

PNG = b"\x89PNG\r\n\x1a\n"
KEYWORD = b"openbadgecredential"
SEAL_LINE = re.compile(rb"\n%award-seal ([A-Za-z0-9_.-]{1,4000})\n\Z")
SEAL_KIND = "pdf-seal+jwt"


@dataclass(frozen=True)
class Extracted:
    """What was found in a file.

    Parameters
    ----------
    kind : str
        "token", "PDF" or "PNG".
    token : str
        The credential's token.
    seal : str
        Token of the PDF's seal; empty if there is none.
    sha256 : str
        Of the bytes under the seal, in hexadecimal.
    """

    kind: str
    token: str
    seal: str = ""
    sha256: str = ""


def extract(content: bytes) -> Extracted:
    """Take the token out of a file.

    Parameters
    ----------
    content : bytes
        A token as text, a PDF or a PNG.

    Returns
    -------
    Extracted
        Not trusted yet.

    Raises
    ------
    AwardError
        If there is no token, more than one, or the file is damaged.
    """
    if content.startswith(PNG):
        return Extracted("PNG", _from_png(content))
    if content.startswith(b"%PDF-"):
        return _from_pdf(content)
    return Extracted("token", _as_token(content.removesuffix(b"\n").removesuffix(b"\r"), "the file"))


def bake_png(png: bytes, token: str) -> bytes:
    """Put a token into a picture.

    Parameters
    ----------
    png : bytes
        A PNG without a token.
    token : str
        The credential's token.

    Returns
    -------
    bytes
        The same picture with the token in front of its end.

    Raises
    ------
    AwardError
        If it is no PNG or holds a token already.
    """
    if any(kind == b"iTXt" and data.startswith(KEYWORD + b"\0") for kind, data in _chunks(png)):
        raise AwardError("the picture holds a credential already; begin with the plain picture")
    data = b"iTXt" + KEYWORD + b"\0" * 5 + token.encode()
    chunk = struct.pack(">I", len(data) - 4) + data + struct.pack(">I", zlib.crc32(data))
    return png[:-12] + chunk + png[-12:]


def seal_pdf(pdf: bytes, credential_id: str, key: SigningKey) -> bytes:
    """Seal a PDF so that every byte of it is vouched for.

    Parameters
    ----------
    pdf : bytes
        The finished file.
    credential_id : str
        Of the credential attached to it.
    key : SigningKey
        The issuer's.

    Returns
    -------
    bytes
        The file with its seal as last line, a comment to PDF readers.
    """
    body = pdf.rstrip(b"\n")
    claims = {"jti": credential_id, "sha256": hashlib.sha256(body).hexdigest()}
    return body + b"\n%award-seal " + sign_token(claims, key, kind=SEAL_KIND).encode() + b"\n"


def _from_pdf(content: bytes) -> Extracted:
    found = SEAL_LINE.search(content, max(0, len(content) - 5000))
    body = content[: found.start()] if found else content
    tokens = set()
    for part in body.split(b"endstream")[:-1]:
        candidate = part.rpartition(b"stream")[2].strip(b"\r\n")
        if candidate.startswith(b"eyJ") and len(candidate) <= LONGEST_TOKEN:
            tokens.add(candidate)
    if not tokens:
        raise AwardError("this PDF has no award attached as it was issued; use the file as it came from the issuer")
    if len(tokens) > 1:
        raise AwardError("this PDF has several awards attached, so it was put together by somebody else")
    token = _as_token(tokens.pop(), "the attached award")
    return Extracted("PDF", token, found[1].decode() if found else "", hashlib.sha256(body).hexdigest())


def _from_png(content: bytes) -> str:
    texts = [data for kind, data in _chunks(content) if kind == b"iTXt" and data.startswith(KEYWORD + b"\0")]
    if not texts:
        raise AwardError("this picture holds no award; use the file as it came from the issuer")
    if len(texts) > 1:
        raise AwardError("this picture holds several awards; the badge standard allows one")
    rest = texts[0].removeprefix(KEYWORD + b"\0")
    if rest[:4] != b"\0\0\0\0":
        raise AwardError("the award in this picture is compressed or tagged with a language, which is not allowed")
    return _as_token(rest[4:], "the award in this picture")


def _chunks(content: bytes) -> list[tuple[bytes, bytes]]:
    """Walk through a PNG, checking every checksum, up to its very end."""
    if not content.startswith(PNG):
        raise AwardError("this is no PNG picture")
    chunks, place = [], len(PNG)
    while place < len(content):
        length = int.from_bytes(content[place : place + 4], "big")
        data = content[place + 4 : place + 8 + length]
        checksum = content[place + 8 + length : place + 12 + length]
        if len(checksum) != 4 or zlib.crc32(data) != int.from_bytes(checksum, "big"):
            raise AwardError("this picture is damaged: a checksum in it does not fit")
        chunks.append((data[:4], data[4:]))
        place += 12 + length
    if not chunks or chunks[-1] != (b"IEND", b"") or sum(kind == b"IEND" for kind, _ in chunks) != 1:
        raise AwardError("this picture is cut off, or something was added after its end")
    return chunks


def _as_token(content: bytes, where: str) -> str:
    try:
        token = content.decode("ascii")
    except UnicodeDecodeError as error:
        raise AwardError(f"{where} holds no signed token; give a .jwt, .pdf or .png file from the issuer") from error
    if len(token) > LONGEST_TOKEN or not COMPACT.match(token):
        raise AwardError(f"{where} holds no signed token; give a .jwt, .pdf or .png file from the issuer")
    return token
