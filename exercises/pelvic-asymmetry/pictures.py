"""The pelvis from behind, and the paths of both knees beside their pedals from the front."""

import numpy as np

from autograde.cases.drawing import FIRST, GRID, INK, MUTED, SECOND, SHADE, new_figure, to_png

from .sides import ANGLES_DEG, Sides


def figures(case: Sides) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"pelvis": pelvis_figure(case), "knees": knee_figure(case)}


def pelvis_figure(case: Sides) -> bytes:
    """Both landmarks over the level, seen from behind: the rider's right is on the right."""
    figure = new_figure(620, 300)
    axes = figure.add_subplot()
    half = case.spines_apart_mm / 2
    places, heights = np.array([-half, half]), np.array([case.left_spine_mm, case.right_spine_mm])
    slope = (heights[1] - heights[0]) / case.spines_apart_mm
    turn = np.linspace(0, 2 * np.pi, 120)
    across = 88 * np.cos(turn)
    axes.fill(across, heights.mean() - 16 + slope * across + 38 * np.sin(turn), color=SHADE, lw=0)
    axes.plot([-120, 120], [0, 0], color=INK, lw=3)
    for place, height, words, colour, marker in (
        (places[0], heights[0], "left", FIRST, "o"),
        (places[1], heights[1], "right", SECOND, "s"),
    ):
        axes.plot([place, place], [0, height], color=colour, lw=1.8)
        axes.plot(place, height, marker, color=colour, ms=9)
        beside = np.sign(place)
        axes.text(
            place + 6 * beside,
            12,
            f"{words} {height:g} mm",
            color=colour,
            ha="left" if beside > 0 else "right",
            va="center",
        )
    axes.annotate("", (-half, -10), (half, -10), arrowprops={"arrowstyle": "<->", "color": MUTED})
    axes.text(0, -13, f"{case.spines_apart_mm:g} mm apart", color=MUTED, ha="center", va="top")
    axes.text(0, heights.max() + 36, "from behind: heights above a level", color=MUTED, ha="center", va="bottom")
    axes.set(xlim=(-125, 125), ylim=(-30, heights.max() + 54), aspect="equal")
    axes.axis("off")
    return to_png(figure)


def knee_figure(case: Sides) -> bytes:
    """Both knees' places over the angle of the own crank, the pedals as lines."""
    figure = new_figure(620, 440)
    left, right = figure.subplots(1, 2, sharey=True)
    for axes, values, pedal, name, colour, marker in (
        (left, case.left_knee_mm, -case.pedal_mm, "left", FIRST, "o"),
        (right, case.right_knee_mm, case.pedal_mm, "right", SECOND, "s"),
    ):
        axes.axhspan(0, 180, color=SHADE, lw=0)
        axes.axvline(pedal, color=INK, lw=1.5, ls="--")
        axes.plot([*values, values[0]], [*ANGLES_DEG, 360], color=colour, marker=marker, lw=2, ms=6)
        axes.set(xlim=(pedal - 38, pedal + 38), ylim=(360, 0), yticks=np.arange(0, 361, 45))
        axes.set_title(f"{name} knee\n(dashes: middle of the pedal)", color=colour, fontsize=10)
        axes.set_xlabel("mm right of the midline" + ("\nframe this way →" if name == "left" else "\n← frame this way"))
        axes.grid(color=GRID)
        axes.spines[["top", "right"]].set_visible(False)
    left.set_ylabel("angle of the own crank (°); shaded: way down")
    return to_png(figure)
