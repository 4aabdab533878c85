"""Small, light pictures for briefs, drawn off screen."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.figure import Figure

PAPER = "#fcfbf8"
INK = "#22313d"
MUTED = "#5c6973"
GRID = "#e3e7e9"
SHADE = "#eef0ee"
FIRST = "#1b6a8c"
SECOND = "#8a5a9e"
THIRD = "#b8452f"
DPI = 100
COMPRESSION = 6
"""Of 9: the highest takes six times as long for a tenth less."""


def new_figure(width_px: int = 760, height_px: int = 420) -> Figure:
    """Make an empty figure.

    Parameters
    ----------
    width_px, height_px : int
        Size in pixels.

    Returns
    -------
    matplotlib.figure.Figure
        Drawn off screen; matplotlib is imported only here.
    """
    from matplotlib.figure import Figure

    return Figure(figsize=(width_px / DPI, height_px / DPI), dpi=DPI, facecolor=PAPER, layout="constrained")


def to_png(figure: Figure) -> bytes:
    """Turn a figure into a PNG picture of few colours, so that notebooks stay small.

    Returns
    -------
    bytes
        The same figure gives the same bytes.
    """
    import numpy as np
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    from autograde.cases.palette import in_few_colours

    canvas: Any = FigureCanvasAgg(figure)
    canvas.draw()
    picture = in_few_colours(np.asarray(canvas.buffer_rgba()))
    small = io.BytesIO()
    picture.save(small, format="png", compress_level=COMPRESSION)
    return small.getvalue()
