"""The forefoot over the plate of the gauge, and the shoe with one wedge, both seen from behind."""

import numpy as np

from autograde.cases.drawing import FIRST, INK, MUTED, SECOND, SHADE, THIRD, new_figure, to_png

from .foot import Forefoot, rise_mm


def figures(case: Forefoot) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"gauge": gauge_figure(case)}


def gauge_figure(case: Forefoot) -> bytes:
    """Foot on the gauge above, shoe with a wedge below; heights and widths to scale."""
    figure = new_figure(600, 420)
    above, below = figure.subplots(2, 1, height_ratios=(1.5, 1))
    inward = -1.0 if case.side == "right" else 1.0
    _foot(above, case, inward)
    _shoe(below, case)
    for axes in (above, below):
        axes.set(xlim=(-92, 92), aspect="equal")
        axes.axis("off")
    return to_png(figure)


def _foot(axes, case: Forefoot, inward: float) -> None:
    half = case.gauge_width_mm / 2
    places = np.array([inward * half, -inward * half])
    heights = np.array([case.inner_height_mm, case.outer_height_mm])
    slope = inward * rise_mm(case) / case.gauge_width_mm
    turn = np.linspace(0, np.pi, 80)
    across = 1.16 * half * np.cos(turn)
    sole = heights.mean() + slope * across
    axes.fill_between(across, sole, sole + 30 * np.sin(turn) ** 0.6, color=SHADE, lw=0)
    axes.plot(across, sole, color=INK, lw=2)
    axes.plot([-88, 88], [0, 0], color=INK, lw=4, solid_capstyle="butt")
    for place, height, words, colour, marker in (
        (places[0], heights[0], "inner edge\n(big toe)", FIRST, "o"),
        (places[1], heights[1], "outer edge\n(little toe)", SECOND, "s"),
    ):
        axes.plot([place, place], [0, height], color=colour, lw=2.5)
        axes.plot(place, height, marker, color=colour, ms=7)
        beside = np.sign(place)
        axes.text(
            place + (0.16 * half + 2.5) * beside,
            max(height / 2, 3.5),
            f"{height:g} mm",
            color=colour,
            ha="left" if beside > 0 else "right",
            va="center",
        )
        axes.text(place + 12 * beside, 32, words, color=colour, ha="center", va="bottom")
    axes.text(0, 46, f"{case.side} forefoot on the gauge, from behind", color=INK, ha="center", va="bottom")
    _width(axes, half, -8, f"{case.gauge_width_mm:g} mm between the places")
    axes.set_ylim(-18, 56)


def _shoe(axes, case: Forefoot) -> None:
    half = case.shoe_width_mm / 2
    axes.fill([-half, half, half], [0, 0, case.wedge_mm], color=THIRD, lw=0)
    axes.plot([-half - 3, -half, -half, half, half, half + 3], [14, 14, 0, 0, 14, 14], color=INK, lw=2)
    axes.text(half + 6, 3, f"{case.wedge_mm:g} mm", color=THIRD, ha="left", va="center")
    axes.text(0, 17, "inside of the shoe with one wedge, either way round", color=INK, ha="center", va="bottom")
    _width(axes, half, -9, f"{case.shoe_width_mm:g} mm inside width")
    axes.set_ylim(-20, 27)


def _width(axes, half: float, level: float, words: str) -> None:
    axes.annotate("", (-half, level), (half, level), arrowprops={"arrowstyle": "<->", "color": MUTED})
    axes.text(0, level - 2, words, color=MUTED, ha="center", va="top")
