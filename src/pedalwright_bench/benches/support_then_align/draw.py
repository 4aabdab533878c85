"""The bench's figure: how seat and foot are supported, both knees step by step, and what the saddle went through."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.support_then_align.model import AIM_DEG, TOOL, WINDOW, Results
from pedalwright_bench.benches.uneven_seat.scene import PELVIS_MM, SADDLE_MM
from pedalwright_bench.leg import SOLE_MM
from pedalwright_bench.panels import Row, Rows, signed, stage
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "pelvis": (0.0, 0.47, 0.30, 0.50),
        "foot": (0.0, 0.05, 0.30, 0.36),
        "way": (0.365, 0.40, 0.615, 0.53),
        "saddle": (0.515, 0.095, 0.44, 0.14),
    },
    "narrow": {
        "pelvis": (0.0, 0.755, 0.5, 0.235),
        "foot": (0.5, 0.755, 0.5, 0.235),
        "way": (0.10, 0.31, 0.88, 0.385),
        "saddle": (0.36, 0.06, 0.60, 0.105),
    },
}
KNEE_DEG = (23.0, 47.0)
FOOTBED_MM = np.array([(-44, -82), (174, -82), (176, -72), (60, -70), (20, -58), (-20, -66), (-48, -70)])


class Support:
    """The pelvis on its seat from behind, and the foot on its footbed from the side."""

    def __init__(self, figure: Figure, boxes: dict[str, Box], layout: Layout) -> None:
        small = style.SMALL_PT[layout]
        axes = stage(figure, boxes["pelvis"], layout, -125, 290)
        axes.text(0, 286, "seat, from behind", ha="center", va="top", weight="bold")
        axes.plot([-140, 140], [-2, -2], color=style.MUTED, lw=1.6, ls=(0, (6, 4)), zorder=0)
        for across, word in ((-118, "left"), (118, "right")):
            axes.text(across, -34, word, ha="center", va="center", fontsize=small, color=style.MUTED)
        self._seat = Polygon(SADDLE_MM, closed=True, facecolor=style.STEEL, edgecolor=style.MUTED, lw=2)
        self._pelvis = Polygon(PELVIS_MM, closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2.5)
        self._seat_words = axes.text(0, -92, "", ha="center", va="center", weight="bold", path_effects=HALO)
        for patch in (self._seat, self._pelvis):
            axes.add_patch(patch)
        foot = stage(figure, boxes["foot"], layout, -190, 150, 62)
        foot.text(62, 146, "foot, from the side", ha="center", va="top", weight="bold")
        foot.add_patch(Polygon(SOLE_MM, closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2))
        foot.plot([-5, 6], [70, 6], color=style.LIMB, lw=34, solid_capstyle="round", zorder=0)
        foot.plot([75, 165], [-96, -96], color=style.INK, lw=6, solid_capstyle="round")
        self._footbed = Polygon(FOOTBED_MM, closed=True, facecolor=style.CARD, edgecolor=style.USEFUL, lw=2.4)
        self._foot_words = foot.text(62, -146, "", ha="center", va="center", weight="bold", path_effects=HALO)
        foot.add_patch(self._footbed)
        self.moving: list[Artist] = [
            *(self._seat, self._pelvis, self._seat_words),
            *(self._footbed, self._foot_words),
        ]

    def update(self, results: Results) -> None:
        """Lean the seat, and put the footbed in."""
        now = results.now
        angle = np.radians(now.seat_deg)
        turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
        self._seat.set_xy(SADDLE_MM @ turn)
        self._pelvis.set_xy(PELVIS_MM @ turn)
        self._seat_words.set_text("level" if now.seat_deg == 0 else f"right side {now.seat_deg:g}° higher")
        fitted = now.footbed_mm > 0
        self._footbed.set_facecolor(style.USEFUL if fitted else style.CARD)
        self._footbed.set_linestyle("-" if fitted else (0, (2, 1.6)))
        self._foot_words.set_text(f"footbed, {now.footbed_mm:g} mm" if fitted else "no footbed")


class Way:
    """Both knees at the bottom of the stroke, step by step up to now."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        small = style.SMALL_PT[layout]
        axes.set(
            xlim=(-0.45, 5.75 if layout == "narrow" else 5.2),
            ylim=KNEE_DEG,
            xticks=range(5),
            yticks=[25, 30, 35, 40, 45],
            xticklabels=[],
        )
        axes.set_title("Knee flexion at the bottom, held still (°)", pad=12)
        axes.tick_params(length=0, pad=6)
        axes.axhspan(WINDOW.low_deg, WINDOW.high_deg, facecolor=style.TARGET, lw=0, zorder=0)
        for edge in (WINDOW.low_deg, WINDOW.high_deg):
            axes.axhline(edge, color=style.TARGET_EDGE, lw=1.2, zorder=0)
        axes.axhline(AIM_DEG, color=style.TARGET_INK, lw=2, ls=(0, (5, 3)), zorder=1)
        axes.text(-0.4, AIM_DEG - 0.3, "aim", va="top", fontsize=small, color=style.TARGET_INK)
        axes.text(
            axes.get_xlim()[1], KNEE_DEG[1], "bar: the tool's error, 95 %", ha="right", va="top", fontsize=small,
            color=style.USEFUL,
        )  # fmt: skip
        self._names = [
            axes.text(place, KNEE_DEG[0] - 0.7, "", ha="center", va="top", fontsize=small, linespacing=1.15)
            for place in range(5)
        ]
        self._error = Line2D([], [], color=style.USEFUL, lw=2.2, marker="_", ms=16, mew=2.2)
        sides = ((style.USEFUL, "o", "-"), (style.OTHER_LEG, "s", (0, (4, 2))))
        self._knees = [
            Line2D([], [], color=colour, lw=3.2, ls=dashes, marker=marker, ms=13, mec=style.CARD, mew=2)
            for colour, marker, dashes in sides
        ]
        self._words = [
            axes.text(0, 0, "", color=colour, weight="bold", fontsize=small, ha="left", va="center", path_effects=HALO)
            for colour, _, _ in sides
        ]
        for line in (self._error, *self._knees[::-1]):
            axes.add_line(line)
        self.moving: list[Artist] = [*self._names, self._error, *self._knees[::-1], *self._words]

    def update(self, results: Results) -> None:
        """Draw the way up to the present step."""
        places = np.arange(len(results.done))
        knees = [[step.right_deg for step in results.done], [step.left_deg for step in results.done]]
        for line, values in zip(self._knees, knees, strict=True):
            line.set_data(places, values)
        now, here = results.now, int(places[-1])
        reach = 1.96 * TOOL.standard_error_deg
        self._error.set_data([here, here], [now.right_deg - reach, now.right_deg + reach])
        middle = (now.right_deg + now.left_deg) / 2
        apart = max(abs(now.right_deg - now.left_deg), 1.5) / 2 * (1 if now.right_deg > now.left_deg else -1)
        for text, side, value, up in zip(
            self._words, ("right", "left"), (now.right_deg, now.left_deg), (apart, -apart), strict=True
        ):
            text.set_text(f"{side} {value:.1f}°")
            text.set_position((here + 0.14, middle + up))
        for place, (text, step) in enumerate(zip(self._names, results.way, strict=True)):
            text.set_text(step.name.replace(" ", "\n"))
            text.set_color(style.INK if place <= here else style.MUTED)
            text.set_fontweight("bold" if place == here else "normal")


class OrderPicture:
    """Support, way and saddle; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._support = Support(figure, boxes, layout)
        self._way = Way(figure, boxes["way"], layout)
        rows = [Row("moved so far"), Row("still to move", style.AGAINST, "////")]
        self._saddle = Rows(figure, boxes["saddle"], layout, "Saddle (mm)", rows, (-4, 48), [0, 10, 20, 30])
        self.moving: list[Artist] = [*self._support.moving, *self._way.moving, *self._saddle.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        self._support.update(results)
        self._way.update(results)
        times = {0: "", 1: ", set once", 2: ", set twice"}[results.times_set]
        left = results.still_to_move_mm
        self._saddle.set(
            [results.travelled_mm, left], [f"{signed(results.travelled_mm)}{times}", signed(left) if left else "0"]
        )
