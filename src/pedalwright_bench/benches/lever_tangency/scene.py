"""The rider's right leg on the bicycle from the right side, and the force arrows around the pedal circle."""

from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon, Wedge

from pedalwright.force import at_crank_angle
from pedalwright.lever import TEACHING_POSITION
from pedalwright.position import saddle_point_mm
from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.lever_tangency.model import Results
from pedalwright_bench.shapes import Floats, arrow_polygons
from pedalwright_bench.turn import HALO, TARGET_DEG, Box, outward, tangent

CRANK_MM = float(np.asarray(TEACHING_POSITION.crank_length_mm))
MM_PER_N = 0.5
ARROW_DEG: Floats = np.arange(0.0, 360.0, 30.0)
SADDLE_OUTLINE_MM = np.array(
    [
        *((-95, 14), (-60, 17), (0, 4), (70, 1), (150, -1), (160, -8)),
        *((150, -15), (60, -18), (0, -27), (-70, -24), (-98, -4)),
    ]
)
LOW_MM, HIGH_MM, MIDDLE_MM = -345.0, 790.0, -5.0


class Scene:
    """The leg at the forward horizontal, with the arrows of the whole turn."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = _stage(figure, box, layout)
        self._start = CRANK_MM * outward(ARROW_DEG)
        self._tangent, self._outward = tangent(ARROW_DEG), outward(ARROW_DEG)
        _draw_bicycle(axes)
        small = style.SMALL_PT[layout]

        self._saddle = Polygon(SADDLE_OUTLINE_MM, closed=True, facecolor=style.STEEL, edgecolor=style.MUTED, lw=1.5)
        self._post = Line2D([], [], color=style.STEEL, lw=7, solid_capstyle="butt")
        self._limb_edge = Line2D([], [], color=style.LIMB_EDGE, lw=24, solid_capstyle="round", solid_joinstyle="round")
        self._limb = Line2D([], [], color=style.LIMB, lw=20, solid_capstyle="round", solid_joinstyle="round")
        self._bones = Line2D([], [], color=style.LIMB_EDGE, lw=2, marker="o", ms=9, mfc=style.CARD, mew=2)
        self._plumb = Line2D([], [], color=style.INK, lw=2.2, ls=(0, (5, 3)))
        self._gap = Line2D([], [], color=style.INK, lw=3.2, marker="|", ms=13, mew=3)
        self._plumb_text = axes.text(0, 0, "", fontsize=small, va="center", path_effects=HALO)
        self._whole = PolyCollection([], facecolor=style.INK, edgecolor="none")
        self._rest = LineCollection([], colors=style.UNUSED, linewidths=2.4, linestyles=(0, (1.2, 1.6)))
        self._useful = PolyCollection([], facecolor=style.USEFUL, edgecolor=style.CARD, linewidth=1.0)
        self._against = PolyCollection([], facecolor=style.CARD, edgecolor=style.AGAINST, linewidth=2.2)
        self._peak = Line2D([], [], color=style.USEFUL, lw=2.2)
        self._peak_text = axes.text(
            0, 0, "", color=style.USEFUL, weight="bold", ha="left", va="center", path_effects=HALO
        )
        for artist in (self._post, self._limb_edge, self._limb, self._bones, self._plumb, self._gap, self._peak):
            axes.add_line(artist)
        axes.add_patch(self._saddle)
        for collection in (self._whole, self._rest, self._useful, self._against):
            axes.add_collection(collection, autolim=False)
        self.moving: list[Artist] = [
            self._post,
            self._saddle,
            self._limb_edge,
            self._limb,
            self._bones,
            self._whole,
            self._rest,
            self._useful,
            self._against,
            self._plumb,
            self._gap,
            self._plumb_text,
            self._peak,
            self._peak_text,
        ]

    def update(self, results: Results) -> None:
        """Move saddle, leg, plumb line and arrows."""
        self._move_leg(results)
        self._move_arrows(results)

    def _move_leg(self, results: Results) -> None:
        self._saddle.set_xy(SADDLE_OUTLINE_MM + results.saddle_mm)
        along_tube = saddle_point_mm(TEACHING_POSITION) * 0.80
        self._post.set_data(*np.stack([along_tube, results.saddle_mm - (0, 22)]).T)
        toe = results.pedal_mm + 0.34 * (results.pedal_mm - results.ankle_mm) * (1, 0.5)
        joints = np.stack([results.hip_mm, results.knee_mm, results.ankle_mm, toe])
        self._limb_edge.set_data(*joints.T)
        self._limb.set_data(*joints.T)
        self._bones.set_data(*np.stack([results.hip_mm, results.knee_mm, results.ankle_mm, results.pedal_mm]).T)
        knee, pedal = results.knee_mm, results.pedal_mm
        self._plumb.set_data([knee[0], knee[0]], [knee[1], pedal[1]])
        self._gap.set_data([knee[0], pedal[0]], [pedal[1], pedal[1]])
        offset = results.knee_over_pedal_mm
        words = "knee plumb\nover the\npedal axle"
        if abs(offset) >= 0.5:
            words = f"knee {abs(offset):.0f} mm\n{'ahead of' if offset > 0 else 'behind'} the\npedal axle"
        self._plumb_text.set_text(words)
        self._plumb_text.set_position((max(knee[0], pedal[0]) + 14, 300))

    def _move_arrows(self, results: Results) -> None:
        stroke = results.stroke
        tangential, radial = (
            MM_PER_N * at_crank_angle(force, ARROW_DEG) for force in (stroke.tangential_force_n, stroke.radial_force_n)
        )
        useful = tangential[:, None] * self._tangent
        whole = useful + radial[:, None] * self._outward
        self._whole.set_verts(arrow_polygons(self._start, whole, 3.2, 15))
        self._rest.set_segments(list(np.stack([self._start + useful, self._start + whole], axis=1)))
        turning = tangential >= 0
        self._useful.set_verts(arrow_polygons(self._start[turning], useful[turning], 10, 25))
        self._against.set_verts(arrow_polygons(self._start[~turning], useful[~turning], 9, 22))
        peak = np.array([results.peak_deg])
        mark = np.concatenate([CRANK_MM * outward(peak), (CRANK_MM + 62) * outward(peak)])
        self._peak.set_data(*mark.T)
        self._peak_text.set_text(f"peak {results.peak_deg:.0f}°")
        self._peak_text.set_position(mark[1] + (6, -6))


def draw_key(figure: Figure, box: Box, layout: Layout) -> None:
    """Say what the arrows mean."""
    axes = figure.add_axes(box)
    axes.set_axis_off()
    width, height = (side * size for side, size in zip(box[2:], style.SIZE_PX[layout], strict=True))
    axes.set(xlim=(0, width), ylim=(0, height))
    entries = ("useful: turns the crank", "against the turn", "whole force", "only loads the crank")
    column = 300 if layout == "wide" else 390
    for number, text in enumerate(entries):
        x, y = 16 + column * (number % 2), height - 24 - 36 * (number // 2)
        begin, along = [[x, y]], [[44.0, 0.0]]
        if number == 0:
            axes.add_collection(PolyCollection(arrow_polygons(begin, along, 8, 19), facecolor=style.USEFUL))
        elif number == 1:
            outline = arrow_polygons(begin, along, 7, 17)
            axes.add_collection(PolyCollection(outline, facecolor=style.CARD, edgecolor=style.AGAINST, linewidth=2.2))
        elif number == 2:
            axes.add_collection(PolyCollection(arrow_polygons(begin, along, 2.6, 12), facecolor=style.INK))
        else:
            axes.plot([x, x + 44], [y, y], color=style.UNUSED, lw=2.4, ls=(0, (1.2, 1.6)))
        axes.text(x + 54, y, text, fontsize=style.SMALL_PT[layout], va="center")


def _stage(figure: Figure, box: Box, layout: Layout) -> Axes:
    axes = figure.add_axes(box)
    axes.set_axis_off()
    width, height = (side * size for side, size in zip(box[2:], style.SIZE_PX[layout], strict=True))
    half = (HIGH_MM - LOW_MM) * width / height / 2
    axes.set(xlim=(MIDDLE_MM - half, MIDDLE_MM + half), ylim=(LOW_MM, HIGH_MM))
    return axes


def _draw_bicycle(axes: Axes) -> None:
    saddle = saddle_point_mm(TEACHING_POSITION)
    frame: dict[str, Any] = {"color": style.FAINT, "solid_capstyle": "round", "zorder": 1}
    axes.plot(*np.stack([(0.0, 0.0), 0.82 * saddle]).T, lw=9, **frame)
    axes.plot([0, 415], [0, 555], lw=9, **frame)
    axes.plot(*np.stack([0.76 * saddle, (415.0, 555.0)]).T, lw=7, **frame)
    axes.plot([0, -405], [0, 35], lw=6, **frame)
    axes.plot(*np.stack([0.74 * saddle, (-405.0, 35.0)]).T, lw=4, **frame)
    axes.add_patch(Circle((-405, 35), 335, fill=False, ec=style.FAINT, lw=4, zorder=0))
    first, last = (90 - angle for angle in TARGET_DEG[::-1])
    axes.add_patch(
        Wedge((0, 0), CRANK_MM + 34, first, last, width=68, fc=style.TARGET, ec=style.TARGET_EDGE, lw=1.5, zorder=2)
    )
    axes.add_patch(Circle((0, 0), CRANK_MM, fill=False, ec=style.MUTED, lw=2, zorder=3))
    axes.add_patch(Circle((0, 0), 70, fill=False, ec=style.STEEL, lw=5, zorder=3))
    axes.plot([0, CRANK_MM], [0, 0], color=style.MUTED, lw=9, solid_capstyle="round", zorder=4)
    axes.plot([0], [0], "o", color=style.INK, ms=10, zorder=5)
