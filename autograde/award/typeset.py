"""Fonts, paragraphs, QR code and attachment for the printed page.

The fonts are the open DejaVu family that comes with the plotting library; they are embedded, so ö, ł or ş print alike
everywhere.
"""

from __future__ import annotations

import importlib.util
import unicodedata
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import segno
from reportlab.lib.colors import HexColor  # type: ignore[import-untyped]
from reportlab.lib.styles import ParagraphStyle  # type: ignore[import-untyped]
from reportlab.pdfbase import pdfdoc, pdfmetrics  # type: ignore[import-untyped]
from reportlab.pdfbase.ttfonts import TTFError, TTFont  # type: ignore[import-untyped]
from reportlab.pdfgen.canvas import Canvas  # type: ignore[import-untyped]
from reportlab.platypus import Paragraph  # type: ignore[import-untyped]

from autograde.award.errors import AwardError

__all__ = [
    "ACCENT", "BOLD", "FAINT", "GOLD", "GOLD_INK", "INK", "MUTED", "SERIF", "SERIF_BOLD", "TEXT", "attach",
    "check_glyphs", "draw_qr", "fit_size", "font_file", "paragraph", "register_fonts",
]  # fmt: skip

INK, MUTED, FAINT = HexColor("#22313d"), HexColor("#54616b"), HexColor("#d8d5cb")
ACCENT, GOLD, GOLD_INK = HexColor("#1b6a8c"), HexColor("#efe6c2"), HexColor("#6a5a1f")
TEXT, BOLD, SERIF, SERIF_BOLD = "DejaVuSans", "DejaVuSans-Bold", "DejaVuSerif", "DejaVuSerif-Bold"


def font_file(name: str) -> Path:
    """Find a font of the DejaVu family."""
    package = importlib.util.find_spec("matplotlib")
    path = Path(package.origin or "").parent / "mpl-data" / "fonts" / "ttf" / f"{name}.ttf" if package else Path()
    if not path.is_file():
        raise AwardError(f"the font {name} is missing; install the project's dependencies again")
    return path


def register_fonts() -> None:
    """Make the four fonts known."""
    for name in (TEXT, BOLD, SERIF, SERIF_BOLD):
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(font_file(name))))


def name_font(path: Path | None) -> str:
    """Make a font of the issuer's own known, for names in scripts that DejaVu does not have."""
    if path is None:
        return SERIF_BOLD
    name = f"Own-{path.stem}"
    if name not in pdfmetrics.getRegisteredFontNames():
        try:
            pdfmetrics.registerFont(TTFont(name, str(path)))
        except (TTFError, OSError) as error:
            raise AwardError(f"{path} is no TrueType font that can be embedded: {error}") from error
    return name


def check_glyphs(text: str, font: str = TEXT) -> str:
    """Refuse text that would print as empty boxes or in the wrong order.

    Parameters
    ----------
    text : str
        To be printed.
    font : str
        A known font.

    Returns
    -------
    str
        The text with composed letters, and without line breaks.

    Raises
    ------
    AwardError
        If the font lacks a sign, or the script is written from right to left or joined, which is not set here.
    """
    tidy = " ".join(unicodedata.normalize("NFC", text).split())
    glyphs = pdfmetrics.getFont(font).face.charToGlyph
    for sign in tidy:
        if unicodedata.bidirectional(sign) in ("R", "AL", "RLE", "RLO", "RLI"):
            raise AwardError(f"{sign!r} is written from right to left, which cannot be printed here; transcribe it")
        if ord(sign) not in glyphs:
            raise AwardError(f"the font has no sign for {sign!r} (U+{ord(sign):04X}); transcribe it or give a font")
    return tidy


def fit_size(text: str, font: str, largest_pt: float, width_pt: float, smallest_pt: float) -> float:
    """Find the largest size at which a line fits; AwardError if even the smallest is too wide."""
    width = pdfmetrics.stringWidth(text, font, 1.0)
    size = min(largest_pt, width_pt / width) if width else largest_pt
    if size < smallest_pt:
        raise AwardError(f"{text[:60]!r} is too long for one line; shorten it")
    return float(size)


def paragraph(text: str, size_pt: float, *, font: str = TEXT, colour: Any = INK, leading: float = 1.4) -> Any:
    """Set a paragraph of plain text."""
    style = ParagraphStyle("plain", fontName=font, fontSize=size_pt, leading=size_pt * leading, textColor=colour)
    return Paragraph(escape(check_glyphs(text, font)), style)


def draw_qr(canvas: Any, text: str, left_pt: float, bottom_pt: float, side_pt: float) -> None:
    """Draw a QR code as filled squares, with the quiet zone of four modules inside its side."""
    rows: Sequence[Sequence[int]] = [list(row) for row in segno.make(text, error="m", micro=False).matrix]
    step = side_pt / (len(rows) + 8)
    canvas.setFillColor(INK)
    path = canvas.beginPath()
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            run = x
            while run < len(row) and row[run]:
                run += 1
            if run > x:
                top = bottom_pt + side_pt - (y + 4) * step
                path.rect(left_pt + (x + 4) * step, top - step, (run - x) * step, step)
            x = max(run, x + 1)
    canvas.drawPath(path, stroke=0, fill=1)


def attach(canvas: Canvas, name: str, content: bytes, about: str) -> None:
    """Attach a file to the document, not compressed."""
    document = canvas._doc
    embedded = pdfdoc.PDFStream(
        pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("EmbeddedFile"), "Subtype": pdfdoc.PDFName("text/plain")}),
        content=content,
        filters=[],
    )
    specification = pdfdoc.PDFDictionary(
        {
            "Type": pdfdoc.PDFName("Filespec"),
            "F": pdfdoc.PDFString(name),
            "UF": pdfdoc.PDFString(name),
            "Desc": pdfdoc.PDFString(about),
            "EF": pdfdoc.PDFDictionary({"F": document.Reference(embedded)}),
        }
    )
    names = pdfdoc.PDFArray([pdfdoc.PDFString(name), document.Reference(specification)])
    document.Catalog.Names = pdfdoc.PDFDictionary({"EmbeddedFiles": pdfdoc.PDFDictionary({"Names": names})})
