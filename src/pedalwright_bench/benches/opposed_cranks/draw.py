"""The bench's figure: the cranks with both legs' arrows, the torque over the turn, what two meters read."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure

from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.opposed_cranks.cranks import Cranks, Moment
from pedalwright_bench.benches.opposed_cranks.model import Results
from pedalwright_bench.benches.opposed_cranks.panels import MeterPanel, TurnPanel
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "cranks": (0.0, 0.345, 0.44, 0.655),
        "moment": (0.13, 0.085, 0.28, 0.19),
        "turn": (0.487, 0.515, 0.483, 0.385),
        "meters": (0.57, 0.085, 0.4, 0.255),
    },
    "narrow": {
        "cranks": (0.0, 0.655, 1.0, 0.345),
        "moment": (0.24, 0.53, 0.68, 0.083),
        "turn": (0.105, 0.298, 0.845, 0.138),
        "meters": (0.315, 0.04, 0.635, 0.168),
    },
}


class CranksPicture:
    """Both legs on opposed cranks; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        self.figure = Figure(figsize=size_in(layout))
        self._parts = (
            Cranks(self.figure, boxes["cranks"], layout),
            Moment(self.figure, boxes["moment"], layout),
            TurnPanel(self.figure, boxes["turn"], layout),
            MeterPanel(self.figure, boxes["meters"], layout),
        )
        self.moving: list[Artist] = [artist for part in self._parts for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for part in self._parts:
            part.update(results)
