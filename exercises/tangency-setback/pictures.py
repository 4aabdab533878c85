"""The rider from the right side, the crank forward, drawn to the measures of the case."""

import numpy as np

from autograde.cases.drawing import FIRST, INK, MUTED, SECOND, SHADE, THIRD, new_figure, to_png

from .rider import Measured, knee_offset_mm

HIP_FROM_SADDLE_MM = (40.0, 60.0)


def figures(case: Measured) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"plumb-line": plumb_line_figure(case)}


def plumb_line_figure(case: Measured) -> bytes:
    """Saddle, leg, crank and plumb line."""
    figure = new_figure(560, 640)
    axes = figure.add_subplot()
    saddle = np.array([-case.saddle_setback_mm, np.sqrt(case.saddle_height_mm**2 - case.saddle_setback_mm**2)])
    axle = np.array([case.crank_length_mm, 0.0])
    knee = axle + np.array([knee_offset_mm(case), case.knee_height_mm])
    front = knee + np.array([case.front_to_centre_mm, 18.0])
    ankle = axle + np.array([-115.0, 105.0])
    leg = np.array([saddle + np.array(HIP_FROM_SADDLE_MM), knee, ankle, axle + np.array([20.0, 18.0])])
    axes.add_patch(_circle(case.crank_length_mm))
    axes.plot([0, saddle[0]], [0, saddle[1]], color=MUTED, lw=2)
    axes.plot(saddle[0] + np.array([-70, 150]), [saddle[1], saddle[1] + 3], color=INK, lw=6, solid_capstyle="round")
    axes.plot(*leg.T, color=SHADE, lw=26, solid_capstyle="round", solid_joinstyle="round", zorder=0)
    axes.plot(*leg.T, color=MUTED, lw=1.5, marker="o", ms=5)
    axes.plot([0, axle[0]], [0, 0], color=INK, lw=5, solid_capstyle="round")
    axes.plot([0], [0], "o", color=INK, ms=10)
    axes.plot(*axle, "s", color=FIRST, ms=9)
    axes.plot([front[0]] * 2, [front[1], -70], color=THIRD, lw=2, ls="--")
    axes.plot(front[0], -78, "v", color=THIRD, ms=11)
    axes.plot(*knee, "D", color=SECOND, ms=8)
    for place, words, colour, across in (
        (knee + np.array([-34, -42]), "knee centre", SECOND, "right"),
        (front + np.array([12, 24]), "plumb line from the\nfront of the kneecap", THIRD, "left"),
        (axle + np.array([-10, -36]), "pedal axle", FIRST, "right"),
        (np.array([-18, -38]), "bottom bracket", INK, "right"),
        (saddle + np.array([-70, 32]), "saddle", INK, "left"),
    ):
        axes.text(*place, words, color=colour, ha=across, va="center")
    axes.set(xlim=(-330, 420), ylim=(-200, max(800, leg[0, 1] + 50)), aspect="equal")
    axes.axis("off")
    return to_png(figure)


def _circle(radius_mm: float):
    from matplotlib.patches import Circle

    return Circle((0, 0), radius_mm, fill=False, color=MUTED, lw=1, ls=":")
