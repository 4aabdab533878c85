"""The bench's figure: two footprints, and contact, load and peak as bars."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.pressure_under_foot.model import Results, midfoot_share
from pedalwright_bench.benches.pressure_under_foot.scene import HIGHEST_KPA, Footprints
from pedalwright_bench.panels import Row, Rows, signed
from pedalwright_bench.pressure_view import draw_scale
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "feet": (0.0, 0.0, 0.55, 1.0),
        "scale": (0.67, 0.885, 0.30, 0.025),
        "area": (0.67, 0.605, 0.30, 0.125),
        "share": (0.67, 0.34, 0.30, 0.125),
        "peak": (0.67, 0.08, 0.30, 0.125),
    },
    "narrow": {
        "feet": (0.0, 0.525, 1.0, 0.475),
        "scale": (0.25, 0.478, 0.70, 0.016),
        "area": (0.25, 0.335, 0.70, 0.068),
        "share": (0.25, 0.187, 0.70, 0.068),
        "peak": (0.25, 0.04, 0.70, 0.068),
    },
}
ROWS = (Row("flat", style.UNUSED, "////"), Row("contour", style.USEFUL))


class FootprintPicture:
    """Footprints and bars; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._feet = Footprints(figure, boxes["feet"], layout)
        draw_scale(figure, boxes["scale"], layout, HIGHEST_KPA, 20)
        self._area = Rows(
            figure, boxes["area"], layout, "Contact under the midfoot (cm²)", ROWS, (0, 75), [0, 20, 40, 60]
        )
        self._share = Rows(figure, boxes["share"], layout, "Load on the midfoot (%)", ROWS, (0, 31), [0, 10, 20])
        self._peak = Rows(figure, boxes["peak"], layout, "Highest pressure (kPa)", ROWS, (0, 98), [0, 20, 40, 60, 80])
        low, high = self._peak.axes.get_ylim()
        self._target = Rectangle(
            (0, low), 0, high - low, facecolor=style.TARGET, edgecolor=style.TARGET_EDGE, lw=1.2, zorder=0
        )
        self._peak.axes.add_patch(self._target)
        rows = (self._area, self._share, self._peak)
        self.moving: list[Artist] = [*self._feet.moving, self._target, *(a for part in rows for a in part.moving)]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        self._feet.update(results)
        both = (results.flat, results.shaped) if results.inputs.filled_pct else (results.flat,)
        self._target.set_width(float(results.flat.peak_pressure_kpa))
        self._set(self._area, [float(one.midfoot_area_mm2) / 100 for one in both], 0)
        self._set(self._share, [100 * midfoot_share(one) for one in both], 1)
        self._set(self._peak, [float(one.peak_pressure_kpa) for one in both], 1)

    @staticmethod
    def _set(rows: Rows, values: list[float], digits: int) -> None:
        """Set both bars, or one and a word where there is no contour."""
        missing = len(ROWS) - len(values)
        rows.set(values + [0.0] * missing, [signed(value, digits) for value in values] + ["none set"] * missing)
