"""The bench's figure: the right leg from the front, its heel close up, and roll, turn and drift as bars."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.foot_under_load.model import TARGET_MM, Results
from pedalwright_bench.benches.foot_under_load.scene import Heel, LegFromFront
from pedalwright_bench.panels import Row, Rows, signed
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "leg": (0.0, 0.0, 0.315, 1.0),
        "heel": (0.27, 0.18, 0.26, 0.6),
        "roll": (0.66, 0.755, 0.31, 0.15),
        "turn": (0.66, 0.43, 0.31, 0.15),
        "drift": (0.66, 0.105, 0.31, 0.15),
    },
    "narrow": {
        "leg": (0.0, 0.475, 0.56, 0.525),
        "heel": (0.53, 0.53, 0.46, 0.34),
        "roll": (0.25, 0.355, 0.70, 0.078),
        "turn": (0.25, 0.195, 0.70, 0.078),
        "drift": (0.25, 0.038, 0.70, 0.078),
    },
}
ROWS = (Row("no footbed", style.AGAINST, "////"), Row("footbed", style.USEFUL))


class FootPicture:
    """Leg, heel and three pairs of bars; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        self.figure = Figure(figsize=size_in(layout))
        self._scenes = (LegFromFront(self.figure, boxes["leg"], layout), Heel(self.figure, boxes["heel"], layout))
        self._roll = Rows(self.figure, boxes["roll"], layout, "Heel rolls inward (°)", ROWS, (0, 19), [0, 5, 10, 15])
        self._turn = Rows(self.figure, boxes["turn"], layout, "Shin turns inward (°)", ROWS, (0, 19), [0, 5, 10, 15])
        self._drift = Rows(
            self.figure, boxes["drift"], layout, "Knee drifts inward (mm)", ROWS, (-10, 76), [0, 20, 40, 60], TARGET_MM
        )
        self.moving: list[Artist] = [
            artist
            for part in (*self._scenes, self._roll, self._turn, self._drift)
            for artist in part.moving
        ]  # fmt: skip

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for scene in self._scenes:
            scene.update(results)
        both = (results.bare, results.held) if results.inputs.held_pct else (results.bare,)
        self._set(self._roll, [float(one.eversion_deg) for one in both], 1)
        self._set(self._turn, [float(one.tibial_rotation_deg) for one in both], 1)
        ranges = [(float(one.knee_drift_lower_mm), float(one.knee_drift_upper_mm)) for one in both]
        self._set(self._drift, [float(one.knee_drift_mm) for one in both], 0, ranges)

    @staticmethod
    def _set(rows: Rows, values: list[float], digits: int, ranges: list[tuple[float, float]] | None = None) -> None:
        """Set both bars, or one and a word where there is no footbed."""
        words = [signed(value, digits) for value in values]
        missing = len(ROWS) - len(values)
        rows.set(values + [0.0] * missing, words + ["none set"] * missing, ranges and ranges + [(0.0, 0.0)] * missing)
