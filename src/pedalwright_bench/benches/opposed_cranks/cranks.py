"""The cranks from the right side with what each leg does to them, and the torque of this moment as bars."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.opposed_cranks.model import CRANK_MM, Results
from pedalwright_bench.shapes import arrow_polygons
from pedalwright_bench.turn import HALO, TARGET_DEG, Box, outward, tangent

MM_PER_NM = 5.0
LOW_MM, HIGH_MM = -300.0, 235.0
PLACES = ((0, "top", "center", "bottom"), (90, "forward", "left", "bottom"), (270, "back", "right", "bottom"))


class Cranks:
    """The opposed cranks at the chosen moment."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = _stage(figure, box, layout)
        small = style.SMALL_PT[layout]
        _draw_circle(axes, small)
        self._left_crank = Line2D([], [], color=style.OTHER_LEG, lw=9, ls=(0, (1.4, 0.9)), dash_capstyle="butt")
        self._right_crank = Line2D([], [], color=style.USEFUL, lw=11, solid_capstyle="round")
        self._hub = Line2D([0], [0], color=style.INK, marker="o", ms=14, ls="")
        self._pedals = Line2D([], [], color=style.INK, marker="s", ms=11, mfc=style.CARD, mew=2.4, ls="")
        self._with = PolyCollection([], facecolor=style.USEFUL, edgecolor=style.CARD, linewidth=1.2)
        self._against = PolyCollection([], facecolor=style.CARD, edgecolor=style.AGAINST, linewidth=2.6)
        self._names = [axes.text(0, 0, "", ha="center", va="center", weight="bold", path_effects=HALO) for _ in "RL"]
        self._names[0].set_color(style.USEFUL)
        self._names[1].set_color(style.OTHER_LEG)
        for line in (self._left_crank, self._right_crank, self._hub, self._pedals):
            axes.add_line(line)
        for collection in (self._with, self._against):
            axes.add_collection(collection, autolim=False)
        self.moving: list[Artist] = [
            self._left_crank,
            self._right_crank,
            self._hub,
            self._pedals,
            self._with,
            self._against,
            *self._names,
        ]

    def update(self, results: Results) -> None:
        """Turn the cranks and set the arrows."""
        angles = np.array([results.inputs.crank_angle_deg, results.left_angle_deg])
        torque = np.array([results.right_nm, results.left_nm])
        pedals = CRANK_MM * outward(angles)
        for line, pedal in zip((self._right_crank, self._left_crank), pedals, strict=True):
            line.set_data([0, pedal[0]], [0, pedal[1]])
        self._pedals.set_data(*pedals.T)
        arrows = MM_PER_NM * torque[:, None] * tangent(angles)
        turning = torque >= 0
        self._with.set_verts(arrow_polygons(pedals[turning], arrows[turning], 17, 42))
        self._against.set_verts(arrow_polygons(pedals[~turning], arrows[~turning], 15, 36))
        for name, word, pedal, along in zip(self._names, ("right", "left"), pedals, tangent(angles), strict=True):
            beside = along if (round(along[1], 1), along[0]) > (0, 0) else -along
            name.set_text(word)
            name.set_position(pedal / 2 + beside * (52, 30))


class Moment:
    """Torque of this moment: right, left, and what the cranks get."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        axes.set(xlim=(-14, 50), ylim=(-0.6, 2.6), xticks=[0, 20, 40], yticks=[0, 1, 2])
        axes.set_yticklabels(["both legs", "left leg", "right leg"])
        axes.set_title("Torque at this moment (N·m)", pad=10)
        axes.tick_params(length=0, pad=6)
        axes.grid(axis="y", visible=False)
        axes.spines["left"].set_visible(False)
        axes.axvline(0, color=style.MUTED, lw=1.4)
        self._bars = [
            Rectangle((0, place - 0.32), 0, 0.64, facecolor=colour, edgecolor=colour, linewidth=1.8)
            for place, colour in ((2, style.USEFUL), (1, style.OTHER_LEG), (0, style.INK))
        ]
        self._colours = [style.USEFUL, style.OTHER_LEG, style.INK]
        for bar in self._bars:
            axes.add_patch(bar)
        small = style.SMALL_PT[layout]
        self._numbers = [axes.text(0, place, "", va="center", fontsize=small, path_effects=HALO) for place in (2, 1, 0)]
        self.moving: list[Artist] = [*self._bars, *self._numbers]

    def update(self, results: Results) -> None:
        """Set the bars."""
        values = (results.right_nm, results.left_nm, results.both_nm)
        for bar, number, colour, value in zip(self._bars, self._numbers, self._colours, values, strict=True):
            bar.set_width(value)
            bar.set_facecolor(colour if value >= 0 else style.CARD)
            bar.set_edgecolor(colour if value >= 0 else style.AGAINST)
            bar.set_hatch("" if value >= 0 else "////")
            number.set_text(f"{value:+.1f}".replace("-", "−"))
            number.set_x(max(value, 0) + 1.2)


def _stage(figure: Figure, box: Box, layout: Layout) -> Axes:
    axes = figure.add_axes(box)
    axes.set_axis_off()
    width, height = (side * size for side, size in zip(box[2:], style.SIZE_PX[layout], strict=True))
    half = (HIGH_MM - LOW_MM) / 2 * width / height
    axes.set(xlim=(-half, half), ylim=(LOW_MM, HIGH_MM))
    return axes


def _draw_circle(axes: Axes, small: float) -> None:
    axes.add_patch(Circle((0, 0), CRANK_MM, fill=False, ec=style.MUTED, lw=2))
    angles = np.linspace(*TARGET_DEG, 60)
    axes.plot(*(CRANK_MM * outward(angles)).T, color=style.TARGET, lw=26, solid_capstyle="butt", zorder=0)
    axes.add_patch(Circle((0, 0), 62, fill=False, ec=style.STEEL, lw=5))
    for angle in range(0, 360, 15):
        axes.plot(*(outward([angle, angle]) * [[CRANK_MM - 7], [CRANK_MM + 7]]).T, color=style.MUTED, lw=1.4)
    for angle, word, across, along in PLACES:
        place = (CRANK_MM + 20) * outward(angle) + (0, 12 if angle else 0)
        axes.text(place[0], place[1], word, ha=across, va=along, fontsize=small, color=style.MUTED)
    way = np.linspace(212, 240, 30)
    axes.plot(*(228 * outward(way)).T, color=style.MUTED, lw=2.2)
    tip = (228 * outward([way[-1]]), 24 * tangent([way[-1] + 4]))
    axes.add_collection(PolyCollection(arrow_polygons(*tip, 3, 16), facecolor=style.MUTED))
    x, y = 240 * outward(218)
    axes.text(x, y, "pedalling", ha="right", va="top", fontsize=small, color=style.MUTED)
