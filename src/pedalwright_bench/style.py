"""How benches look: one calm palette, safe for colour-blind readers, and the sizes that keep text legible.

Every colour is doubled by a shape, a line style, a hatch or a label, so that no reading rests on colour.
The picture is a light card in both themes of the page.
"""

from contextlib import AbstractContextManager
from typing import Any

import matplotlib as mpl

CARD = "#fcfbf8"
INK = "#22313d"
MUTED = "#5c6973"
FAINT = "#c9d0d4"
GRID = "#e3e7e9"
USEFUL = "#1b6a8c"
AGAINST = "#b8452f"
UNUSED = "#8a7440"
OTHER_LEG = "#8a5a9e"
TARGET = "#efe6c2"
TARGET_EDGE = "#94803a"
TARGET_INK = "#6a5a1f"
LIMB = "#dcc9b6"
LIMB_EDGE = "#8c7763"
STEEL = "#aab4ba"

DPI = 100
SIZE_PX = {"wide": (1280, 800), "narrow": (780, 1300)}
TEXT_PT = {"wide": 16.0, "narrow": 18.5}
SMALL_PT = {"wide": 14.5, "narrow": 17.0}


def size_in(layout: str) -> tuple[float, float]:
    """Figure size of a layout in inches."""
    width, height = SIZE_PX[layout]
    return width / DPI, height / DPI


def style(layout: str) -> AbstractContextManager[None]:
    """Matplotlib settings of a layout; use as a context around the making of a figure."""
    text = TEXT_PT[layout]
    settings: Any = {
        "figure.dpi": DPI,
        "figure.facecolor": CARD,
        "axes.facecolor": CARD,
        "font.family": "DejaVu Sans",
        "font.size": text,
        "text.color": INK,
        "axes.edgecolor": MUTED,
        "axes.labelcolor": INK,
        "axes.labelsize": text,
        "axes.titlesize": text,
        "axes.titlelocation": "left",
        "axes.titleweight": "bold",
        "axes.spines.top": False,
        "axes.spines.right": False,
        "axes.axisbelow": True,
        "axes.linewidth": 1.2,
        "axes.unicode_minus": True,
        "axes.grid": True,
        "grid.color": GRID,
        "grid.linewidth": 1.2,
        "xtick.color": MUTED,
        "ytick.color": MUTED,
        "xtick.labelcolor": INK,
        "ytick.labelcolor": INK,
        "xtick.labelsize": SMALL_PT[layout],
        "ytick.labelsize": SMALL_PT[layout],
        "hatch.linewidth": 1.6,
        "lines.linewidth": 3.0,
        "lines.solid_capstyle": "round",
        "legend.frameon": False,
        "legend.fontsize": SMALL_PT[layout],
        "path.simplify": False,
    }
    return mpl.rc_context(settings)
