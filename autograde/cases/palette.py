"""A picture in few colours, so that notebooks stay small: quick, and the same every time."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from PIL.Image import Image

__all__ = ["in_few_colours"]

COLOURS, KEPT = 64, 32
"""Colours of a picture, and how many of them are its most frequent ones just as they are."""


def in_few_colours(pixels: NDArray[np.uint8]) -> Image:
    """Bring a picture down to 64 colours: the most frequent ones as they are, the others in groups.

    Parameters
    ----------
    pixels : ndarray
        Red, green, blue and an ignored fourth value, 0 to 255, shape (height, width, 4), contiguous.

    Returns
    -------
    PIL.Image.Image
        With a palette.

    Notes
    -----
    A line drawing has some hundred shades, nearly all at the edges of lines. So the colours are compared, not the
    pixels, which are looked up in a table in the end.
    """
    from PIL import Image

    packed = pixels.view("<u4")[..., 0] & 0xFFFFFF
    shades, counts = np.unique(packed, return_counts=True)
    colours = np.stack([shades & 255, shades >> 8 & 255, shades >> 16], axis=-1).astype(np.uint8)
    weights = np.ceil(np.log2(counts + 1)).astype(int)
    grouped = Image.fromarray(np.repeat(colours, weights, axis=0)[None]).quantize(
        COLOURS - KEPT, dither=Image.Dither.NONE
    )
    groups = np.array(grouped.getpalette(), dtype=np.uint8).reshape(-1, 3)[: COLOURS - KEPT]
    palette = np.concatenate([colours[np.argsort(-counts, kind="stable")[:KEPT]], groups])
    away = ((colours[:, None].astype(np.int32) - palette[None].astype(np.int32)) ** 2).sum(axis=-1)
    table = _table()
    table[shades] = away.argmin(axis=1)
    picture = Image.fromarray(table[packed])
    picture.putpalette(palette.tobytes())
    return picture


@lru_cache(maxsize=1)
def _table() -> NDArray[Any]:
    """Make room for the number in the palette of every possible colour, once a process."""
    return np.zeros(1 << 24, dtype=np.uint8)
