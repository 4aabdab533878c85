"""The rider on the bicycle with the landmarks of the leg, and the readings of both knees before and after support."""

import numpy as np
from matplotlib.patches import Arc, Circle
from matplotlib.patheffects import withStroke

from autograde.cases.drawing import FIRST, GRID, INK, MUTED, PAPER, SECOND, THIRD, new_figure, to_png
from pedalwright.position import Leg, Position, saddle_point_mm
from pedalwright.stroke import solve_stroke

from .rider import Case, included_deg, smallest_change_deg

LEG = Leg(thigh_length_mm=430, shank_length_mm=430, ankle_to_pedal_mm=150)
POSITION = Position(saddle_height_mm=745, saddle_setback_mm=200, crank_length_mm=170)
LEVEL_FOOT_DEG = 18.0
REAR, FRONT, WHEEL_MM = np.array([-415.0, 70.0]), np.array([600.0, 70.0]), 335.0
HALO = [withStroke(linewidth=3, foreground=PAPER)]
HEAD_TUBE, BAR = np.array([[385.0, 590.0], [410.0, 500.0]]), np.array([480.0, 660.0])


def figures(case: Case) -> dict[str, bytes]:
    """All figures of the brief by name."""
    return {"rider": rider_figure(case), "readings": readings_figure(case)}


def rider_figure(case: Case) -> bytes:
    """Sketch of bicycle and rider; not the rider's own angles."""
    figure = new_figure(640, 640)
    axes = figure.add_subplot()
    pose = solve_stroke(LEG, POSITION, 180.0, LEVEL_FOOT_DEG)
    hip, knee, ankle, pedal = (
        np.asarray(each).reshape(2) for each in (pose.hip_mm, pose.knee_mm, pose.ankle_mm, pose.pedal_mm)
    )
    saddle = saddle_point_mm(POSITION)
    _bicycle(axes, saddle, pedal)
    shoulder = hip + 520 * np.array([np.cos(np.radians(48)), np.sin(np.radians(48))])
    elbow, head = (shoulder + BAR) / 2 + np.array([-10.0, -40.0]), shoulder + np.array([95.0, 150.0])
    for points, width in (((hip, shoulder), 40), ((shoulder, elbow, BAR), 18), ((hip, knee, ankle), 30)):
        axes.plot(*np.array(points).T, color=GRID, lw=width, solid_capstyle="round", solid_joinstyle="round", zorder=0)
    axes.add_patch(Circle(head, 95, facecolor=GRID, edgecolor="none", zorder=0))
    heel, toe, aside = ankle + np.array([-55.0, -78.0]), pedal + np.array([75.0, 12.0]), np.array([35.0, 0.0])
    axes.fill(
        *np.array([ankle - aside, heel, toe, toe + 0.6 * aside[::-1], ankle + aside]).T, color=GRID, lw=0, zorder=0
    )
    axes.plot(*np.array([heel, toe]).T, color=SECOND, lw=4, ls=(0, (2, 0.6)))
    axes.plot(*np.array([hip, knee, ankle]).T, color=MUTED, lw=1.5)
    above, below = (np.degrees(np.arctan2(*(end - knee)[::-1])) % 360 for end in (hip, ankle))
    axes.add_patch(Arc(knee, 190, 190, theta1=above, theta2=below, color=THIRD, lw=3))
    _words(axes, case, {"hip": hip, "knee": knee, "ankle": ankle, "saddle": saddle, "heel": heel})
    axes.set(xlim=(-780, 960), ylim=(-300, 1440), aspect="equal")
    axes.axis("off")
    return to_png(figure)


