"""The printed certificate: one page that says what was and what was not assessed, with the signed award attached.

Equal content gives equal bytes. The page is not tagged for screen readers, which the PDF library cannot do; the same
words are in the credential's criteria and are read out by `verify`.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from reportlab.lib.pagesizes import A4  # type: ignore[import-untyped]
from reportlab.lib.units import mm  # type: ignore[import-untyped]
from reportlab.pdfgen.canvas import Canvas  # type: ignore[import-untyped]

from autograde.award import typeset as t
from autograde.award.blueprint import Blueprint
from autograde.award.credential import SCOPE_OF_PRACTICE
from autograde.award.errors import AwardError
from autograde.award.outcome import CompetencyResult
from autograde.award.ring import Issuer
from autograde.award.standard import Standard

__all__ = ["Certificate", "certificate_pdf", "qr_text"]

WIDTH, HEIGHT = A4
LEFT, RIGHT = 24 * mm, WIDTH - 20 * mm
GAP = 10 * mm
COLUMN = (RIGHT - LEFT - GAP) / 2
FOOT = 55 * mm
"""Height kept for QR code and verification."""
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


@dataclass(frozen=True)
class Certificate:
    """What the page says.

    Parameters
    ----------
    issuer : Issuer
        Whose award it is.
    blueprint, standard
        What was assessed, and how the cut was set.
    results : tuple of CompetencyResult
        What was earned.
    recipient : str
        Name as printed.
    awarded, valid_until : datetime, datetime or None
        Days are printed.
    credential_id, kid, token : str
        The credential's id, the id of the key that signed it, and the signed token.
    name_font : Path, optional
        A TrueType font for a name in another script.
    """

    issuer: Issuer
    blueprint: Blueprint
    standard: Standard
    results: tuple[CompetencyResult, ...]
    recipient: str
    awarded: datetime
    valid_until: datetime | None
    credential_id: str
    kid: str
    token: str
    name_font: Path | None = None


def qr_text(credential_id: str, token: str) -> str:
    """Give what the QR code says: which credential, and the SHA-256 of its token.

    The token itself is too long for a code that a phone reads from paper.
    """
    return f"AWARD {credential_id}\nSHA-256 {hashlib.sha256(token.encode()).hexdigest()}"


def certificate_pdf(certificate: Certificate) -> bytes:
    """Set the certificate.

    Parameters
    ----------
    certificate : Certificate
        What it says.

    Returns
    -------
    bytes
        A PDF of one page with the token attached as ``award.jwt``; not sealed yet.

    Raises
    ------
    AwardError
        If the text does not fit on one page, or a sign cannot be printed.
    """
    t.register_fonts()
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=A4, invariant=1, pageCompression=1, lang="en")
    issuer = t.check_glyphs(certificate.issuer.name)
    canvas.setTitle(f"{t.check_glyphs(certificate.blueprint.title)}: {t.check_glyphs(certificate.recipient)}"[:200])
    canvas.setAuthor(issuer)
    canvas.setSubject("Certificate of assessed competence")
    canvas.setCreator("Pedalwright")
    canvas.setFillColor(t.ACCENT)
    canvas.rect(0, 0, 7 * mm, HEIGHT, stroke=0, fill=1)
    top = _head(canvas, certificate)
    top = _columns(canvas, certificate, top - 7 * mm)
    top = _block(canvas, "Scope of practice", SCOPE_OF_PRACTICE, top - 5 * mm, tinted=True)
    top = _block(canvas, "How the standard was set", certificate.standard.sentence, top - 4 * mm)
    if top < FOOT:
        raise AwardError(
            f"the certificate is {(FOOT - top) / mm:.0f} mm too long for one page; shorten the lists of what was and "
            "was not assessed"
        )
    _foot(canvas, certificate)
    t.attach(canvas, "award.jwt", certificate.token.encode("ascii"), "The signed award")
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _head(canvas: Any, c: Certificate) -> float:
    """Issuer, award, name, days; gives the height reached."""
    y = HEIGHT - 16 * mm
    if c.issuer.demo:
        canvas.setFillColor(t.GOLD)
        canvas.rect(7 * mm, HEIGHT - 11 * mm, WIDTH - 7 * mm, 11 * mm, stroke=0, fill=1)
        words = "INVENTED DEMONSTRATION: this school and its trainees do not exist, nothing was assessed."
        _line(canvas, words, HEIGHT - 7 * mm, t.BOLD, 9, t.GOLD_INK)
        y -= 8 * mm
    _line(canvas, c.issuer.name, y, t.BOLD, 11, t.ACCENT)
    _line(canvas, "Certificate of assessed competence", y - 7 * mm, t.TEXT, 10, t.MUTED)
    y -= 19 * mm
    _line(canvas, c.blueprint.title, y, t.SERIF, 24, t.INK)
    _line(canvas, "awarded to", y - 9.5 * mm, t.TEXT, 10, t.MUTED)
    y -= 21 * mm
    _line(canvas, c.recipient, y, t.name_font(c.name_font), 28, t.INK)
    canvas.setStrokeColor(t.ACCENT)
    canvas.setLineWidth(1.2)
    canvas.line(LEFT, y - 4 * mm, LEFT + 42 * mm, y - 4 * mm)
    days = f"Awarded on {_day(c.awarded)}"
    days += f" · valid until {_day(c.valid_until)}" if c.valid_until else " · valid without end"
    _line(canvas, f"{days} · blueprint version {c.blueprint.version}", y - 10.5 * mm, t.TEXT, 9.5, t.INK)
    return float(y - 10.5 * mm)


def _columns(canvas: Any, c: Certificate, top: float) -> float:
    """Set side by side what was and what was not assessed, below it the results; gives the height reached."""
    second = LEFT + COLUMN + GAP
    left = _list(canvas, c.blueprint.assessed or ("see the results",), LEFT, _heading(canvas, "Assessed", LEFT, top))
    right = _heading(canvas, "Not assessed", second, top)
    right = _list(canvas, c.blueprint.not_assessed or ("nothing was named",), second, right)
    y = _heading(canvas, "Results, as a share of the marks", LEFT, min(left, right) - 4 * mm)
    for pair in zip(c.results[::2], (*c.results[1::2], None), strict=False):
        ends = [_result(canvas, result, x, y) for result, x in zip(pair, (LEFT, second), strict=True) if result]
        y = min(ends)
    return y


def _result(canvas: Any, result: CompetencyResult, x: float, y: float) -> float:
    """Name, share of marks as a bar with a notch at the minimum, and the same in words."""
    y = _paragraph(canvas, result.name, x, y, COLUMN, 9) - 4.2 * mm
    bar = COLUMN - 42 * mm
    canvas.setFillColor(t.FAINT)
    canvas.rect(x, y, bar, 2.2 * mm, stroke=0, fill=1)
    canvas.setFillColor(t.ACCENT)
    canvas.rect(x, y, bar * min(1.0, result.pct / 100), 2.2 * mm, stroke=0, fill=1)
    if result.minimum_pct:
        canvas.setStrokeColor(t.INK)
        canvas.setLineWidth(1)
        notch = x + bar * result.minimum_pct / 100
        canvas.line(notch, y - 0.8 * mm, notch, y + 3 * mm)
    words = f"{result.pct:.0f} %" + (f" (at least {result.minimum_pct:g} %)" if result.minimum_pct else "")
    canvas.setFillColor(t.INK)
    canvas.setFont(t.TEXT, 8.5)
    canvas.drawString(x + bar + 3 * mm, y, words)
    return float(y - 3 * mm)


def _list(canvas: Any, lines: Sequence[str], x: float, y: float) -> float:
    for line in lines:
        canvas.setFillColor(t.ACCENT)
        canvas.circle(x + 1.2 * mm, y - 2.6 * mm, 0.7 * mm, stroke=0, fill=1)
        y = _paragraph(canvas, line, x + 5 * mm, y, COLUMN - 5 * mm, 9) - 1.2 * mm
    return y


def _block(canvas: Any, heading: str, text: str, top: float, *, tinted: bool = False) -> float:
    pad = 3.5 * mm if tinted else 0
    body = t.paragraph(text, 9)
    _, height = body.wrap(RIGHT - LEFT - 2 * pad, HEIGHT)
    bottom = top - height - 6 * mm - 2 * pad
    if tinted:
        canvas.setFillColor(t.GOLD)
        canvas.rect(LEFT, bottom, RIGHT - LEFT, top - bottom, stroke=0, fill=1)
    under = _heading(canvas, heading, LEFT + pad, top - pad)
    body.drawOn(canvas, LEFT + pad, under - height)
    return float(bottom)


def _foot(canvas: Any, c: Certificate) -> None:
    """QR code and how to verify."""
    side = 36 * mm
    canvas.setStrokeColor(t.FAINT)
    canvas.setLineWidth(0.8)
    canvas.line(LEFT, FOOT - 3 * mm, RIGHT, FOOT - 3 * mm)
    t.draw_qr(canvas, qr_text(c.credential_id, c.token), LEFT - 3 * mm, FOOT - 4.5 * mm - side, side)
    x, y, width = LEFT + side + 1 * mm, FOOT - 6 * mm, RIGHT - LEFT - side - 1 * mm
    y = _heading(canvas, "Verify this award", x, y)
    how = (
        "This file carries the signed award. Get the issuer's public key file and status list from the issuer, then "
        "run, with no network: pedalwright verify FILE --key issuer.jwks.json --status status.jwt. A print shows "
        "nothing on its own: ask for the file. The code at the left holds the award's number and the SHA-256 of its "
        "token; both are shown again when the file is verified."
    )
    y = _paragraph(canvas, how, x, y, width, 8) - 2 * mm
    for label, value in (("Award", c.credential_id), ("Key", c.kid.split("#")[0]), ("Issuer", c.issuer.id)):
        y = _paragraph(canvas, f"{label}: {value}", x, y, width, 7.2, colour=t.MUTED)


def _heading(canvas: Any, text: str, x: float, y: float) -> float:
    canvas.setFillColor(t.ACCENT)
    canvas.setFont(t.BOLD, 10)
    canvas.drawString(x, y - 3.2 * mm, text)
    return float(y - 6 * mm)


def _paragraph(canvas: Any, text: str, x: float, y: float, width: float, size: float, **look: Any) -> float:
    body = t.paragraph(text, size, **look)
    _, height = body.wrap(width, HEIGHT)
    body.drawOn(canvas, x, y - height)
    return float(y - height)


def _line(canvas: Any, text: str, y: float, font: str, size: float, colour: Any) -> None:
    shown = t.check_glyphs(text, font)
    canvas.setFillColor(colour)
    canvas.setFont(font, t.fit_size(shown, font, size, RIGHT - LEFT, 0.5 * size))
    canvas.drawString(LEFT, y, shown)


def _day(time: datetime) -> str:
    return f"{time.day} {MONTHS[time.month - 1]} {time.year}"
