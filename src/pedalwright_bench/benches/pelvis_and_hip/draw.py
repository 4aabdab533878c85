"""The bench's figure: the rider's side at the top, the hip over the turn, angles and muscle as bars."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.pelvis_and_hip.model import TARGET_DEG, Results
from pedalwright_bench.benches.pelvis_and_hip.scene import Side
from pedalwright_bench.panels import Row, Rows, signed
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, TURN_DEG, Box, name_the_angles, over_the_turn

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "side": (0.0, 0.0, 0.45, 1.0),
        "turn": (0.53, 0.57, 0.44, 0.335),
        "angles": (0.67, 0.31, 0.30, 0.105),
        "gluteus": (0.67, 0.075, 0.30, 0.105),
    },
    "narrow": {
        "side": (0.0, 0.545, 1.0, 0.455),
        "turn": (0.105, 0.335, 0.845, 0.165),
        "angles": (0.30, 0.19, 0.65, 0.062),
        "gluteus": (0.30, 0.04, 0.65, 0.062),
    },
}


class HipPanel:
    """Hip flexion over the turn, against the start and the shaded range."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = over_the_turn(figure, box, ())
        axes.set(ylim=(10, 112), yticks=[20, 40, 60, 80, 100])
        axes.set_title("Hip flexion: thigh against pelvis (°)", pad=12)
        name_the_angles(axes)
        axes.axhspan(*TARGET_DEG, facecolor=style.TARGET, lw=0, zorder=0)
        for edge in TARGET_DEG:
            axes.axhline(edge, color=style.TARGET_EDGE, lw=1.2, zorder=0)
        self._start = Line2D([], [], color=style.USEFUL, lw=2, ls=(0, (4, 3)))
        self._curve = Line2D([], [], color=style.USEFUL, lw=4.4)
        self._dot = Line2D([], [], color=style.USEFUL, marker="o", ms=13, mec=style.CARD, mew=2, ls="", clip_on=False)
        self._words = axes.text(
            0, 0, "", va="bottom", fontsize=style.SMALL_PT[layout], color=style.USEFUL, weight="bold", path_effects=HALO
        )
        for line in (self._start, self._curve, self._dot):
            axes.add_line(line)
        self.moving: list[Artist] = [self._start, self._curve, self._dot, self._words]

    def update(self, results: Results) -> None:
        """Move the curve."""
        self._curve.set_data(TURN_DEG, results.hip_flexion_deg)
        self._start.set_data(TURN_DEG, results.start_hip_flexion_deg)
        self._start.set_visible(results.inputs.moved)
        angle, most = results.greatest_at_crank_deg, results.greatest_hip_flexion_deg
        self._dot.set_data([angle], [most])
        self._words.set_text(f"most {most:.1f}° at {angle:.0f}°")
        self._words.set_position((angle + 16, most - 1))


class PelvisPicture:
    """Side view, curve and bars; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._scenes = (Side(figure, boxes["side"], layout), HipPanel(figure, boxes["turn"], layout))
        self._angles = Rows(
            figure,
            boxes["angles"],
            layout,
            "Two angles that differ (°)",
            (Row("hip flexion, top"), Row("trunk–thigh, least", style.OTHER_LEG)),
            (0, 125),
            [0, 50, 100],
        )
        self._gluteus = Rows(
            figure,
            boxes["gluteus"],
            layout,
            "Gluteus maximus, longer (mm)",
            (Row("newer model", style.AGAINST), Row("older model", style.AGAINST, "////")),
            (-14, 14),
            [-10, -5, 0, 5, 10],
        )
        self.moving: list[Artist] = [
            artist for part in (*self._scenes, self._angles, self._gluteus) for artist in part.moving
        ]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for scene in self._scenes:
            scene.update(results)
        angles = (results.top_hip_flexion_deg, results.least_trunk_thigh_deg)
        self._angles.set(angles, [signed(angle) for angle in angles])
        self._gluteus.set(results.gluteus_longer_mm, [signed(longer, 1) for longer in results.gluteus_longer_mm])
