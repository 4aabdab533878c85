"""The rider's right side with the crank at the top: pelvis, back, thigh, and the gluteus maximus behind the hip."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Arc, Circle, Polygon

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.lever_tangency.scene import SADDLE_OUTLINE_MM
from pedalwright_bench.benches.pelvis_and_hip.model import TRUNK_DEG, Inputs, Results, results
from pedalwright_bench.panels import stage
from pedalwright_bench.shapes import Floats
from pedalwright_bench.turn import HALO, Box

LOW_MM, HIGH_MM = -215.0, 1305.0
TRUNK_MM = 450.0
BEHIND_MM = np.array([112.0, 62.0])
PELVIS_MM = np.array(
    [
        *((58, 62), (50, 92), (0, 128), (-60, 118), (-92, 78), (-98, 20), (-70, -8)),
        *((-38, -36), (-22, -44), (6, -34), (60, -26), (66, -4), (36, 10)),
    ]
)
BACK_OF_PELVIS, GLUTEUS_FROM, AXIS = np.array([[-62, 108]]), np.array([[-96, 52]]), np.array([[0, 165], [0, -265]])


class Side:
    """Pelvis, back and leg; the pale line is the start."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, LOW_MM, HIGH_MM, 40.0)
        small = style.SMALL_PT[layout]
        start = results(Inputs())
        trunk = np.radians(TRUNK_DEG)
        self._shoulder = start.hip_mm + TRUNK_MM * np.array([np.cos(trunk), np.sin(trunk)])
        _draw_what_stays(axes, start, self._shoulder)
        axes.text(axes.get_xlim()[0] + 15, HIGH_MM - 12, "crank at the top", ha="left", va="top", fontsize=small)
        self._circle = Circle((0, 0), 1, fill=False, ec=style.MUTED, lw=2)
        self._saddle = Polygon(SADDLE_OUTLINE_MM, closed=True, facecolor=style.STEEL, edgecolor=style.MUTED, lw=1.5)
        self._post = Line2D([], [], color=style.STEEL, lw=7, solid_capstyle="butt")
        self._crank = Line2D([], [], color=style.MUTED, lw=9, solid_capstyle="round")
        self._back = [Line2D([], [], color=colour, lw=lw) for colour, lw in ((style.LIMB_EDGE, 24), (style.LIMB, 20))]
        self._leg = [
            Line2D([], [], color=colour, lw=lw, solid_joinstyle="round")
            for colour, lw in ((style.LIMB_EDGE, 24), (style.LIMB, 20))
        ]
        self._pelvis = Polygon(PELVIS_MM, closed=True, facecolor=style.CARD, edgecolor=style.LIMB_EDGE, lw=3)
        self._gluteus = Line2D([], [], color=style.AGAINST, lw=11, solid_capstyle="round")
        self._bones = Line2D([], [], color=style.LIMB_EDGE, lw=2, marker="o", ms=9, mfc=style.CARD, mew=2)
        self._axis = Line2D([], [], color=style.USEFUL, lw=3)
        self._start = Line2D([], [], color=style.USEFUL, lw=2, ls=(0, (4, 3)))
        self._arc = Arc((0, 0), 380, 380, theta1=0, theta2=1, color=style.USEFUL, lw=3)
        self._words = axes.text(0, 0, "", color=style.USEFUL, weight="bold", va="center", path_effects=HALO)
        self._muscle = axes.text(
            0, 0, "gluteus\nmaximus", color=style.AGAINST, fontsize=small, ha="right", va="center", path_effects=HALO
        )
        for patch in (self._circle, self._saddle, self._pelvis, self._arc):
            axes.add_patch(patch)
        lines = (self._post, self._crank, *self._back, *self._leg, self._gluteus, self._bones, self._start, self._axis)
        for line in lines:
            axes.add_line(line)
        self.moving: list[Artist] = [
            *(self._circle, self._crank, self._post, self._saddle, *self._back, *self._leg, self._pelvis),
            *(self._gluteus, self._bones, self._start, self._axis, self._arc, self._words, self._muscle),
        ]

    def update(self, results: Results) -> None:
        """Turn the pelvis and move the leg."""
        hip, tilt = results.hip_mm, results.inputs.pelvis_forward_tilt_deg
        self._circle.set_radius(results.inputs.crank_length_mm)
        self._crank.set_data([0, 0], [0, results.pedal_mm[1]])
        self._saddle.set_xy(SADDLE_OUTLINE_MM + results.saddle_mm)
        self._post.set_data(*np.stack([0.78 * results.saddle_mm, results.saddle_mm - (0, 22)]).T)
        self._pelvis.set_xy(_rolled(PELVIS_MM, tilt) + hip)
        base, lean = _rolled(BACK_OF_PELVIS, tilt)[0] + hip, _rolled(np.array([[0, 190]]), tilt)[0]
        for line in self._back:
            line.set_data(*_bent(base, base + lean, self._shoulder).T)
        toe = results.pedal_mm + 0.34 * (results.pedal_mm - results.ankle_mm) * (1, 0.5)
        joints = np.stack([hip, results.knee_mm, results.ankle_mm, toe])
        for line in self._leg:
            line.set_data(*joints.T)
        self._bones.set_data(*joints[:3].T)
        self._move_hip(results, hip, tilt)

    def _move_hip(self, results: Results, hip: Floats, tilt: float) -> None:
        thigh = results.knee_mm - hip
        along = thigh / np.hypot(*thigh)
        behind = np.array([along[1], -along[0]])
        insertion = hip + 135 * along + 20 * behind
        self._gluteus.set_data(*_bent(_rolled(GLUTEUS_FROM, tilt)[0] + hip, hip - BEHIND_MM, insertion).T)
        self._muscle.set_position((hip[0] - 150, hip[1] + 20))
        self._axis.set_data(*(_rolled(AXIS, tilt) + hip).T)
        self._start.set_data(*(_rolled(AXIS, Inputs().pelvis_forward_tilt_deg) + hip).T)
        self._start.set_visible(tilt != Inputs().pelvis_forward_tilt_deg)
        self._arc.set_center((hip[0], hip[1]))
        self._arc.theta1 = -90 - tilt
        self._arc.theta2 = float(np.degrees(np.arctan2(along[1], along[0])))
        self._words.set_text(f"{results.top_hip_flexion_deg:.0f}°")
        self._words.set_position((hip[0] + 70, hip[1] - 205))


