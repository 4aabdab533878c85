"""The right leg seen from the front, so that the rider's right is on the left, and the heel close up."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Arc, Polygon, Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.foot_under_load.model import TARGET_MM, Results, results
from pedalwright_bench.benches.foot_under_load.model import Inputs as Start
from pedalwright_bench.panels import stage
from pedalwright_bench.shapes import Floats
from pedalwright_bench.turn import HALO, Box

LOW_MM, HIGH_MM = -95.0, 850.0
HEEL_MM = np.array(
    [
        *((-31, 0), (-34, 10), (-33, 30), (-25, 48), (-20, 66), (-19, 96)),
        *((19, 96), (20, 66), (25, 48), (33, 30), (34, 10), (31, 0)),
    ]
)

MIDDLE_MM = np.array([(0.0, 0.0), (0.0, 122.0)])


class LegFromFront:
    """Hip, knee and foot from the front: the leg on the footbed, and dashed the leg without one."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, LOW_MM, HIGH_MM, -105.0)
        small = style.SMALL_PT[layout]
        start = results(Start())
        knee = start.knee_mm * (-1, 1)
        axes.plot([0, 0], [LOW_MM, HIGH_MM - 55], color=style.FAINT, lw=2, ls=(0, (8, 4, 2, 4)), zorder=0)
        axes.text(-6, LOW_MM + 8, "midline", ha="right", va="bottom", fontsize=small, color=style.MUTED)
        low, high = knee[0] + TARGET_MM[0], knee[0] + TARGET_MM[1]
        self._target = Rectangle(
            (low, knee[1] - 62), high - low, 124, facecolor=style.TARGET, edgecolor=style.TARGET_EDGE, lw=1.4
        )
        axes.text(knee[0] - 48, knee[1], "target", ha="right", va="center", fontsize=small, color=style.TARGET_INK)
        axes.text(-105, HIGH_MM - 6, "right leg from the front", ha="center", va="top", fontsize=small)
        axes.plot([-175, -75], [-32, -32], color=style.MUTED, lw=11, solid_capstyle="round")
        self._limb_edge = Line2D([], [], color=style.LIMB_EDGE, lw=44, solid_capstyle="round", solid_joinstyle="round")
        self._limb = Line2D([], [], color=style.LIMB, lw=40, solid_capstyle="round", solid_joinstyle="round")
        self._foot = Polygon([(0, 0)], closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2, zorder=2.5)
        self._bare = Line2D([], [], color=style.AGAINST, lw=3, ls=(0, (4, 2.5)), marker="D", ms=10, mfc=style.CARD)
        self._held = Line2D([], [], color=style.USEFUL, lw=3, marker="o", ms=11, mfc=style.CARD, mew=2.6)
        self._words = axes.text(0, 0, "", ha="left", va="center", fontsize=small, path_effects=HALO, linespacing=1.3)
        for line in (self._limb_edge, self._limb, self._bare, self._held):
            axes.add_line(line)
        for patch in (self._foot, self._target):
            axes.add_patch(patch)
        self.moving: list[Artist] = [
            self._limb_edge,
            self._limb,
            self._foot,
            self._target,
            self._bare,
            self._held,
            self._words,
        ]

    def update(self, results: Results) -> None:
        """Move both knees."""
        bare, held = (_joints(results, float(one.knee_drift_mm)) for one in (results.bare, results.held))
        for line in (self._limb_edge, self._limb):
            line.set_data(*held.T)
        self._held.set_data(*held.T)
        self._bare.set_data(*bare.T)
        foot = HEEL_MM * (1.35, 0.85)
        self._foot.set_xy(_rolled(foot, float(results.held.eversion_deg)) + np.array([held[2, 0], -28]))
        self._words.set_text(f"{float(results.held.knee_drift_mm):.0f} mm\ninward")
        self._words.set_position((max(held[1, 0], bare[1, 0]) + 52, held[1, 1]))


class Heel:
    """The heel on its support from the front, rolled inward, with what the footbed fills."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -36.0, 152.0)
        small = style.SMALL_PT[layout]
        axes.text(0, 150, "right heel from the front", ha="center", va="top", fontsize=small)
        axes.text(-66, -14, "outer", ha="left", va="top", fontsize=small, color=style.MUTED)
        axes.text(66, -14, "inner", ha="right", va="top", fontsize=small, color=style.MUTED)
        axes.plot([-66, 66], [-3, -3], color=style.MUTED, lw=6, solid_capstyle="butt")
        axes.plot([0, 0], [0, 128], color=style.MUTED, lw=1.8, ls=(0, (5, 3)))
        self._heel = Polygon(HEEL_MM, closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2)
        self._support = Polygon([(0, 0)], closed=True, facecolor=style.STEEL, edgecolor=style.USEFUL, lw=2)
        self._middle = Line2D([], [], color=style.USEFUL, lw=4)
        self._bare = Line2D([], [], color=style.AGAINST, lw=3, ls=(0, (4, 2.5)))
        self._arc = Arc((0, 0), 236, 236, theta1=89, theta2=90, color=style.USEFUL, lw=2.2)
        self._words = axes.text(0, 0, "", va="center", color=style.USEFUL, weight="bold", path_effects=HALO)
        for patch in (self._support, self._heel, self._arc):
            axes.add_patch(patch)
        for line in (self._bare, self._middle):
            axes.add_line(line)
        self.moving: list[Artist] = [self._heel, self._support, self._bare, self._middle, self._arc, self._words]

    def update(self, results: Results) -> None:
        """Roll the heel and fill the footbed."""
        roll = float(results.held.eversion_deg)
        middle, bare = (_rolled(MIDDLE_MM, float(one.eversion_deg)) for one in (results.held, results.bare))
        self._heel.set_xy(_rolled(HEEL_MM, roll))
        self._middle.set_data(*middle.T)
        self._bare.set_data(*bare.T)
        self._arc.set_center(middle[0])
        self._arc.theta1 = 90 - roll
        high = 0.25 * results.inputs.held_pct
        self._support.set_visible(high > 0)
        self._support.set_xy([(33, 0), (62, 0), (62, 1.5 * high), (46, high), (38, 0.35 * high)])
        self._words.set_text(f"{roll:.1f}°")
        self._words.set_position((38, 118))


def _joints(results: Results, drift_mm: float) -> Floats:
    """Hip, knee and ankle from the front, the knee moved towards the frame."""
    points = np.stack([results.hip_mm, results.knee_mm - (drift_mm, 0), results.ankle_mm])
    return np.asarray(points * (-1, 1))


def _rolled(points: Floats, roll_deg: float) -> Floats:
    """Turn points about the inner edge of the heel, inward: clockwise as seen from the front."""
    angle = np.radians(roll_deg)
    across, up = points[:, 0] - HEEL_MM[-1, 0], points[:, 1]
    turned = np.stack([across * np.cos(angle) + up * np.sin(angle), up * np.cos(angle) - across * np.sin(angle)], -1)
    return np.asarray(turned + HEEL_MM[-1])
