"""The bench's figure: one row a muscle, its predicted load as bars over the turn, published windows below them."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon, Rectangle

from pedalwright.activity import ACTIVITY_WINDOWS, ActivityWindow
from pedalwright.muscles import MUSCLES
from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.muscle_timing.model import STEP_DEG, Results
from pedalwright_bench.benches.muscle_timing.words import LETTERS, STUDIES
from pedalwright_bench.shapes import Floats
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, Box, name_the_angles

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {"turn": (0.235, 0.155, 0.615, 0.79), "key": (0.02, 0.005, 0.97, 0.075)},
    "narrow": {"turn": (0.05, 0.16, 0.75, 0.8), "key": (0.03, 0.005, 0.95, 0.1)},
}
NAME_PX: dict[Layout, int] = {"wide": 0, "narrow": 27}
BAR_PX: dict[Layout, int] = {"wide": 30, "narrow": 36}
STRIPE_PX: dict[Layout, int] = {"wide": 20, "narrow": 22}
GAP_PX: dict[Layout, int] = {"wide": 7, "narrow": 8}
SHORT = {"biceps femoris, long head": "biceps f., long", "biceps femoris, short head": "biceps f., short"}
ANGLES: Floats = np.arange(0.0, 360.0, STEP_DEG)


def spans(window: ActivityWindow) -> list[tuple[float, float]]:
    """One or two arcs between 0 and 360°."""
    if window.offset_deg > window.onset_deg:
        return [(window.onset_deg, window.offset_deg)]
    return [(0.0, window.offset_deg), (window.onset_deg, 360.0)]


def steps(values: Floats, base: float, height: float, shown: np.ndarray) -> Floats:
    """Outline of bars five degrees wide on a base line, flat where they are not shown."""
    tops = base + height * np.where(shown, values, 0.0)
    edges = np.repeat(np.append(ANGLES, 360.0), 2)[1:-1]
    return np.column_stack([np.concatenate([[0.0], edges, [360.0]]), np.concatenate([[base], tops.repeat(2), [base]])])


class MuscleRow:
    """Bars of one muscle above its published windows."""

    def __init__(self, axes: Axes, layout: Layout, muscle: str, top: float) -> None:
        small, stripe = style.SMALL_PT[layout], STRIPE_PX[layout]
        self._muscle, self._height = muscle, BAR_PX[layout]
        self._base = base = top + NAME_PX[layout] + self._height
        windows = [window for window in ACTIVITY_WINDOWS if window.muscle == muscle]
        for place, window in enumerate(windows):
            y = base + place * stripe
            for low, high in spans(window):
                axes.add_patch(
                    Rectangle((low, y + 2), high - low, stripe - 3, fc=style.TARGET, ec=style.TARGET_EDGE, lw=1.3)
                )
            axes.text(366, y + stripe / 2, LETTERS[window.source], fontsize=small, color=style.TARGET_INK, va="center")
        self.bottom = base + len(windows) * stripe
        axes.axhline(base, color=style.MUTED, lw=1.2, zorder=1)
        name = SHORT.get(muscle, muscle)
        if layout == "wide":
            axes.text(-8, base - self._height / 2, name, ha="right", va="center", fontsize=small)
        else:
            axes.text(0, top + NAME_PX[layout] - 3, name, va="bottom", fontsize=small, path_effects=HALO)
        nothing = [(0.0, base)]
        self._all = Polygon(nothing, closed=True, facecolor="none", edgecolor=style.USEFUL, lw=1.4, zorder=3)
        self._active = Polygon(nothing, closed=True, facecolor=style.USEFUL, lw=0, zorder=2.5)
        self._peak = axes.text(
            390, base - self._height / 2, "", va="center", fontsize=small, weight="bold", color=style.USEFUL
        )
        for bars in (self._active, self._all):
            axes.add_patch(bars)
        self.moving: list[Artist] = [self._active, self._all, self._peak]

    def update(self, results: Results) -> None:
        """Set the bars, as high as the peak allows, and the peak in words."""
        load = results.load(self._muscle)
        share = load / max(float(load.max()), 1e-9)
        self._active.set_xy(steps(share, self._base, -self._height, results.active(self._muscle)))
        self._all.set_xy(steps(share, self._base, -self._height, np.full(len(share), True)))
        self._peak.set_text(f"{results.peak_pct(self._muscle):.0f} %")


class TimingPicture:
    """Predicted and published timing of ten muscles; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        self.figure = Figure(figsize=size_in(layout))
        axes = self.figure.add_axes(BOXES[layout]["turn"])
        axes.set(xlim=(0, 360), xticks=[0, 90, 180, 270, 360], yticks=[])
        axes.tick_params(length=0, pad=6)
        name_the_angles(axes)
        for side in ("left", "bottom"):
            axes.spines[side].set_visible(False)
        self._rows = []
        top = 0.0
        for muscle in MUSCLES:
            self._rows.append(MuscleRow(axes, layout, muscle, top))
            top = self._rows[-1].bottom + GAP_PX[layout]
        axes.set_ylim(top, 0)
        axes.set_title("Predicted load; pale: published", pad=12)
        axes.text(390, -12, "peak", fontsize=style.SMALL_PT[layout], va="bottom", color=style.USEFUL)
        draw_key(self.figure, BOXES[layout]["key"], layout)
        self.moving: list[Artist] = [artist for row in self._rows for artist in row.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        for row in self._rows:
            row.update(results)


def draw_key(figure: Figure, box: Box, layout: Layout) -> None:
    """Name the studies behind the letters."""
    axes = figure.add_axes(box)
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    columns = 3 if layout == "wide" else 2
    rows = len(STUDIES) // columns
    for place, (source, study) in enumerate(STUDIES.items()):
        column, row = divmod(place, rows)
        axes.text(
            column * (1 / 3 if layout == "wide" else 0.585),
            1 - (row + 0.5) / rows,
            f"{LETTERS[source]}  {study}",
            fontsize=style.SMALL_PT[layout] - (0 if layout == "wide" else 1.5),
            va="center",
            color=style.TARGET_INK,
        )
