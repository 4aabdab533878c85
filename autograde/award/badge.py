"""The award as a picture: the project's own mark with the award's title, and the token inside (a baked badge).

References: open_badges_3, w3c_png.
"""

from __future__ import annotations

import io
import math
from functools import lru_cache

from PIL import Image, ImageDraw, ImageFont

from autograde.award.embed import bake_png
from autograde.award.ring import Issuer
from autograde.award.typeset import BOLD, TEXT, font_file

__all__ = ["badge_png"]

SIDE_PX, OVER = 640, 2
NIGHT, SKY, PAPER, AMBER = "#123f57", "#7fb4cf", "#fdfcf8", "#f2a65e"


def badge_png(title: str, issuer: Issuer, awarded: str, token: str) -> bytes:
    """Draw the badge and put the token in.

    Parameters
    ----------
    title : str
        What was awarded.
    issuer : Issuer
        By whom; an invented one is named as such.
    awarded : str
        Day, as text.
    token : str
        The credential's token.

    Returns
    -------
    bytes
        A square PNG, 640 pixels wide.
    """
    return bake_png(_picture(title, issuer, awarded), token)


@lru_cache(maxsize=8)
def _picture(title: str, issuer: Issuer, awarded: str) -> bytes:
    """Draw the badge without its token; a cohort shares it."""
    side = SIDE_PX * OVER
    image = Image.new("RGB", (side, side), PAPER)
    draw = ImageDraw.Draw(image)
    draw.rounded_rectangle((0, 0, side - 1, side - 1), radius=side // 12, fill=NIGHT)
    _mark(draw, centre=(0.46 * side, 0.38 * side), scale=side / 100)
    y = 0.64 * side
    for line in _lines(title, 24):
        y = _centred(draw, line, y, side, BOLD, 0.056)
    y = _centred(draw, issuer.name, y + 0.015 * side, side, TEXT, 0.04)
    y = _centred(draw, awarded, y, side, TEXT, 0.034, SKY)
    if issuer.demo:
        _centred(draw, "invented demonstration", y, side, BOLD, 0.034, AMBER)
    stream = io.BytesIO()
    image.resize((SIDE_PX, SIDE_PX), Image.Resampling.LANCZOS).save(stream, "PNG", optimize=True)
    return stream.getvalue()


def _mark(draw: ImageDraw.ImageDraw, centre: tuple[float, float], scale: float) -> None:
    """Draw a chainring, the crank pointing forward and up, and the push at a right angle to it."""
    turn = math.sqrt(0.5) * scale

    def at(along: float, across: float) -> tuple[float, float]:
        return centre[0] + (along + across) * turn, centre[1] + (across - along) * turn

    teeth, radius, hub = 16, 17 * scale, 5.5 * scale
    for tooth in range(teeth):
        start = 360 * tooth / teeth
        draw.arc(_square(centre, radius), start, start + 0.58 * 360 / teeth, fill=SKY, width=round(3.5 * scale))
    _bar(draw, at(0, 0), at(30, 0), 6 * scale, PAPER)
    _bar(draw, at(30, -12), at(30, 12), 4 * scale, AMBER)
    draw.polygon([at(30, 17), at(35.6, 8), at(24.4, 8)], fill=AMBER)
    draw.ellipse(_square(centre, hub), fill=PAPER)


def _square(centre: tuple[float, float], half: float) -> tuple[float, float, float, float]:
    return centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half


def _bar(
    draw: ImageDraw.ImageDraw, start: tuple[float, float], end: tuple[float, float], width: float, colour: str
) -> None:
    draw.line((start, end), fill=colour, width=round(width))
    for end_point in (start, end):
        draw.ellipse(_square(end_point, width / 2), fill=colour)


def _centred(
    draw: ImageDraw.ImageDraw, text: str, y: float, side: int, font: str, share: float, colour: str = PAPER
) -> float:
    """Write a line in the middle, smaller if it is too wide; gives where the next begins."""
    size = share * side
    face = ImageFont.truetype(str(font_file(font)), round(size))
    widest = 0.88 * side
    if (width := draw.textlength(text, font=face)) > widest:
        face = ImageFont.truetype(str(font_file(font)), max(8, int(size * widest / width)))
    draw.text((side / 2, y), text, font=face, fill=colour, anchor="ma")
    return y + 1.35 * size


def _lines(text: str, longest: int) -> list[str]:
    """Break a title into at most two lines of about equal length."""
    words = text.split()
    if len(text) <= longest or len(words) < 2:
        return [text]
    cuts = range(1, len(words))
    best = min(cuts, key=lambda cut: abs(len(" ".join(words[:cut])) - len(" ".join(words[cut:]))))
    return [" ".join(words[:best]), " ".join(words[best:])]
