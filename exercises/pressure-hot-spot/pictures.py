"""The map as the mat shows it, seen from above."""

import numpy as np
from matplotlib.colors import LinearSegmentedColormap

from autograde.cases.drawing import FIRST, INK, MUTED, PAPER, new_figure, to_png

from .mat import COLUMNS, PARTS, ROWS, Recording

SHADES = LinearSegmentedColormap.from_list("mat", [PAPER, "#cfe0e6", FIRST, "#0d3446"])


def readable_on(colour: tuple[float, ...]) -> str:
    """Light or dark letters, whichever stand out more; the ratio of luminances is 4.5 or more on every shade."""
    linear = np.where(np.array(colour[:3]) > 0.04045, ((np.array(colour[:3]) + 0.055) / 1.055) ** 2.4, 0.0)
    return PAPER if linear @ (0.2126, 0.7152, 0.0722) < 0.175 else "black"


def figures(case: Recording) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"map": map_figure(case)}


def map_figure(case: Recording) -> bytes:
    """Cells shaded by pressure, with their numbers; toes above."""
    figure = new_figure(560, 760)
    axes = figure.add_subplot()
    cells = case.pressure.pressure_kpa
    top = cells.max()
    axes.pcolormesh(
        np.arange(COLUMNS + 1), np.arange(ROWS + 1), cells, cmap=SHADES, vmin=0, vmax=top, edgecolors=PAPER, lw=1.5
    )
    for row in range(ROWS):
        for column in range(COLUMNS):
            value = cells[row, column]
            axes.text(
                column + 0.5,
                row + 0.5,
                f"{value:g}",
                color=readable_on(SHADES(value / top)),
                ha="center",
                va="center",
                fontsize=11,
                in_layout=False,
            )
    for name, (first, last) in PARTS.items():
        axes.axhline(first, color=MUTED, lw=1, ls="--")
        axes.text(COLUMNS + 0.12, (first + last) / 2, name, color=INK, ha="left", va="center")
    axes.set(
        xlim=(0, COLUMNS + 1),
        ylim=(0, ROWS),
        xticks=np.arange(COLUMNS) + 0.5,
        yticks=np.arange(ROWS) + 0.5,
        xlabel=f"column, from left to right ({case.across_mm:g} mm each)",
        ylabel="row, from the heel (25 mm each)",
    )
    axes.set_xticklabels([str(number + 1) for number in range(COLUMNS)])
    axes.set_yticklabels([str(number + 1) for number in range(ROWS)])
    axes.set_title(f"{case.side} foot from above, kPa", color=INK, fontsize=11)
    axes.tick_params(length=0)
    axes.set_facecolor(PAPER)
    axes.spines[:].set_visible(False)
    return to_png(figure)