def _draw_what_stays(axes: Axes, start: Results, shoulder: Floats) -> None:
    """Draw the frame, the arms and the head."""
    hands, front = shoulder + np.array([235, -330]), (415.0, 555.0)
    tubes = (((0, 0), 0.84 * start.saddle_mm, 9), ((0, 0), front, 9), (0.76 * start.saddle_mm, front, 7))
    for first, last, width in (*tubes, (front, hands, 7)):
        axes.plot(*np.stack([first, last]).T, lw=width, color=style.FAINT, solid_capstyle="round", zorder=1)
    elbow = (shoulder + hands) / 2 + (-30, -60)
    axes.plot(*np.stack([shoulder, elbow, hands]).T, color=style.LIMB, lw=13)
    axes.add_patch(
        Circle((shoulder[0] + 75, shoulder[1] + 125), 78, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2)
    )
    axes.add_patch(Circle((0, 0), 70, fill=False, ec=style.STEEL, lw=5))


def _rolled(points: Floats, roll_deg: float) -> Floats:
    """Turn points about the hip joint, forward: clockwise from the rider's right."""
    angle = np.radians(roll_deg)
    return np.asarray(points @ np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]))


def _bent(first: Floats, over: Floats, last: Floats) -> Floats:
    """Points of a curve that leaves the first point towards the middle one and ends at the last."""
    share = np.linspace(0, 1, 30)[:, None]
    return np.asarray((1 - share) ** 2 * first + 2 * share * (1 - share) * over + share**2 * last)
