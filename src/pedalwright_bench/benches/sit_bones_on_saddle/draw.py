"""The bench's figure: saddle from above and behind, and what margin, bones and both sides bear."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.sit_bones_on_saddle.model import TARGET_MM, Results
from pedalwright_bench.benches.sit_bones_on_saddle.scene import HIGHEST_KPA, FromAbove, FromBehind
from pedalwright_bench.panels import Row, Rows, signed
from pedalwright_bench.pressure_view import draw_scale
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "above": (0.0, 0.42, 0.53, 0.58),
        "scale": (0.395, 0.90, 0.12, 0.022),
        "behind": (0.0, 0.0, 0.53, 0.40),
        "margin": (0.67, 0.855, 0.30, 0.065),
        "share": (0.67, 0.64, 0.30, 0.065),
        "peak": (0.67, 0.365, 0.30, 0.125),
        "sides": (0.67, 0.08, 0.30, 0.125),
    },
    "narrow": {
        "above": (0.0, 0.71, 1.0, 0.29),
        "scale": (0.74, 0.94, 0.20, 0.014),
        "behind": (0.0, 0.515, 1.0, 0.18),
        "margin": (0.25, 0.45, 0.70, 0.033),
        "share": (0.25, 0.335, 0.70, 0.033),
        "peak": (0.25, 0.19, 0.70, 0.064),
        "sides": (0.25, 0.037, 0.70, 0.064),
    },
}


class SaddlePicture:
    """Saddle, bones and four groups of bars; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._scenes = (FromAbove(figure, boxes["above"], layout), FromBehind(figure, boxes["behind"], layout))
        draw_scale(figure, boxes["scale"], layout, HIGHEST_KPA, 175)
        self._margin = Rows(
            figure,
            boxes["margin"],
            layout,
            "Bones inside each edge (mm)",
            (Row("margin"),),
            (-14, 60),
            [-10, 0, 10, 30, 50],
            TARGET_MM,
        )
        self._share = Rows(
            figure,
            boxes["share"],
            layout,
            "Load under the sit bones (%)",
            (Row("sit bones"),),
            (0, 118),
            [0, 50, 100],
        )
        self._peak = Rows(
            figure,
            boxes["peak"],
            layout,
            "Highest pressure (kPa)",
            (Row("anywhere"), Row("soft tissue", style.AGAINST, "////")),
            (0, HIGHEST_KPA * 1.13),
            [0, 100, 200, 300],
        )
        self._sides = Rows(
            figure,
            boxes["sides"],
            layout,
            "Load on each side (N)",
            (Row("left", style.OTHER_LEG), Row("right")),
            (0, 290),
            [0, 100, 200],
        )
        self._rows = (self._margin, self._share, self._peak, self._sides)
        self.moving: list[Artist] = [artist for part in (*self._scenes, *self._rows) for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for scene in self._scenes:
            scene.update(results)
        seating = results.seating
        share = 100 * float(seating.bone_share)
        peak = [float(seating.peak_pressure_kpa), float(seating.soft_peak_kpa)]
        sides = [float(seating.left_force_n), float(seating.right_force_n)]
        self._margin.set([results.margin_mm], [signed(results.margin_mm, 1)])
        self._share.set([share], [signed(share)])
        self._peak.set(peak, [signed(value) for value in peak])
        self._sides.set(sides, [signed(value) for value in sides])
