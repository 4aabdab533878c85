"""The saddle from above with its pressure, and from behind with the bones on it."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.sit_bones_on_saddle.model import Results
from pedalwright_bench.panels import stage
from pedalwright_bench.pressure_view import PressureView
from pedalwright_bench.shapes import Floats, arrow_polygons
from pedalwright_bench.turn import HALO, Box

HIGHEST_KPA = 350.0
NOSE_MM, CROWN_MM, BONE_MM = 40.0, 400.0, 28.0


class FromAbove:
    """Pressure on the saddle, the bones' places and the load."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -78.0, 106.0)
        small = style.SMALL_PT[layout]
        axes.text(axes.get_xlim()[0] + 4, 104, "saddle from above", ha="left", va="top", fontsize=small)
        for across, word in ((-113, "left"), (113, "right")):
            axes.text(across, 0, word, ha="center", va="center", fontsize=small, color=style.MUTED)
        axes.text(26, 92, "front", ha="left", va="center", fontsize=small, color=style.MUTED)
        self._saddle = Polygon([(0, 0)], closed=True, facecolor="#eceeee", edgecolor=style.STEEL, lw=3)
        axes.add_patch(self._saddle)
        self._pressure = PressureView(axes, HIGHEST_KPA)
        self._bones = Line2D([], [], color=style.AGAINST, marker="+", ms=22, mew=3, ls="")
        self._load = Line2D([], [], color=style.INK, marker="D", ms=11, mfc=style.CARD, mew=2.6, ls="")
        self._labels = [
            axes.text(0, 0, word, ha="center", va="center", fontsize=small, path_effects=HALO, color=colour)
            for word, colour in (("sit bone", style.AGAINST), ("sit bone", style.AGAINST), ("load", style.INK))
        ]
        for line in (self._bones, self._load):
            axes.add_line(line)
        self.moving: list[Artist] = [self._saddle, self._pressure.image, self._bones, self._load, *self._labels]

    def update(self, results: Results) -> None:
        """Draw saddle, pressure and marks."""
        half, bone = results.inputs.saddle_width_mm / 2, results.bearing_width_mm / 2
        load = results.inputs.load_across_mm
        nose = NOSE_MM / 2
        self._saddle.set_xy(
            [(-half, -60), (half, -60), (half, 0), (nose, 60), (nose, 110), (-nose, 110), (-nose, 60), (-half, 0)]
        )
        self._pressure.show(results.seating.contact.pressure)
        self._bones.set_data([-bone, bone], [0, 0])
        self._load.set_data([load], [0])
        for label, place in zip(self._labels, ((-bone, -44), (bone, -44), (load, 30)), strict=True):
            label.set_position(place)


class FromBehind:
    """The bone ends sunk into the saddle, leaning to the side that bears more."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -44.0, 118.0)
        small = style.SMALL_PT[layout]
        axes.text(axes.get_xlim()[0] + 4, 116, "from behind", ha="left", va="top", fontsize=small)
        for across, word in ((-136, "left"), (136, "right")):
            axes.text(across, -38, word, ha="center", va="bottom", fontsize=small, color=style.MUTED)
        self._flesh = Polygon([(0, 0)], closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=1.6)
        self._bones = [Circle((0, 0), BONE_MM, facecolor=style.CARD, edgecolor=style.AGAINST, lw=3) for _ in "LR"]
        self._saddle = Polygon([(0, 0)], closed=True, facecolor=style.STEEL, edgecolor=style.MUTED, lw=2)
        self._load = Polygon([(0, 0)], closed=True, facecolor=style.INK)
        self._margin = Line2D([], [], color=style.INK, lw=3.2, marker="|", ms=15, mew=3)
        self._words = axes.text(0, -26, "", ha="center", va="top", fontsize=small, path_effects=HALO)
        for patch in (self._flesh, *self._bones, self._saddle, self._load):
            axes.add_patch(patch)
        axes.add_line(self._margin)
        self.moving: list[Artist] = [
            self._flesh,
            *self._bones,
            self._saddle,
            self._load,
            self._margin,
            self._words,
        ]

    def update(self, results: Results) -> None:
        """Sink and lean the pelvis."""
        half, bone = results.inputs.saddle_width_mm / 2, results.bearing_width_mm / 2
        contact, load = results.seating.contact, results.inputs.load_across_mm
        lean, sunk = float(contact.tilt_across_deg), min(float(contact.depth_mm), 16.0)
        outline = np.array([(-bone - 42, 78), (-bone - 44, 30), (-bone - 20, 1), (-20, 10), (20, 10), (bone + 20, 1)])
        outline = np.vstack([outline, [(bone + 44, 30), (bone + 42, 78)]])
        self._flesh.set_xy(_leaning(outline, lean) - (0, sunk))
        for circle, middle in zip(self._bones, _leaning(np.array([(-bone, 30.0), (bone, 30.0)]), lean), strict=True):
            circle.set_center(middle - (0, sunk))
        across = np.linspace(-half, half, 40)
        top = -(across**2) / (2 * CROWN_MM)
        self._saddle.set_xy([*zip(across, top - 1, strict=True), (half - 8, -20), (-half + 8, -20)])
        self._load.set_xy(arrow_polygons([[load, 104.0]], [[0.0, -42.0]], 7, 17)[0])
        self._margin.set_data([bone, half], [-24, -24])
        self._words.set_text(f"{results.margin_mm:.1f} mm".replace("-", "−"))
        self._words.set_position((min((bone + half) / 2, 62.0), -28))


def _leaning(points: Floats, lean_deg: float) -> Floats:
    """Turn points about the middle of the saddle, the right side down when positive."""
    angle = np.radians(lean_deg)
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    return np.asarray(points @ turn)
