"""The bench's figure: both muscles on the moving leg, their lengths over the turn, and when they were found active."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from pedalwright.activity import ActivityWindow
from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.two_joint_muscles.model import Results
from pedalwright_bench.leg import Leg, draw_crank_circle, stage
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, TURN_DEG, Box, closed, name_the_angles, over_the_turn

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {"leg": (0.0, 0.0, 0.4, 1.0), "length": (0.465, 0.435, 0.5, 0.39), "active": (0.465, 0.045, 0.5, 0.24)},
    "narrow": {
        "leg": (0.0, 0.6, 1.0, 0.4),
        "length": (0.105, 0.295, 0.845, 0.205),
        "active": (0.105, 0.02, 0.845, 0.185),
    },
}
ROWS = 3
STUDIES = {
    "dorel_2008": "Dorel and others 2008",
    "ryan_gregor_1992": "Ryan and Gregor 1992",
    "hug_dorel_2009": "Hug and Dorel 2009, from memory",
    "da_silva_2016": "strongest, in da Silva and others 2016",
}
TWO, ONE = style.AGAINST, style.OTHER_LEG


class LegPart:
    """The leg with the two-joint muscle (solid) and the one-joint muscle (dashed)."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -215, 960, 0)
        draw_crank_circle(axes, 170)
        self._leg = Leg(axes, thickness=24)
        self._halo = Line2D([], [], color=style.CARD, lw=10)
        self._two = Line2D([], [], color=TWO, lw=6, solid_capstyle="round", marker="o", markevery=[0, -1], ms=9)
        self._one = Line2D([], [], color=ONE, lw=5, ls=(0, (1.6, 0.8)), marker="o", markevery=[0, -1], ms=8)
        for line in (self._halo, self._two, self._one):
            axes.add_line(line)
        self.moving: list[Artist] = [*self._leg.moving, self._halo, self._two, self._one]

    def update(self, results: Results) -> None:
        """Move leg and muscles."""
        self._leg.update(results.pose)
        self._one.set_data(*results.beside_line_mm.T)
        for line in (self._halo, self._two):
            line.set_data(*results.line_mm.T)


