"""The bench's figure: the leg at the bottom, knee and hip flexion over the turn, and the two readings of the knee."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon, Rectangle

from pedalwright.lever import TEACHING_POSITION
from pedalwright.position import saddle_point_mm
from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.leg_on_the_bicycle.model import MOVING, STILL, Results
from pedalwright_bench.leg import Leg, stage
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, TURN_DEG, Box, closed, name_the_angles, over_the_turn

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {"leg": (0.0, 0.0, 0.4, 1.0), "turn": (0.475, 0.445, 0.495, 0.435), "read": (0.605, 0.085, 0.255, 0.185)},
    "narrow": {
        "leg": (0.0, 0.585, 1.0, 0.415),
        "turn": (0.115, 0.275, 0.84, 0.24),
        "read": (0.29, 0.05, 0.47, 0.115),
    },
}
SADDLE_MM = np.array(
    [
        *((-95, 14), (-60, 17), (0, 4), (70, 1), (150, -1), (160, -8)),
        *((150, -15), (60, -18), (0, -27), (-70, -24), (-98, -4)),
    ]
)
HIGHEST_DEG = 132.0


class LegPart:
    """The leg with the crank at the bottom, while pedalling."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -250, 960, 0)
        _draw_frame(axes)
        self._circle = Circle((0, 0), 170, fill=False, ec=style.FAINT, lw=2.4)
        axes.add_patch(self._circle)
        self._post = Line2D([], [], color=style.STEEL, lw=7, solid_capstyle="butt")
        self._saddle = Polygon(SADDLE_MM, closed=True, facecolor=style.STEEL, edgecolor=style.MUTED, lw=1.5)
        axes.add_line(self._post)
        axes.add_patch(self._saddle)
        self._leg = Leg(axes, thickness=22)
        self._straight = Line2D([], [], color=style.INK, lw=2.2, ls=(0, (1, 1.4)))
        self._arc = Line2D([], [], color=style.USEFUL, lw=4)
        for line in (self._straight, self._arc):
            axes.add_line(line)
        self._words = axes.text(0, 0, "", color=style.USEFUL, weight="bold", ha="left", va="center", path_effects=HALO)
        self.moving: list[Artist] = [
            *(self._circle, self._post, self._saddle),
            *self._leg.moving,
            *(self._straight, self._arc, self._words),
        ]

    def update(self, results: Results) -> None:
        """Move saddle, crank and leg."""
        pose = results.bottom
        self._circle.set_radius(results.inputs.crank_length_mm)
        self._saddle.set_xy(SADDLE_MM + results.saddle_mm)
        tube = saddle_point_mm(TEACHING_POSITION) * 0.8
        self._post.set_data(*np.stack([tube, results.saddle_mm - (0, 22)]).T)
        self._leg.update(pose)
        thigh = np.degrees(np.arctan2(*(pose.knee_mm - pose.hip_mm)[::-1]))
        angles = np.radians(thigh - results.knee_at_bottom_deg * np.linspace(0, 1, 40))
        beyond = pose.knee_mm + 260 * np.array([np.cos(angles[0]), np.sin(angles[0])])
        self._straight.set_data(*np.stack([pose.knee_mm, beyond]).T)
        self._arc.set_data(pose.knee_mm[0] + 215 * np.cos(angles), pose.knee_mm[1] + 215 * np.sin(angles))
        self._words.set_text(f"{results.knee_at_bottom_deg:.0f}°\nat the\nbottom")
        self._words.set_position((pose.knee_mm[0] + 95, pose.knee_mm[1] - 125))


