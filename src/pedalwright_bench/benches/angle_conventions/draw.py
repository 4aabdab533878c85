"""The bench's figure: one pose with its angles drawn, and each joint under three names on a scale of degrees."""

from collections.abc import Mapping

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.angle_conventions.model import ANKLE_SHOWN, Results
from pedalwright_bench.benches.angle_conventions.words import number
from pedalwright_bench.leg import Leg, draw_crank_circle, stage
from pedalwright_bench.shapes import Floats
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "pose": (0.0, 0.0, 0.42, 1.0),
        "knee": (0.685, 0.69, 0.29, 0.235),
        "hip": (0.685, 0.37, 0.29, 0.235),
        "ankle": (0.685, 0.05, 0.29, 0.235),
    },
    "narrow": {
        "pose": (0.0, 0.565, 1.0, 0.435),
        "knee": (0.46, 0.405, 0.5, 0.12),
        "hip": (0.46, 0.22, 0.5, 0.12),
        "ankle": (0.46, 0.035, 0.5, 0.12),
    },
}
LOW_DEG, HIGH_DEG = -125.0, 185.0
NAMES: dict[str, tuple[tuple[str, str], ...]] = {
    "knee": (
        ("flexion", "flexion ━━"),
        ("included angle", "included angle ╍╍"),
        ("extension positive", "extension positive"),
    ),
    "hip": (
        ("thigh to pelvis", "thigh to pelvis"),
        ("trunk to thigh", "trunk to thigh ╍╍"),
        ("thigh below horizontal", "below horizontal ━·━"),
    ),
    "ankle": tuple((name, name.replace("included angle to the", "angle to the")) for name in ANKLE_SHOWN),
}
COLOURS = (style.USEFUL, style.AGAINST, style.OTHER_LEG)
MARKERS = ("o", "s", "D")
DASHES = ("-", (0, (2.2, 1)), (0, (5, 1.4, 1, 1.4)))