class LengthPart:
    """Lengths over the turn, and what each joint alone would do."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = over_the_turn(figure, box, ())
        axes.set(ylim=(-32, 32), yticks=[-20, 0, 20])
        axes.set_yticklabels(["−20", "0", "20"])
        axes.set_title("Length, from its mean (mm)", pad=72 if layout == "wide" else 78)
        name_the_angles(axes)
        self._parts = [
            Line2D([], [], color=style.MUTED, lw=2.2, ls=dashes) for dashes in ((0, (1, 1.4)), (0, (5, 1.6, 1, 1.6)))
        ]
        self._one = Line2D([], [], color=ONE, lw=3.4, ls=(0, (4, 1.6)))
        self._two = Line2D([], [], color=TWO, lw=4.6)
        self._moment = Line2D([], [], color=style.MUTED, lw=1.8)
        self._dots = [
            Line2D([], [], color=colour, marker=marker, ms=12, mec=style.CARD, mew=2, ls="", clip_on=False)
            for colour, marker in ((ONE, "s"), (TWO, "o"))
        ]
        for line in (*self._parts, self._moment, self._one, self._two, *self._dots):
            axes.add_line(line)
        self._axes = axes
        self._key = _Key(figure, box, layout, [self._two, self._one, *self._parts])
        self.moving: list[Artist] = [
            *(*self._parts, self._moment, self._one, self._two, *self._dots),
            *self._key.moving,
        ]

    def update(self, results: Results) -> None:
        """Move the curves and the marks of the moment."""
        self._two.set_data(TURN_DEG, closed(results.whole_mm))
        self._one.set_data(TURN_DEG, closed(results.beside_mm))
        for line, part in zip(self._parts, results.parts_mm.values(), strict=True):
            line.set_data(TURN_DEG, closed(part))
        angle = results.inputs.crank_angle_deg
        self._moment.set_data([angle, angle], [-32, 32])
        for dot, curve in zip(self._dots, (results.beside_mm, results.whole_mm), strict=True):
            dot.set_data([angle], [results.at_moment(curve)])
        joints = [f"{joint} alone" for joint in results.parts_mm]
        self._key.write([results.name.split(",")[0], results.beside, *joints])


class _Key:
    """Two rows of a line and its name; the names change with the muscle."""

    def __init__(self, figure: Figure, box: Box, layout: Layout, lines: list[Line2D]) -> None:
        width, height = style.SIZE_PX[layout]
        axes = figure.add_axes((box[0], box[1] + box[3] + 14 / height, box[2], 66 / height))
        axes.set(xlim=(0, box[2] * width), ylim=(0, 66))
        axes.set_axis_off()
        self._texts = []
        for place, line in enumerate(lines):
            x, y = (0 if place < 2 else 0.56 * box[2] * width), (48 if place % 2 == 0 else 16)
            sample = Line2D([x, x + 52], [y, y])
            sample.update_from(line)
            sample.set_transform(axes.transData)
            axes.add_line(sample)
            self._texts.append(axes.text(x + 62, y, "", fontsize=style.SMALL_PT[layout], va="center"))
        self.moving: list[Artist] = [*self._texts]

    def write(self, names: list[str]) -> None:
        """Write the names."""
        for text, name in zip(self._texts, names, strict=True):
            text.set_text(name)


class ActivePart:
    """Published windows of activity, one row a study, two bars where a window runs over the top."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        axes.set(xlim=(0, 360), ylim=(-0.1, ROWS), xticks=[0, 90, 180, 270, 360], yticks=[])
        axes.set_xticklabels([])
        axes.tick_params(length=0)
        axes.spines["left"].set_visible(False)
        axes.set_title("Found active, as published", pad=10)
        self._bars = [
            [Rectangle((0, ROWS - 1 - row), 0, 0.36, fc=style.TARGET, ec=style.TARGET_EDGE, lw=1.6) for _ in range(2)]
            for row in range(ROWS)
        ]
        small = style.SMALL_PT[layout]
        self._names = [
            axes.text(2, ROWS - 1 - row + 0.42, "", fontsize=small, va="bottom", path_effects=HALO)
            for row in range(ROWS)
        ]
        self._moment = Line2D([], [], color=style.MUTED, lw=1.8)
        for bar in (bar for row in self._bars for bar in row):
            axes.add_patch(bar)
        axes.add_line(self._moment)
        self.moving: list[Artist] = [*(b for row in self._bars for b in row), self._moment, *self._names]

    def update(self, results: Results) -> None:
        """Set the rows."""
        angle = results.inputs.crank_angle_deg
        self._moment.set_data([angle, angle], [-0.1, ROWS])
        for place, (bars, name) in enumerate(zip(self._bars, self._names, strict=True)):
            window = results.windows[place] if place < len(results.windows) else None
            spans = _spans(window) if window else []
            for bar, span in zip(bars, [*spans, *[(0.0, 0.0)] * (2 - len(spans))], strict=True):
                bar.set_x(span[0])
                bar.set_width(span[1] - span[0])
                bar.set_visible(span[1] > span[0])
            name.set_text(f"{window.muscle.split(',')[0]}: {STUDIES[window.source]}" if window else "")
            name.set_color(TWO if window and window.muscle == results.name else ONE)


def _spans(window: ActivityWindow) -> list[tuple[float, float]]:
    if window.offset_deg > window.onset_deg:
        return [(window.onset_deg, window.offset_deg)]
    return [(0.0, window.offset_deg), (window.onset_deg, 360.0)]


class TwoJointPicture:
    """One- and two-joint muscles on a moving leg; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        self.figure = Figure(figsize=size_in(layout))
        self._parts = (
            LegPart(self.figure, boxes["leg"], layout),
            LengthPart(self.figure, boxes["length"], layout),
            ActivePart(self.figure, boxes["active"], layout),
        )
        self.moving: list[Artist] = [artist for part in self._parts for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for part in self._parts:
            part.update(results)
