"""The bench's figure: pelvis from behind, legs from the front, and shift, knees and bend as bars."""

from matplotlib.artist import Artist
from matplotlib.figure import Figure

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.uneven_seat.model import TARGET_MM, Results
from pedalwright_bench.benches.uneven_seat.scene import FromBehind, FromFront
from pedalwright_bench.panels import Row, Rows, signed
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "behind": (0.0, 0.14, 0.325, 0.72),
        "front": (0.325, 0.0, 0.32, 1.0),
        "shift": (0.735, 0.80, 0.235, 0.07),
        "knees": (0.735, 0.44, 0.235, 0.135),
        "bend": (0.735, 0.09, 0.235, 0.135),
    },
    "narrow": {
        "behind": (0.0, 0.57, 0.48, 0.40),
        "front": (0.46, 0.46, 0.54, 0.54),
        "shift": (0.22, 0.385, 0.73, 0.036),
        "knees": (0.22, 0.215, 0.73, 0.072),
        "bend": (0.22, 0.045, 0.73, 0.072),
    },
}
SIDES = (Row("right"), Row("left", style.OTHER_LEG))


class SeatPicture:
    """Pelvis, legs and bars; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._scenes = (FromBehind(figure, boxes["behind"], layout), FromFront(figure, boxes["front"], layout))
        self._shift = Rows(
            figure,
            boxes["shift"],
            layout,
            "Hips shift, right + (mm)",
            (Row("hips", style.AGAINST),),
            (-18, 24),
            [-15, 0, 15],
        )
        self._knees = Rows(
            figure, boxes["knees"], layout, "Knee further in (mm)", SIDES, (-10, 14), [-5, 0, 5], TARGET_MM
        )
        self._bend = Rows(figure, boxes["bend"], layout, "Bend at the bottom (°)", SIDES, (0, 48), [0, 20, 40])
        self.moving: list[Artist] = [
            artist for part in (*self._scenes, self._shift, self._knees, self._bend) for artist in part.moving
        ]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for scene in self._scenes:
            scene.update(results)
        self._shift.set([results.pelvis_shift_mm], [signed(results.pelvis_shift_mm, 1)])
        knees = (results.right_inward_mm, results.left_inward_mm)
        self._knees.set(knees, [signed(knee, 1) for knee in knees])
        bends = (results.right_flexion_deg, results.left_flexion_deg)
        self._bend.set(bends, [signed(bend, 1) for bend in bends])