def _bicycle(axes, saddle, pedal) -> None:
    for hub in (REAR, FRONT):
        axes.add_patch(Circle(hub, WHEEL_MM, fill=False, color=MUTED, lw=2, alpha=0.5, zorder=-2))
    seat_tube = 0.82 * saddle
    for tube in (
        (REAR, (0, 0), seat_tube, REAR),
        (seat_tube, HEAD_TUBE[0]),
        ((0, 0), HEAD_TUBE[1]),
        (FRONT, HEAD_TUBE[1], HEAD_TUBE[0], BAR - (40, 0), BAR),
    ):
        axes.plot(*np.array(tube, dtype=float).T, color=MUTED, lw=4, alpha=0.5, solid_joinstyle="round", zorder=-1)
    axes.plot(*np.array([seat_tube, saddle]).T, color=MUTED, lw=4, zorder=-1)
    axes.plot(saddle[0] + np.array([-100, 150]), [saddle[1]] * 2, color=INK, lw=7, solid_capstyle="round")
    axes.add_patch(Circle((0, 0), POSITION.crank_length_mm, fill=False, color=MUTED, lw=1, ls=":"))
    axes.plot([0, pedal[0]], [0, pedal[1]], color=INK, lw=5, solid_capstyle="round")
    axes.plot(0, 0, "o", color=INK, ms=9)
    axes.plot(*pedal, "s", color=INK, ms=10)


def _words(axes, case: Case, place) -> None:
    for name, marker in (("hip", "o"), ("knee", "s"), ("ankle", "D")):
        axes.plot(*place[name], marker, color=FIRST, ms=10, mec="white", mew=1.5, zorder=4)
    for at, words, colour, across in (
        (place["hip"] + (50, 30), "hip: the bony knob at\nthe side of the thigh", FIRST, "left"),
        (place["knee"] + (55, 55), "knee: the outer side\nof the joint", FIRST, "left"),
        (place["ankle"] + (-125, 45), "ankle: the outer knob", FIRST, "right"),
        (place["knee"] + (-115, -60), "the tool reads\nthis angle", THIRD, "right"),
        (place["saddle"] + (-125, 55), "support of the pelvis:\nthe seat, levelled", INK, "right"),
        (place["heel"] + (-25, -5), f"support of the foot:\nfootbed, {case.footbed_mm:g} mm", SECOND, "right"),
    ):
        axes.text(*at, words, color=colour, ha=across, va="center", fontsize=11.5, path_effects=HALO)
    axes.text(-770, 1420, "sketch, not the rider's own angles", color=MUTED, fontsize=11.5, ha="left", va="top")


def readings_figure(case: Case) -> bytes:
    """Three readings of each knee, as found and now."""
    figure = new_figure(640, 340)
    axes = figure.add_subplot()
    rows = {("found", "right"): 4, ("found", "left"): 3, ("supported", "right"): 1.6, ("supported", "left"): 0.6}
    lowest, highest = 180.0, 0.0
    for (stage, side), row in rows.items():
        colour, marker = (SECOND, "o") if side == "right" else (FIRST, "s")
        readings = included_deg(case, side, stage)
        lowest, highest = min(lowest, *readings), max(highest, *readings)
        axes.axhline(row, color=GRID, lw=1, zorder=0)
        shifts = [0.16 * (readings[:place].count(each)) for place, each in enumerate(readings)]
        axes.plot(readings, row + np.array(shifts), marker, color=colour, ms=8, mec="white", mew=1)
    left, right = lowest - 2, max(highest, lowest + smallest_change_deg(case)) + 2
    change = smallest_change_deg(case)
    axes.plot([left + 1, left + 1 + change], [-0.5, -0.5], color=THIRD, lw=4, marker="|", ms=12, mew=3)
    axes.text(left + 1, -0.85, f"smallest change the tool can tell: {change:g}°", color=THIRD, fontsize=11.5, va="top")
    axes.set(
        xlim=(left, max(right, left + change + 3)),
        ylim=(-1.7, 4.9),
        yticks=list(rows.values()),
        yticklabels=["right, as found", "left, as found", "right, now", "left, now"],
        xticks=np.arange(2 * np.floor(left / 2), right + 4, 2),
        xlabel="angle included between thigh and shank (°), crank at the bottom",
    )
    axes.tick_params(labelsize=11.5)
    axes.tick_params(axis="y", length=0)
    axes.xaxis.label.set_size(11.5)
    axes.spines[["top", "right", "left"]].set_visible(False)
    return to_png(figure)
