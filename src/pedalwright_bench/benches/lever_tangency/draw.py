"""The bench's figure: the leg with its force arrows, the torque over the turn, the work by sector."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure

from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.lever_tangency.model import Results
from pedalwright_bench.benches.lever_tangency.panels import SectorPanel, TurnPanel
from pedalwright_bench.benches.lever_tangency.scene import Scene, draw_key
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "scene": (0.0, 0.105, 0.43, 0.895),
        "key": (0.0, 0.0, 0.43, 0.105),
        "turn": (0.487, 0.555, 0.483, 0.345),
        "sectors": (0.487, 0.105, 0.483, 0.335),
    },
    "narrow": {
        "scene": (0.0, 0.522, 1.0, 0.478),
        "key": (0.0, 0.464, 1.0, 0.058),
        "turn": (0.105, 0.238, 0.845, 0.153),
        "sectors": (0.105, 0.052, 0.845, 0.14),
    },
}


class LeverPicture:
    """Leg, torque and work of one turn; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        self.figure = Figure(figsize=size_in(layout))
        self._parts = (
            Scene(self.figure, boxes["scene"], layout),
            TurnPanel(self.figure, boxes["turn"], layout),
            SectorPanel(self.figure, boxes["sectors"], layout),
        )
        draw_key(self.figure, boxes["key"], layout)
        self.moving: list[Artist] = [artist for part in self._parts for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for part in self._parts:
            part.update(results)
