"""Both legs' torque over the turn, and what a meter on one leg and a meter on both read."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon, Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.opposed_cranks.model import Results
from pedalwright_bench.turn import HALO, TARGET_DEG, TURN_DEG, Box, closed, name_the_angles, over_the_turn

LEFT_TARGET_DEG = (TARGET_DEG[0] + 180, TARGET_DEG[1] + 180)


class TurnPanel:
    """Torque of each leg and of both, with the moment marked and the rising half hatched."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = over_the_turn(figure, box, (TARGET_DEG, LEFT_TARGET_DEG))
        axes.set(ylim=(-13, 45), yticks=[0, 20, 40])
        axes.set_title("Torque on the cranks (N·m)", pad=34)
        name_the_angles(axes)
        small = style.SMALL_PT[layout]
        self._cost = Polygon(
            [(0, 0)], closed=True, facecolor="none", edgecolor=style.AGAINST, hatch="////", linewidth=0.0
        )
        self._both = Line2D([], [], color=style.INK, lw=2.8, ls=(0, (6, 2)), label="both legs")
        self._left = Line2D([], [], color=style.OTHER_LEG, lw=2.8, ls=(0, (1.2, 1.2)), label="left leg")
        self._right = Line2D([], [], color=style.USEFUL, lw=4.4, label="right leg")
        self._moment = Line2D([], [], color=style.MUTED, lw=1.8)
        self._dots = [
            Line2D([], [], color=colour, marker=marker, ms=size, mec=style.CARD, mew=2, ls="", clip_on=False)
            for colour, marker, size in (
                (style.INK, "D", 11),
                (style.OTHER_LEG, "s", 11),
                (style.USEFUL, "o", 13),
            )
        ]
        self._cost_text = axes.text(
            265, 1.2, "", ha="center", va="bottom", fontsize=small, color=style.AGAINST, path_effects=HALO
        )
        axes.add_patch(self._cost)
        for line in (self._both, self._left, self._right, self._moment, *self._dots):
            axes.add_line(line)
        axes.legend(
            handles=[self._right, self._left, self._both],
            loc="lower left",
            bbox_to_anchor=(-0.02, 0.97),
            ncols=3,
            borderpad=0.2,
            handlelength=2.4,
            columnspacing=1.6,
        )
        self.moving: list[Artist] = [
            self._cost,
            self._moment,
            self._both,
            self._left,
            self._right,
            *self._dots,
            self._cost_text,
        ]

    def update(self, results: Results) -> None:
        """Move curves and marks."""
        right = closed(results.right_curve_nm)
        self._right.set_data(TURN_DEG, right)
        self._left.set_data(TURN_DEG, closed(results.left_curve_nm))
        self._both.set_data(TURN_DEG, closed(results.both_curve_nm))
        held = np.minimum(right, 0)
        self._cost.set_xy(np.column_stack([np.append(TURN_DEG, TURN_DEG[::-1]), np.append(held, np.zeros_like(held))]))
        angle = results.inputs.crank_angle_deg
        self._moment.set_data([angle, angle], [-13, 45])
        for dot, value in zip(self._dots, (results.both_nm, results.left_nm, results.right_nm), strict=True):
            dot.set_data([angle], [value])
        taken = results.held_back_j
        self._cost_text.set_text(f"takes {taken:.1f} J" if taken >= 0.05 else "takes nothing")


class MeterPanel:
    """Torque effectiveness and smoothness as two meters read them."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        rows = ("one leg’s meter", "both legs’ meter")
        axes.set(xlim=(0, 112), ylim=(-0.55, 3.95), xticks=[0, 50, 100], yticks=[3, 2.3, 0.9, 0.2])
        axes.set_yticklabels([*rows, *rows])
        axes.set_title("What two meters read (%)", pad=10)
        axes.tick_params(length=0, pad=6)
        axes.grid(axis="y", visible=False)
        small = style.SMALL_PT[layout]
        for place, words in ((3.42, "torque effectiveness"), (1.32, "smoothness: mean of peak torque")):
            axes.text(1, place, words, fontsize=small, va="bottom", color=style.MUTED)
        self._bars = [
            Rectangle((0, place - 0.26), 0, 0.52, facecolor=colour, edgecolor=colour, hatch=hatch)
            for place, colour, hatch in (
                (3, style.USEFUL, ""),
                (2.3, style.INK, ""),
                (0.9, style.USEFUL, ""),
                (0.2, style.INK, ""),
            )
        ]
        for bar in self._bars:
            axes.add_patch(bar)
        self._numbers = [
            axes.text(0, bar.get_y() + 0.26, "", va="center", fontsize=small, weight="bold", path_effects=HALO)
            for bar in self._bars
        ]
        self.moving: list[Artist] = [*self._bars, *self._numbers]

    def update(self, results: Results) -> None:
        """Set the bars."""
        values = (
            results.one_leg_effectiveness_pct,
            results.both_legs_effectiveness_pct,
            results.one_leg_smoothness_pct,
            results.both_legs_smoothness_pct,
        )
        for bar, number, value in zip(self._bars, self._numbers, values, strict=True):
            bar.set_width(value)
            number.set_x(value + 1.5)
            number.set_text(f"{value:.0f}")
