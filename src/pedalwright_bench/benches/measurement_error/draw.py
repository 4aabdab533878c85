"""The bench's figure: the bell around the reading, and how sure each instrument would be."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon
from scipy import stats

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.measurement_error.model import CONFIDENCE, SHORT_NAMES, TARGET_DEG, Results
from pedalwright_bench.panels import Row, Rows, shade, signed
from pedalwright_bench.style import size_in
from pedalwright_bench.turn import HALO, Box

BOXES: dict[Layout, dict[str, Box]] = {
    "wide": {"bell": (0.05, 0.49, 0.92, 0.43), "sure": (0.28, 0.09, 0.68, 0.25)},
    "narrow": {"bell": (0.06, 0.55, 0.89, 0.37), "sure": (0.34, 0.08, 0.62, 0.30)},
}
ANGLES_DEG = np.linspace(9, 57, 481)
HIGHEST = 0.40


class Bell:
    """Where the knee may be, given the reading; the part inside the window is filled."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = figure.add_axes(box)
        axes.set(xlim=(9, 57), ylim=(0, HIGHEST), yticks=[], xticks=range(10, 60, 5), xlabel="knee flexion (°)")
        axes.set_title("Where the knee may be, given the reading", pad=12)
        axes.tick_params(length=0, pad=6)
        axes.spines["left"].set_visible(False)
        shade(axes, TARGET_DEG)
        small = style.SMALL_PT[layout]
        axes.text(TARGET_DEG[0] - 0.6, HIGHEST, "target", ha="right", va="top", fontsize=small, color=style.TARGET_INK)
        self._outside = [
            Polygon([(0, 0)], closed=True, facecolor=style.CARD, edgecolor=style.AGAINST, hatch="////", lw=0)
            for _ in range(2)
        ]
        self._inside = Polygon([(0, 0)], closed=True, facecolor=style.USEFUL, lw=0)
        self._curve = Line2D([], [], color=style.INK, lw=2.6)
        self._reading = Line2D([], [], color=style.INK, lw=2.4, ls=(0, (5, 3)))
        self._words = axes.text(0, 0, "", va="top", fontsize=small, path_effects=HALO)
        self._share = axes.text(
            56.5, 0.27, "", color=style.USEFUL, weight="bold", va="center", ha="right", path_effects=HALO
        )
        self._verdict = axes.text(56.5, 0.23, "", fontsize=small, va="center", ha="right", path_effects=HALO)
        for patch in (*self._outside, self._inside):
            axes.add_patch(patch)
        for line in (self._curve, self._reading):
            axes.add_line(line)
        self.moving: list[Artist] = [
            *(*self._outside, self._inside, self._curve, self._reading),
            *(self._words, self._share, self._verdict),
        ]

    def update(self, results: Results) -> None:
        """Move the bell."""
        reading = results.inputs.reading_deg
        bell = stats.norm.pdf(ANGLES_DEG, reading, results.uncertainty_deg)
        self._curve.set_data(ANGLES_DEG, bell)
        low, high = TARGET_DEG
        angle = ANGLES_DEG
        parts = (angle <= low, (angle >= low) & (angle <= high), angle >= high)
        for patch, part in zip((self._outside[0], self._inside, self._outside[1]), parts, strict=True):
            angles = ANGLES_DEG[part]
            patch.set_xy([(angles[0], 0), *zip(angles, bell[part], strict=True), (angles[-1], 0)])
        self._reading.set_data([reading, reading], [0, HIGHEST * 0.93])
        self._words.set_text(f"read {reading:g}°")
        self._words.set_position((reading + 0.5, HIGHEST * 0.99))
        self._share.set_text(f"{100 * results.probability_inside:.0f} % inside")
        self._verdict.set_text(f"verdict: {results.verdict}")


class ErrorPicture:
    """Bell and bars; made once, then moved."""

    def __init__(self, layout: Layout) -> None:
        boxes = BOXES[layout]
        figure = self.figure = Figure(figsize=size_in(layout))
        self._bell = Bell(figure, boxes["bell"], layout)
        self._sure = Rows(
            figure,
            boxes["sure"],
            layout,
            "Knee inside, by instrument (%)",
            [Row(name) for name in SHORT_NAMES],
            (0, 112),
            [0, 25, 50, 75, 100],
        )
        axes = self._sure.axes
        axes.set_ylim(-0.6, len(SHORT_NAMES) + 0.1)
        axes.text(50, len(SHORT_NAMES) - 0.2, "not sure in between", ha="center", va="center",
                  fontsize=style.SMALL_PT[layout], color=style.TARGET_INK)  # fmt: skip
        for limit in (100 * CONFIDENCE, 100 * (1 - CONFIDENCE)):
            axes.axvline(limit, color=style.TARGET_EDGE, lw=2, ls=(0, (4, 3)), zorder=0)
        self.moving: list[Artist] = [*self._bell.moving, *self._sure.moving]

    def update(self, results: Results) -> None:
        """Move the artists to new results."""
        self._bell.update(results)
        shares = [100 * float(share) for share in results.all_probabilities]
        self._sure.set(shares, [signed(share) for share in shares])
        self._sure.choose(round(results.inputs.instrument) - 1)
