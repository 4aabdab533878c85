"""The leg at the bottom of the stroke with the tool on the knee, and where the two rules measure from."""

import numpy as np
from matplotlib.patches import Arc, Circle

from autograde.cases.drawing import FIRST, INK, MUTED, PAPER, SECOND, SHADE, THIRD, new_figure, to_png

from .rider import Rider, flexion_deg

THIGH_MM, SHANK_MM = 430.0, 430.0


def figures(case: Rider) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"leg": leg_figure(case)}


def leg_figure(case: Rider) -> bytes:
    """Sketch of saddle, leg and crank; the knee bent as measured."""
    figure = new_figure(620, 680)
    axes = figure.add_subplot()
    crank = case.crank_length_mm
    pedal = np.array([0.0, -crank])
    ankle = pedal + np.array([-90.0, 120.0])
    knee_bend = np.radians(flexion_deg(case))
    reach = np.sqrt(THIGH_MM**2 + SHANK_MM**2 + 2 * THIGH_MM * SHANK_MM * np.cos(knee_bend))
    up = np.radians(104.0)
    hip = ankle + reach * np.array([np.cos(up), np.sin(up)])
    knee = ankle + SHANK_MM * np.array([np.cos(up - knee_bend / 2), np.sin(up - knee_bend / 2)])
    saddle = hip + np.array([-20.0, -75.0])
    leg = np.array([hip, knee, ankle, pedal])
    in_line = -crank * saddle / np.hypot(*saddle)
    axes.add_patch(Circle((0, 0), crank, fill=False, color=MUTED, lw=1, ls=":"))
    axes.plot(*leg.T, color=SHADE, lw=26, solid_capstyle="round", solid_joinstyle="round", zorder=0)
    axes.plot(*leg[:3].T, color=MUTED, lw=1.5, marker="o", ms=5)
    axes.plot([0, 0], [0, -crank], color=INK, lw=5, solid_capstyle="round")
    axes.plot(saddle[0] + np.array([-75, 130]), [saddle[1]] * 2, color=INK, lw=6, solid_capstyle="round")
    axes.plot([0, in_line[0]], [0, in_line[1]], color=SECOND, lw=3, ls="--")
    axes.plot([0], [0], "o", color=INK, ms=10)
    axes.plot(*pedal, "s", color=INK, ms=9)
    axes.plot(*in_line, "s", color=SECOND, ms=9)
    _from_to(axes, np.zeros(2), saddle, 90, FIRST, "0.883 rule")
    _from_to(axes, in_line, saddle, 150, SECOND, "1.09 rule")
    _tool(axes, hip, knee, ankle)
    for place, words, colour, across in (
        (hip + np.array([34, 16]), "hip", MUTED, "left"),
        (ankle + np.array([12, 16]), "ankle", MUTED, "left"),
        (in_line + np.array([22, -12]), "pedal, crank in line\nwith the seat tube", SECOND, "left"),
        (np.array([20, 14]), "bottom bracket", INK, "left"),
        (saddle + np.array([-80, 26]), "saddle", INK, "right"),
    ):
        axes.text(*place, words, color=colour, ha=across, va="center")
    axes.set(xlim=(-520, 420), ylim=(-240, 900), aspect="equal")
    axes.axis("off")
    return to_png(figure)


def _tool(axes, hip, knee, ankle) -> None:
    """What the tool on the knee reads: the angle between the two segments, on the side of the calf."""
    above, below = (np.degrees(np.arctan2(*(end - knee)[::-1])) % 360 for end in (hip, ankle))
    axes.add_patch(Arc(knee, 150, 150, theta1=above, theta2=below, color=THIRD, lw=2.5))
    axes.text(knee[0] + 42, knee[1], "the tool reads\nthis angle", color=THIRD, ha="left", va="center")


def _from_to(axes, start, end, aside: float, colour: str, words: str) -> None:
    """A measuring line beside the line from start to end."""
    along = (end - start) / np.hypot(*(end - start))
    beside = aside * np.array([-along[1], along[0]])
    for point in (start, end):
        axes.plot(*np.array([point, point + beside]).T, color=colour, lw=0.8, ls=":")
    axes.annotate("", start + beside, end + beside, arrowprops={"arrowstyle": "<->", "color": colour, "lw": 1.5})
    axes.text(
        *(start + 0.45 * (end - start) + beside), words, color=colour, ha="center", va="center", backgroundcolor=PAPER
    )
