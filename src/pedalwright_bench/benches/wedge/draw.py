"""The bench's figure: the forefoot on its wedge, angle over height for three widths, tilt as bars."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from pedalwright.forefoot import wedge_angle_deg
from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.wedge.model import TARGET_DEG, WIDTHS_MM, Results
from pedalwright_bench.benches.wedge.scene import Forefoot
from pedalwright_bench.panels import Row, Rows, signed
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {
        "foot": (0.0, 0.49, 1.0, 0.51),
        "angle": (0.075, 0.115, 0.37, 0.30),
        "tilt": (0.64, 0.115, 0.33, 0.25),
    },
    "narrow": {
        "foot": (0.0, 0.68, 1.0, 0.32),
        "angle": (0.115, 0.385, 0.835, 0.225),
        "tilt": (0.25, 0.075, 0.70, 0.17),
    },
}
HEIGHTS_MM = np.linspace(0, 4, 41)
DASHES = ((0, (1.2, 1.2)), "-", (0, (6, 2)))


class AnglePanel:
    """Angle of a wedge over its height, one line a width."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        axes.set(xlim=(0, 4), ylim=(0, 3.3), xticks=[0, 1, 2, 3, 4], yticks=[0, 1, 2, 3], xlabel="height (mm)")
        axes.set_title("Angle of the wedge (°)", pad=10)
        axes.tick_params(length=0, pad=6)
        small = style.SMALL_PT[layout]
        self._lines = []
        for width, dash in zip(WIDTHS_MM, DASHES, strict=True):
            angle = wedge_angle_deg(HEIGHTS_MM, width)
            self._lines.append(Line2D(HEIGHTS_MM, angle, color=style.MUTED, ls=dash, lw=2, label=f"{width:g} mm wide"))
            axes.add_line(self._lines[-1])
        axes.legend(loc="upper left", bbox_to_anchor=(0.0, 1.02), borderpad=0.1, handlelength=2.2)
        self._stem = Line2D([], [], color=style.USEFUL, lw=1.8)
        self._dot = Line2D([], [], color=style.USEFUL, marker="o", ms=13, mec=style.CARD, mew=2, ls="", clip_on=False)
        self._words = axes.text(
            0, 0, "", fontsize=small, color=style.USEFUL, weight="bold", va="top", path_effects=HALO
        )
        for line in (self._stem, self._dot):
            axes.add_line(line)
        self.moving: list[Artist] = [*self._lines, self._stem, self._dot, self._words]

    def update(self, results: Results) -> None:
        """Move the dot to the chosen width's line."""
        height, angle = abs(results.inputs.wedge_mm), abs(results.wedge_deg)
        for line, width in zip(self._lines, WIDTHS_MM, strict=True):
            chosen = width == results.inputs.width_mm
            line.set_color(style.USEFUL if chosen else style.MUTED)
            line.set_linewidth(4 if chosen else 2)
        self._stem.set_data([height, height], [0, angle])
        self._dot.set_data([height], [angle])
        self._words.set_text(f"{angle:.2f}°")
        self._words.set_position((height + 0.12, max(angle - 0.12, 0.4)))


class WedgePicture:
    """Forefoot, angles and bars; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._scenes = (Forefoot(figure, boxes["foot"], layout), AnglePanel(figure, boxes["angle"], layout))
        self._tilt = Rows(
            figure,
            boxes["tilt"],
            layout,
            "Tilt, inner edge higher + (°)",
            (Row("forefoot", style.UNUSED), Row("wedge", style.USEFUL), Row("unfilled", style.AGAINST, "////")),
            (-5.6, 7.0),
            [-4, -2, 0, 2, 4],
            TARGET_DEG,
        )
        self.moving: list[Artist] = [artist for part in (*self._scenes, self._tilt) for artist in part.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for scene in self._scenes:
            scene.update(results)
        tilts = (results.inputs.forefoot_tilt_deg, results.wedge_deg, results.left_deg)
        self._tilt.set(tilts, [signed(tilt, 1) for tilt in tilts])
