"""Trunk, pelvis and thigh at the top of the stroke, in the present posture and in the low one."""

import numpy as np
from matplotlib.patches import Circle

from autograde.cases.drawing import FIRST, INK, MUTED, SECOND, SHADE, THIRD, new_figure, to_png

from .hip import Hip


def figures(case: Hip) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"hip": hip_figure(case)}


def hip_figure(case: Hip) -> bytes:
    """Two sketches side by side, the angles as measured."""
    figure = new_figure(640, 420)
    left, right = figure.subplots(1, 2)
    for axes, trunk, tilt, name in (
        (left, case.trunk_deg, case.tilt_deg, "present posture"),
        (right, case.low_trunk_deg, case.low_tilt_deg, "low posture"),
    ):
        _sketch(axes, trunk, tilt, case.thigh_deg)
        axes.text(150, 575, name, color=INK, ha="center", va="bottom", fontsize=11)
    return to_png(figure)


def _sketch(axes, trunk_deg: float, tilt_deg: float, thigh_deg: float) -> None:
    hip = np.zeros(2)
    knee = 430 * _along(-thigh_deg)
    shoulder = 500 * _along(trunk_deg)
    back, front = -75 * _along(-tilt_deg) + [10, 95], 75 * _along(-tilt_deg) + [10, 95]
    waist = np.array([-10.0, 190.0])
    bent = np.array([hip, waist, shoulder])
    axes.plot(*bent.T, color=SHADE, lw=30, solid_capstyle="round", solid_joinstyle="round", zorder=0)
    axes.plot(*np.array([hip, knee]).T, color=SHADE, lw=24, solid_capstyle="round", zorder=0)
    axes.plot([-230, 520], [0, 0], color=MUTED, lw=0.8, ls=":")
    axes.plot(*np.array([hip, shoulder]).T, color=FIRST, lw=2)
    axes.plot(*np.array([back, front]).T, color=THIRD, lw=4, solid_capstyle="round")
    axes.plot(*np.array([hip, knee]).T, color=SECOND, lw=2)
    axes.add_patch(Circle(hip, 13, color=INK, zorder=3))
    axes.plot(*knee, "o", color=INK, ms=7)
    axes.text(
        shoulder[0], shoulder[1] + 14, f"trunk {trunk_deg:g}°\nabove level", color=FIRST, ha="center", va="bottom"
    )
    axes.text(back[0] - 14, back[1], f"pelvis\n{tilt_deg:g}° tilted", color=THIRD, ha="right", va="center")
    axes.text(knee[0], knee[1] - 28, f"thigh {thigh_deg:g}°\nbelow level", color=SECOND, ha="center", va="top")
    axes.text(-16, -30, "hip", color=INK, ha="right", va="top")
    axes.set(xlim=(-240, 540), ylim=(-320, 630), aspect="equal")
    axes.axis("off")


def _along(angle_deg: float) -> np.ndarray:
    return np.array([np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))])
