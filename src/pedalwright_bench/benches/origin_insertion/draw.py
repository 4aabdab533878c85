"""The bench's figure: the muscle on the leg with its moment arms, and the arms as bars with their sign."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.origin_insertion.model import JOINTS, Results
from pedalwright_bench.benches.origin_insertion.words import CLOSING, OPENING, action_in_words
from pedalwright_bench.leg import Leg, draw_crank_circle, stage
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {"leg": (0.0, 0.0, 0.5, 1.0), "arms": (0.555, 0.2, 0.42, 0.6)},
    "narrow": {"leg": (0.0, 0.4, 1.0, 0.6), "arms": (0.1, 0.075, 0.85, 0.25)},
}
REACH_MM = 75.0
SIDE = {"hip": (1, 0.2), "knee": (1, 0.35), "ankle": (-1, 0.1)}


class LegPart:
    """The leg, the muscle from origin to insertion, and a moment arm at each joint crossed."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -235, 965, 20)
        draw_crank_circle(axes, 170)
        self._leg = Leg(axes, thickness=26)
        self._halo = Line2D([], [], color=style.CARD, lw=11, solid_capstyle="round")
        self._muscle = Line2D([], [], color=style.AGAINST, lw=6.5, solid_capstyle="round", solid_joinstyle="round")
        self._origin = Line2D([], [], color=style.AGAINST, marker="o", ms=15, mfc=style.CARD, mew=3.4, ls="")
        self._insertion = Line2D([], [], color=style.AGAINST, marker="s", ms=13, mec=style.CARD, mew=2, ls="")
        self._arms = [Line2D([], [], color=style.INK, lw=4.4, solid_capstyle="butt") for _ in JOINTS]
        for line in (self._halo, self._muscle, *self._arms, self._origin, self._insertion):
            axes.add_line(line)
        small = style.SMALL_PT[layout]
        self._words = [
            axes.text(0, 0, "", fontsize=small, weight="bold", va="center", path_effects=HALO) for _ in JOINTS
        ]
        axes.text(
            20,
            -208,
            "ring: origin · square: insertion · black: moment arm",
            fontsize=small,
            color=style.MUTED,
            ha="center",
        )
        self.moving: list[Artist] = [
            *self._leg.moving,
            *(self._halo, self._muscle, *self._arms, self._origin, self._insertion, *self._words),
        ]

    def update(self, results: Results) -> None:
        """Move leg, muscle, arms and words."""
        self._leg.update(results.pose)
        line = results.path.line_mm
        self._halo.set_data(*line.T)
        self._muscle.set_data(*line.T)
        self._origin.set_data(*line[:1].T)
        self._insertion.set_data(*line[-1:].T)
        for joint, arm, word in zip(JOINTS, self._arms, self._words, strict=True):
            centre = getattr(results.pose, f"{joint}_mm")
            if joint not in results.arms_mm:
                arm.set_data([], [])
                word.set_text("")
                continue
            arm.set_data(*np.stack([centre, results.path.arm_feet_mm[joint]]).T)
            way, up = SIDE[joint]
            word.set_text(action_in_words(joint, results.arms_mm[joint]).replace(" the ", "\nthe "))
            word.set_position((centre[0] + way * 118, centre[1] + up * 100))
            word.set_horizontalalignment("left" if way > 0 else "right")


class ArmsPart:
    """Moment arms as bars: left opens, right closes; the side that lengthens the leg is shaded."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        axes.set(xlim=(-REACH_MM, REACH_MM), ylim=(-0.6, 2.75), yticks=[], xticks=[-60, -30, 0, 30, 60])
        axes.set_xticklabels(["−60", "−30", "0", "30", "60"])
        axes.set_title("Moment arm (mm)", pad=16)
        axes.tick_params(length=0, pad=6)
        axes.spines["left"].set_visible(False)
        small = style.SMALL_PT[layout]
        for row, joint in zip((2, 1, 0), JOINTS, strict=True):
            left = 0 if joint == "ankle" else -REACH_MM
            axes.add_patch(Rectangle((left, row - 0.42), REACH_MM, 0.62, fc=style.TARGET, ec=style.TARGET_EDGE, lw=1.2))
            for x, across, words in ((-REACH_MM, "left", OPENING[joint]), (REACH_MM, "right", CLOSING[joint])):
                axes.text(x, row + 0.36, words, ha=across, va="center", fontsize=small, color=style.MUTED)
        axes.axvline(0, color=style.MUTED, lw=1.6)
        self._bars = [Rectangle((0, row - 0.3), 0, 0.38, fc=style.AGAINST, ec=style.AGAINST) for row in (2, 1, 0)]
        for bar in self._bars:
            axes.add_patch(bar)
        self._numbers = [
            axes.text(0, row - 0.11, "", va="center", fontsize=small, weight="bold", path_effects=HALO)
            for row in (2, 1, 0)
        ]
        self.moving: list[Artist] = [*self._bars, *self._numbers]

    def update(self, results: Results) -> None:
        """Set the bars; a joint that is not crossed says so."""
        for joint, bar, number in zip(JOINTS, self._bars, self._numbers, strict=True):
            arm = results.arms_mm.get(joint)
            bar.set_width(arm or 0.0)
            bar.set_visible(arm is not None)
            number.set_text("not crossed" if arm is None else f"{arm:+.0f}".replace("-", "−"))
            number.set_fontweight("normal" if arm is None else "bold")
            number.set_x(2.5 if arm is None else arm + (2.5 if arm > 0 else -2.5))
            number.set_horizontalalignment("left" if arm is None or arm > 0 else "right")


class OriginPicture:
    """A muscle between two attachments; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        self.figure = Figure(figsize=size_in(layout))
        self._parts = (LegPart(self.figure, boxes["leg"], layout), ArmsPart(self.figure, boxes["arms"], layout))
        self.moving: list[Artist] = [artist for part in self._parts for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for part in self._parts:
            part.update(results)
