"""The bench's figure: the line of the push past the hip, moments and powers over the turn, shares of the work."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.joint_moments.model import JOINTS, Results, published_shares_pct, shares_pct
from pedalwright_bench.leg import Leg, draw_crank_circle, stage
from pedalwright_bench.panels import Row, Rows
from pedalwright_bench.shapes import arrow_polygons
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, TURN_DEG, Box, closed, name_the_angles, over_the_turn

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "leg": (0.0, 0.0, 0.36, 1.0),
        "moment": (0.425, 0.665, 0.54, 0.22),
        "power": (0.425, 0.375, 0.54, 0.2),
        "share": (0.55, 0.055, 0.415, 0.18),
    },
    "narrow": {
        "leg": (0.0, 0.655, 1.0, 0.345),
        "moment": (0.12, 0.46, 0.835, 0.135),
        "power": (0.12, 0.275, 0.835, 0.13),
        "share": (0.33, 0.035, 0.62, 0.15),
    },
}
MM_PER_N = 0.55
LOOKS: dict[str, tuple[str, str | tuple[int, tuple[float, ...]], float]] = {
    "hip": (style.AGAINST, "-", 4.6),
    "knee": (style.USEFUL, (0, (4, 1.5)), 3.6),
    "ankle": (style.OTHER_LEG, (0, (1.2, 1.2)), 3.6),
}


class LegPart:
    """The leg where the hip opens hardest, the push and the distance of its line from the hip."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -235, 960, 30)
        draw_crank_circle(axes, 170)
        self._leg = Leg(axes, thickness=22)
        self._line = Line2D([], [], color=style.INK, lw=2.2, ls=(0, (5, 2)))
        self._arm = Line2D([], [], color=style.AGAINST, lw=4.6, marker="|", ms=20, mew=4)
        self._push = PolyCollection([], facecolor=style.INK, edgecolor=style.CARD, linewidth=1.5, zorder=4)
        small = style.SMALL_PT[layout]
        self._beside = layout == "narrow"
        self._distance = axes.text(
            0,
            0,
            "",
            color=style.AGAINST,
            weight="bold",
            ha="left" if self._beside else "center",
            va="center" if self._beside else "bottom",
            path_effects=HALO,
        )
        self._size = axes.text(0, 0, "", weight="bold", fontsize=small, ha="left", va="center", path_effects=HALO)
        for line in (self._line, self._arm):
            axes.add_line(line)
        axes.add_collection(self._push)
        self.moving: list[Artist] = [
            *self._leg.moving,
            *(self._line, self._arm, self._push, self._distance, self._size),
        ]

    def update(self, results: Results) -> None:
        """Move leg, push and distance."""
        pose, push = results.pose, results.push_n
        self._leg.update(pose)
        arrow = MM_PER_N * push
        along = push / results.push_size_n
        self._line.set_data(*np.stack([results.foot_of_hip_mm - 90 * along, pose.pedal_mm]).T)
        self._arm.set_data(*np.stack([pose.hip_mm, results.foot_of_hip_mm]).T)
        self._push.set_verts(arrow_polygons([pose.pedal_mm - arrow], [arrow], 13, 34))
        middle = (pose.hip_mm + results.foot_of_hip_mm) / 2
        above = (middle[0], max(pose.hip_mm[1], results.foot_of_hip_mm[1]) + 135)
        across, up = results.foot_of_hip_mm
        self._distance.set_position((across + 30, up) if self._beside else above)
        self._distance.set_text(f"line passes\n{results.hip_distance_mm:.0f} mm in front")
        across, up = pose.pedal_mm - arrow / 2
        self._size.set_position((across + 26, up))
        self._size.set_text(f"{results.push_size_n:.0f} N")


class CurvePart:
    """One curve a joint over the turn, told apart by line and by its name in the key."""

    def __init__(
        self, figure: Figure, box: Box, title: str, limits: tuple[float, float], ticks: list[float], *, key: bool
    ) -> None:
        axes = over_the_turn(figure, box, ())
        axes.set(ylim=limits, yticks=ticks)
        axes.set_yticklabels([f"{tick:g}".replace("-", "−") for tick in ticks])
        axes.set_title(title, pad=34 if key else 8)
        if key:
            axes.set_xticklabels([])
        else:
            name_the_angles(axes)
        self._lines = {
            joint: Line2D([], [], color=colour, ls=dashes, lw=width, label=joint)
            for joint, (colour, dashes, width) in LOOKS.items()
        }
        self._moment = Line2D([], [], color=style.MUTED, lw=1.8)
        self._limits = limits
        for line in (self._moment, *self._lines.values()):
            axes.add_line(line)
        if key:
            axes.legend(
                handles=list(self._lines.values()),
                loc="lower left",
                bbox_to_anchor=(-0.02, 0.96),
                ncols=3,
                borderpad=0.2,
                handlelength=2.6,
                columnspacing=1.6,
            )
        self.moving: list[Artist] = [self._moment, *self._lines.values()]

    def set(self, curves: dict[str, np.ndarray], peak_at_deg: float) -> None:
        """Move the curves and the mark of the pose."""
        for joint in JOINTS:
            self._lines[joint].set_data(TURN_DEG, closed(curves[joint]))
        self._moment.set_data([peak_at_deg, peak_at_deg], self._limits)


class SharePart:
    """Shares of the positive work as bars, each inside the pale bar one study measured."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        hip, knee, ankle = (LOOKS[joint][0] for joint in JOINTS)
        rows = (
            Row("hip, opening", hip),
            Row("hip, closing", hip, "////"),
            Row("knee, opening", knee),
            Row("knee, closing", knee, "////"),
            Row("ankle", ankle),
        )
        self._rows = Rows(figure, box, layout, "", rows, (0, 68), [0, 20, 40, 60])
        axes = self._rows.axes
        axes.set_title("Share of the positive work (%)", pad=10, x=-0.3 if layout == "wide" else -0.4)
        for place, share in enumerate(published_shares_pct()):
            y = len(rows) - 1 - place - 0.45
            axes.add_patch(
                Rectangle((0, y), share, 0.9, facecolor=style.TARGET, edgecolor=style.TARGET_EDGE, lw=1.4, zorder=0.5)
            )
        axes.text(
            67,
            0.55,
            "pale: measured in\n6 riders, 120 W",
            ha="right",
            va="center",
            fontsize=style.SMALL_PT[layout],
            color=style.TARGET_INK,
        )
        self.moving = self._rows.moving

    def update(self, results: Results) -> None:
        """Set the bars."""
        shares = shares_pct(results.work)
        self._rows.set(shares, [f"{share:.0f}" for share in shares])


class JointPicture:
    """Joint moments, powers and shares of work; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._leg = LegPart(figure, boxes["leg"], layout)
        self._moments = CurvePart(
            figure, boxes["moment"], "Moments (N·m)", (-75, 165), [-50, 0, 50, 100, 150], key=True
        )
        self._powers = CurvePart(figure, boxes["power"], "Powers (W)", (-330, 620), [-200, 0, 200, 400, 600], key=False)
        self._shares = SharePart(figure, boxes["share"], layout)
        parts = (self._leg, self._moments, self._powers, self._shares)
        self.moving: list[Artist] = [artist for part in parts for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        self._leg.update(results)
        self._moments.set(dict(results.moment_nm), results.peak_at_deg)
        self._powers.set(dict(results.power_w), results.peak_at_deg)
        self._shares.update(results)
