"""Three imprints on the pad of the stool, and the outline of the present saddle with its tread."""

import numpy as np
from matplotlib.patches import Ellipse

from autograde.cases.drawing import FIRST, GRID, INK, MUTED, SECOND, SHADE, THIRD, new_figure, to_png

from .seat import DENT_MM, Seat

OVER_LINE = {"facecolor": "white", "edgecolor": "none", "pad": 1.5}


def figures(case: Seat) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"imprints": imprint_figure(case), "saddle": saddle_figure(case)}


def imprint_figure(case: Seat) -> bytes:
    """Left and right dents of each sitting on the pad."""
    figure = new_figure(600, 330)
    axes = figure.add_subplot()
    axes.axvline(0, color=INK, lw=1.2, ls="--")
    for row, (left, right) in enumerate(zip(case.left_mm, case.right_mm, strict=True)):
        level = -34.0 * row
        for place, colour, marker in ((-left, FIRST, "o"), (right, SECOND, "s")):
            axes.add_patch(Ellipse((place, level), DENT_MM, 20, facecolor=SHADE, edgecolor=MUTED, lw=1))
            axes.plot(place, level, marker, color=colour, ms=6)
        axes.text(-122, level, f"imprint {row + 1}", color=MUTED, ha="right", va="center")
    axes.text(-60, 20, "left", color=FIRST, ha="center", va="bottom")
    axes.text(60, 20, "right", color=SECOND, ha="center", va="bottom")
    axes.text(0, 20, "middle line of the pad", color=INK, ha="center", va="bottom", bbox=OVER_LINE)
    ticks = np.arange(-120, 121, 20)
    axes.set(
        xlim=(-165, 125), ylim=(-86, 36), aspect="equal", yticks=[], xticks=ticks, xlabel="mm from the middle line"
    )
    axes.set_xticklabels([f"{abs(tick)}" for tick in ticks])
    axes.grid(axis="x", color=GRID)
    axes.set_axisbelow(True)
    axes.spines[["top", "right", "left"]].set_visible(False)
    return to_png(figure)


def saddle_figure(case: Seat) -> bytes:
    """Section of the present saddle where the rider sits: the tread, and edges that fall away."""
    figure = new_figure(540, 210)
    axes = figure.add_subplot()
    tread, overall = case.own_tread_mm / 2, case.own_overall_mm / 2
    across = np.linspace(-overall, overall, 200)
    beyond = np.clip((np.abs(across) - tread) / (overall - tread), 0, 1)
    top = -0.0006 * across**2 - 26 * beyond**1.8
    axes.fill_between(across, top, -38, color=SHADE, lw=0)
    axes.plot(across, top, color=INK, lw=2.5)
    inside = np.abs(across) <= tread
    axes.plot(across[inside], top[inside], color=THIRD, lw=6, solid_capstyle="butt")
    for half, level, words, colour in (
        (tread, 10, f"tread {case.own_tread_mm:g} mm: what bears", THIRD),
        (overall, -46, f"greatest width {case.own_overall_mm:g} mm", MUTED),
    ):
        axes.annotate("", (-half, level), (half, level), arrowprops={"arrowstyle": "<->", "color": colour})
        axes.text(
            0, level + (3 if level > 0 else -3), words, color=colour, ha="center", va="bottom" if level > 0 else "top"
        )
    axes.set(xlim=(-105, 105), ylim=(-64, 28), aspect="equal")
    axes.axis("off")
    return to_png(figure)
