"""Two footprints from above, flat and contoured, in one scale of shades."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.colors import ListedColormap
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.pressure_under_foot.model import LOAD_ALONG_SHARE, SOLE, Results, whole_sole
from pedalwright_bench.panels import stage
from pedalwright_bench.pressure_view import PressureView
from pedalwright_bench.turn import HALO, Box

HIGHEST_KPA = 80.0
LOW_MM, HIGH_MM, BESIDE_MM = -142.0, 160.0, 66.0


class Footprints:
    """The right foot from above on a flat support, and on the chosen one."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, LOW_MM, HIGH_MM)
        small = style.SMALL_PT[layout]
        axes.text(-BESIDE_MM, HIGH_MM - 3, "flat", ha="center", va="top", weight="bold")
        self._title = axes.text(BESIDE_MM, HIGH_MM - 3, "", ha="center", va="top", weight="bold", color=style.USEFUL)
        sole = whole_sole().contact.pressure
        rows, columns = sole.pressure_kpa.shape
        half, end = columns * sole.cell_across_mm / 2, rows * sole.cell_along_mm / 2
        limits = axes.get_xlim(), axes.get_ylim()
        for middle in (-BESIDE_MM, BESIDE_MM):
            axes.imshow(
                np.where(sole.pressure_kpa > 0, 1.0, np.nan),
                cmap=ListedColormap(["#eceeee"]),
                extent=(middle - half, middle + half, -end, end),
                origin="lower",
                interpolation="nearest",
                zorder=0,
            )
        axes.set(xlim=limits[0], ylim=limits[1])
        self._views = [PressureView(axes, HIGHEST_KPA) for _ in range(2)]
        load = (LOAD_ALONG_SHARE - 0.5) * SOLE.length_mm
        self._load = Line2D(
            [-BESIDE_MM, BESIDE_MM], [load, load], color=style.INK, marker="D", ms=11, mfc=style.CARD, mew=2.6, ls=""
        )
        axes.add_line(self._load)
        self._texts = [
            axes.text(x, y, word, ha="center", va="center", fontsize=small, color=style.MUTED, path_effects=HALO)
            for (x, y), word in (
                ((0, load), "load"),
                ((0, -8), "outer   inner"),
                ((-2 * BESIDE_MM + 10, -8), "inner"),
                ((2 * BESIDE_MM - 9, -8), "outer"),
                ((-BESIDE_MM, -134), "heel"),
                ((BESIDE_MM, -134), "heel"),
            )
        ]
        self.moving: list[Artist] = [*(view.image for view in self._views), self._load, *self._texts, self._title]

    def update(self, results: Results) -> None:
        """Show both maps."""
        for view, footing, middle in zip(
            self._views, (results.flat, results.shaped), (-BESIDE_MM, BESIDE_MM), strict=True
        ):
            view.show(footing.contact.pressure, middle)
        filled = results.inputs.filled_pct
        self._title.set_text("contour: none" if filled == 0 else f"contour: {filled:g} % of the arch")