class PosePart:
    """The rider's leg and trunk, with an arc for each name of the knee and two of the hip."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -225, 1320, 10)
        draw_crank_circle(axes, 170)
        self._trunk_edge = Line2D([], [], color=style.LIMB_EDGE, lw=42, solid_capstyle="round")
        self._trunk = Line2D([], [], color=style.LIMB, lw=38, solid_capstyle="round")
        for line in (self._trunk_edge, self._trunk):
            axes.add_line(line)
        self._leg = Leg(axes, thickness=20)
        self._straight = Line2D([], [], color=style.MUTED, lw=2.2, ls=(0, (1, 1.4)))
        self._level = Line2D([], [], color=style.MUTED, lw=2.2, ls=(0, (1, 1.4)))
        self._arcs = [Line2D([], [], color=colour, lw=4, ls=dash) for colour, dash in zip(COLOURS, DASHES, strict=True)]
        self._hips = [Line2D([], [], color=COLOURS[i], lw=4, ls=DASHES[i]) for i in (1, 2)]
        for line in (self._straight, self._level, *self._arcs[:2], *self._hips):
            axes.add_line(line)
        self.moving: list[Artist] = [
            *(self._trunk_edge, self._trunk),
            *self._leg.moving,
            *(self._straight, self._level, *self._arcs[:2], *self._hips),
        ]

    def update(self, results: Results) -> None:
        """Move the pose and its arcs."""
        pose = results.pose
        self._leg.update(pose)
        trunk = np.stack([pose.hip_mm + 0.18 * (results.shoulder_mm - pose.hip_mm), results.shoulder_mm])
        for line in (self._trunk_edge, self._trunk):
            line.set_data(*trunk.T)
        thigh, shank = _direction(pose.hip_mm, pose.knee_mm), _direction(pose.knee_mm, pose.ankle_mm)
        beyond = pose.knee_mm + 235 * _unit(thigh)
        self._straight.set_data(*np.stack([pose.knee_mm, beyond]).T)
        self._arcs[0].set_data(*_arc(pose.knee_mm, 200, thigh, shank))
        self._arcs[1].set_data(*_arc(pose.knee_mm, 120, thigh - 180, shank))
        self._level.set_data(*np.stack([pose.hip_mm, pose.hip_mm + np.array([330, 0])]).T)
        self._hips[0].set_data(*_arc(pose.hip_mm, 190, results.inputs.trunk_angle_deg, thigh))
        self._hips[1].set_data(*_arc(pose.hip_mm, 275, 0, thigh))


class ScalePart:
    """One joint: three names, each with its dot on a scale of degrees and, for the knee, the window."""

    def __init__(self, figure: Figure, box: Box, layout: Layout, joint: str) -> None:
        axes = figure.add_axes(box)
        axes.set(xlim=(LOW_DEG, HIGH_DEG), ylim=(-0.15, 3.0), yticks=[2.3, 1.3, 0.3], xticks=[-90, 0, 90, 180])
        axes.set_xticklabels(["−90°", "0°", "90°", "180°"])
        axes.set_title(joint.capitalize(), pad=8)
        axes.tick_params(length=0, pad=6)
        axes.set_yticklabels([words for _, words in NAMES[joint]])
        for label, colour in zip(axes.get_yticklabels(), COLOURS, strict=True):
            label.set_color(colour)
        axes.grid(axis="y", visible=False)
        axes.spines["left"].set_visible(False)
        axes.axvline(0, color=style.MUTED, lw=1.6, zorder=1)
        self._joint = joint
        self._names = [key for key, _ in NAMES[joint]]
        small = style.SMALL_PT[layout]
        self._windows = [
            Rectangle((0, row), 0, 0.62, fc=style.TARGET, ec=style.TARGET_EDGE, lw=1.6, visible=False)
            for row in (2, 1, 0)
        ]
        self._dots = [
            Line2D([], [], color=colour, marker=marker, ms=13, mec=style.CARD, mew=2, ls="")
            for colour, marker in zip(COLOURS, MARKERS, strict=True)
        ]
        self._numbers = [
            axes.text(0, row + 0.3, "", va="center", weight="bold", color=colour, path_effects=HALO, fontsize=small)
            for row, colour in zip((2, 1, 0), COLOURS, strict=True)
        ]
        for window in self._windows:
            axes.add_patch(window)
        for dot in self._dots:
            axes.add_line(dot)
        self.moving: list[Artist] = [*self._windows, *self._dots, *self._numbers]

    def update(self, results: Results) -> None:
        """Set dots, numbers and windows."""
        values: Mapping[str, float] = getattr(results, f"{self._joint}_deg")
        for row, name in enumerate(self._names):
            value, height = values[name], 2.3 - row
            self._dots[row].set_data([value], [height])
            right = 0 <= value <= 120 or value < -60
            self._numbers[row].set_text(f"{number(value)}°")
            self._numbers[row].set_x(value + (13 if right else -13))
            self._numbers[row].set_horizontalalignment("left" if right else "right")
            if self._joint == "knee":
                low, high = results.window_deg[name]
                self._windows[row].set_bounds(low, 2 - row, high - low, 0.62)
                self._windows[row].set_visible(True)
                self._windows[row].set_linestyle("-" if results.at_bottom else (0, (1.5, 1.5)))
                self._windows[row].set_facecolor(style.TARGET if results.at_bottom else style.CARD)


class ConventionsPicture:
    """One pose under many names; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        self.figure = Figure(figsize=size_in(layout))
        self._parts: tuple[PosePart | ScalePart, ...] = (
            PosePart(self.figure, boxes["pose"], layout),
            *(ScalePart(self.figure, boxes[joint], layout, joint) for joint in NAMES),
        )
        self.moving: list[Artist] = [artist for part in self._parts for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for part in self._parts:
            part.update(results)


def _direction(start: Floats, end: Floats) -> float:
    along = end - start
    return float(np.degrees(np.arctan2(along[1], along[0])))


def _unit(angle_deg: float) -> Floats:
    return np.array([np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))])


def _arc(centre: Floats, radius: float, start_deg: float, end_deg: float) -> tuple[Floats, Floats]:
    turn = (end_deg - start_deg + 180) % 360 - 180
    angles = np.radians(start_deg + turn * np.linspace(0, 1, 40))
    return centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)