class TurnPart:
    """Knee and hip flexion over the turn, now and at the start, with the straightest knee marked."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = over_the_turn(figure, box, ())
        axes.set(ylim=(0, HIGHEST_DEG), yticks=[0, 30, 60, 90, 120])
        axes.set_title("Flexion while pedalling (°)", pad=34)
        name_the_angles(axes)
        small = style.SMALL_PT[layout]
        axes.axhspan(MOVING.low_deg, MOVING.high_deg, facecolor=style.TARGET, lw=0, zorder=0)
        for edge in (MOVING.low_deg, MOVING.high_deg):
            axes.axhline(edge, color=style.TARGET_EDGE, lw=1.2, zorder=0)
        axes.axvline(180, color=style.MUTED, lw=1.6, zorder=1)
        self._start_knee = Line2D([], [], color=style.MUTED, lw=2, ls=(0, (1, 1.4)), label="at the start")
        self._start_hip = Line2D([], [], color=style.MUTED, lw=2, ls=(0, (1, 1.4)))
        self._hip = Line2D([], [], color=style.OTHER_LEG, lw=3.4, ls=(0, (4, 1.6)), label="hip")
        self._knee = Line2D([], [], color=style.USEFUL, lw=4.6, label="knee")
        self._least = Line2D([], [], color=style.USEFUL, marker="o", ms=13, mec=style.CARD, mew=2, ls="")
        self._words = axes.text(
            0, 0, "", color=style.USEFUL, weight="bold", fontsize=small, va="top", ha="center", path_effects=HALO
        )
        for line in (self._start_knee, self._start_hip, self._hip, self._knee, self._least):
            axes.add_line(line)
        axes.legend(
            handles=[self._knee, self._hip, self._start_knee],
            loc="lower left",
            bbox_to_anchor=(-0.02, 0.97),
            ncols=3,
            borderpad=0.2,
            handlelength=2.4,
            columnspacing=1.6,
        )
        self.moving: list[Artist] = [
            *(self._start_knee, self._start_hip, self._hip, self._knee, self._least, self._words)
        ]

    def update(self, results: Results) -> None:
        """Move curves and mark."""
        for line, curve in (
            (self._start_knee, results.start_knee_deg),
            (self._start_hip, results.start_hip_deg),
            (self._hip, results.hip_deg),
            (self._knee, results.knee_deg),
        ):
            line.set_data(TURN_DEG, closed(curve))
        self._least.set_data([results.least_at_deg], [results.least_knee_deg])
        self._words.set_text(f"least at {results.least_at_deg:.0f}°")
        self._words.set_position((results.least_at_deg, results.least_knee_deg - 6))


class ReadPart:
    """The two readings of one knee, each on a scale with its own window."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        axes.set(xlim=(8, 56), ylim=(-0.5, 1.5), xticks=[10, 20, 30, 40, 50], yticks=[1, 0])
        axes.set_xticklabels(["10°", "20°", "30°", "40°", "50°"])
        axes.set_yticklabels(["held still,\nlevel foot", "least while\npedalling"])
        axes.set_title("Knee flexion, two readings", pad=10)
        axes.tick_params(length=0, pad=6)
        axes.grid(axis="y", visible=False)
        axes.spines["left"].set_visible(False)
        for row, window in ((1, STILL), (0, MOVING)):
            width = window.high_deg - window.low_deg
            axes.add_patch(
                Rectangle((window.low_deg, row - 0.34), width, 0.68, fc=style.TARGET, ec=style.TARGET_EDGE, lw=1.6)
            )
        small = style.SMALL_PT[layout]
        self._dots = [Line2D([], [], color=style.USEFUL, marker="o", ms=14, mec=style.CARD, mew=2, ls="") for _ in "ab"]
        self._numbers = [axes.text(58, row, "", va="center", fontsize=small, weight="bold") for row in (1, 0)]
        for dot in self._dots:
            axes.add_line(dot)
        self.moving: list[Artist] = [*self._dots, *self._numbers]

    def update(self, results: Results) -> None:
        """Set the dots; a ring stands outside its window."""
        readings = (
            (1, results.still_knee_deg, results.still_inside),
            (0, results.least_knee_deg, results.moving_inside),
        )
        for dot, text, (row, value, inside) in zip(self._dots, self._numbers, readings, strict=True):
            dot.set_data([value], [row])
            dot.set_markerfacecolor(style.USEFUL if inside else style.CARD)
            dot.set_markeredgecolor(style.CARD if inside else style.AGAINST)
            text.set_text(f"{value:.0f}° {'inside' if inside else 'outside'}")


class BicyclePicture:
    """The leg on the bicycle; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        self.figure = Figure(figsize=size_in(layout))
        self._parts = (
            LegPart(self.figure, boxes["leg"], layout),
            TurnPart(self.figure, boxes["turn"], layout),
            ReadPart(self.figure, boxes["read"], layout),
        )
        self.moving: list[Artist] = [artist for part in self._parts for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for part in self._parts:
            part.update(results)


def _draw_frame(axes: Axes) -> None:
    saddle = saddle_point_mm(TEACHING_POSITION)
    axes.plot(*np.stack([(0.0, 0.0), 0.82 * saddle]).T, color=style.FAINT, lw=9, solid_capstyle="round", zorder=0)
    axes.plot([0, 330], [0, 440], color=style.FAINT, lw=9, solid_capstyle="round", zorder=0)
    axes.plot(*np.stack([0.76 * saddle, (330.0, 520.0)]).T, color=style.FAINT, lw=7, zorder=0)
    axes.plot([0], [0], "o", color=style.INK, ms=11, zorder=1)
