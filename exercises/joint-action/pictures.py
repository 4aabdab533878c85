"""The leg in its pose with the muscle as a line."""

import numpy as np
from matplotlib.patches import Ellipse

from autograde.cases.drawing import FIRST, GRID, INK, MUTED, SHADE, THIRD, new_figure, to_png

from .line import Line, place_mm


def figures(case: Line) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"leg": leg_figure(case)}


def leg_figure(case: Line) -> bytes:
    """Pelvis, thigh, shank and foot from the right side; the muscle in red."""
    figure = new_figure(600, 660)
    axes = figure.add_subplot()
    joints = np.array([place_mm(case, name) for name in ("hip", "knee", "ankle")])
    line = np.array([(x, y) for name, x, y in case.places_mm if name not in {"hip", "knee", "ankle"}])
    axes.add_patch(Ellipse(joints[0] + np.array([-10, 50]), 150, 200, angle=-25, facecolor=SHADE, lw=0))
    axes.plot(*joints.T, color=SHADE, lw=30, solid_capstyle="round", solid_joinstyle="round", zorder=1)
    foot = joints[2] + np.array([[-60, -40], [150, -75]])
    axes.plot(*foot.T, color=SHADE, lw=20, solid_capstyle="round", zorder=1)
    axes.plot(*joints.T, color=MUTED, lw=1.2, zorder=2)
    axes.plot(*line.T, color=THIRD, lw=3, zorder=3)
    axes.plot(*line.T, "s", color=THIRD, ms=6, zorder=4)
    axes.plot(*joints.T, "o", color=FIRST, ms=8, zorder=4)
    for name, x, y in case.places_mm:
        joint = name in {"hip", "knee", "ankle"}
        front = case.muscle == "front of the thigh"
        right = name in {"ankle", "kneecap"} or (name in {"hip", "knee"}) != front
        axes.text(
            x + (14 if right else -14),
            y + (0 if joint else {"insertion": -16, "origin": 16}.get(name, 0) if front else -4),
            name,
            color=INK if joint else THIRD,
            ha="left" if right else "right",
            va="center",
            zorder=5,
        )
    everything = np.vstack([joints, line, foot])
    low, high = everything.min(axis=0) - 70, everything.max(axis=0) + 70
    axes.set(xlim=(low[0] - 40, high[0] + 40), ylim=(low[1], high[1] + 40), aspect="equal")
    axes.set_xlabel("mm forward")
    axes.set_ylabel("mm up")
    axes.grid(color=GRID, zorder=0)
    axes.set_axisbelow(True)
    axes.spines[["top", "right"]].set_visible(False)
    return to_png(figure)
