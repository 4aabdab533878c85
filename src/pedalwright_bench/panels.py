"""Parts that several benches share: a stage in millimetres, and rows of bars against a target window."""

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.turn import HALO, Box


def stage(figure: Figure, box: Box, layout: Layout, low: float, high: float, middle: float = 0.0) -> Axes:
    """Make axes without a frame, as long up as across, from a lowest to a highest place.

    Parameters
    ----------
    figure : Figure
        The figure.
    box : tuple of float
        Left, bottom, width and height, as shares of the figure.
    layout : {"wide", "narrow"}
        Its layout.
    low, high : float
        Lowest and highest place shown. [mm]
    middle : float
        Place across that lies in the middle. [mm]

    Returns
    -------
    Axes
        The axes.
    """
    axes = figure.add_axes(box)
    axes.set_axis_off()
    width, height = (side * size for side, size in zip(box[2:], style.SIZE_PX[layout], strict=True))
    half = (high - low) * width / height / 2
    axes.set(xlim=(middle - half, middle + half), ylim=(low, high))
    return axes


@dataclass(frozen=True)
class Row:
    """One bar: its name and how it looks; a row with a hatch is drawn as an outline."""

    name: str
    colour: str = style.USEFUL
    hatch: str = ""


class Rows:
    """Horizontal bars, one a row from the top, with their numbers, against a target window."""

    def __init__(
        self,
        figure: Figure,
        box: Box,
        layout: Layout,
        title: str,
        rows: Sequence[Row],
        limits: tuple[float, float],
        ticks: Sequence[float],
        window: tuple[float, float] | None = None,
    ) -> None:
        self.axes = axes = figure.add_axes(box)
        count = len(rows)
        axes.set(xlim=limits, ylim=(-0.6, count - 0.4), xticks=ticks, yticks=range(count))
        axes.set_yticklabels([row.name for row in rows][::-1])
        axes.set_title(title, pad=10)
        axes.tick_params(length=0, pad=6)
        axes.grid(axis="y", visible=False)
        axes.spines["left"].set_visible(False)
        axes.axvline(0, color=style.MUTED, lw=1.4, zorder=1)
        if window is not None:
            shade(axes, window)
        self._pad = (limits[1] - limits[0]) / 55
        self._bars = [
            Rectangle(
                (0, count - 1.32 - number),
                0,
                0.64,
                facecolor=style.CARD if row.hatch else row.colour,
                edgecolor=row.colour,
                hatch=row.hatch,
                linewidth=1.8,
            )
            for number, row in enumerate(rows)
        ]
        self._ranges = [Line2D([], [], color=style.INK, lw=2.2, marker="|", ms=13, mew=2.2) for _ in rows]
        self._numbers = [
            axes.text(
                0, count - 1 - i, "", va="center", fontsize=style.SMALL_PT[layout], weight="bold", path_effects=HALO
            )
            for i in range(count)
        ]
        for bar, line in zip(self._bars, self._ranges, strict=True):
            axes.add_patch(bar)
            axes.add_line(line)
        self.moving: list[Artist] = [*self._bars, *self._ranges, *self._numbers]

    def set(
        self, values: Sequence[float], words: Sequence[str], ranges: Sequence[tuple[float, float]] | None = None
    ) -> None:
        """Set bars and numbers, and the range around each if there is one."""
        for i, (bar, number, value) in enumerate(zip(self._bars, self._numbers, values, strict=True)):
            bar.set_width(value)
            end = max(value, 0.0)
            if ranges is not None:
                end = max(end, ranges[i][1])
                self._ranges[i].set_data(ranges[i], [number.get_position()[1]] * 2)
            number.set_x(end + self._pad)
            number.set_text(words[i])

    def choose(self, chosen: int) -> None:
        """Fill the chosen row and draw the others as outlines."""
        for number, bar in enumerate(self._bars):
            bar.set_facecolor(bar.get_edgecolor() if number == chosen else style.CARD)


def shade(axes: Axes, window: tuple[float, float]) -> None:
    """Shade a target window across the axes."""
    axes.axvspan(*window, facecolor=style.TARGET, lw=0, zorder=0)
    for edge in window:
        axes.axvline(edge, color=style.TARGET_EDGE, lw=1.2, zorder=0)


def signed(value: float, digits: int = 0) -> str:
    """Say a number with a real minus sign, and zero without one."""
    text = f"{value:.{digits}f}"
    return text.lstrip("-") if float(text) == 0 else text.replace("-", "−")
