"""A pressure map from above, on a stage in millimetres, with one scale of shades for all results."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure
from matplotlib.image import AxesImage

from pedalwright.pressure import PressureMap
from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.turn import Box

SHADES = LinearSegmentedColormap.from_list("pressure", ["#e4eef2", "#8fbccd", style.USEFUL, style.INK])


class PressureView:
    """Cells of a map, shaded by pressure; cells that bear nothing stay clear."""

    def __init__(self, axes: Axes, highest_kpa: float) -> None:
        limits = axes.get_xlim(), axes.get_ylim()
        self.image: AxesImage = axes.imshow(
            np.full((2, 2), np.nan), cmap=SHADES, vmin=0, vmax=highest_kpa, origin="lower", interpolation="nearest"
        )
        axes.set(xlim=limits[0], ylim=limits[1], autoscale_on=False)

    def show(self, pressure: PressureMap, across_mm: float = 0.0, along_mm: float = 0.0) -> None:
        """Show a map with the middle of its grid at a place of the stage."""
        rows, columns = pressure.pressure_kpa.shape
        half_across, half_along = columns * pressure.cell_across_mm / 2, rows * pressure.cell_along_mm / 2
        self.image.set_extent(
            (across_mm - half_across, across_mm + half_across, along_mm - half_along, along_mm + half_along)
        )
        self.image.set_data(np.where(pressure.pressure_kpa > 0, pressure.pressure_kpa, np.nan))


def draw_scale(figure: Figure, box: Box, layout: Layout, highest_kpa: float, step_kpa: float) -> None:
    """Draw the scale of shades."""
    axes = figure.add_axes(box)
    axes.imshow(np.linspace(0, 1, 128)[None], cmap=SHADES, aspect="auto", extent=(0, highest_kpa, 0, 1))
    axes.set(yticks=[], xticks=np.arange(0, highest_kpa + 1, step_kpa))
    axes.tick_params(length=0, pad=4)
    axes.grid(visible=False)
    axes.spines[:].set_visible(False)
    axes.text(0, 1.25, "pressure (kPa)", va="bottom", fontsize=style.SMALL_PT[layout], color=style.MUTED)
