"""The right forefoot from the front on its wedge, true to scale, so that the inner edge is on the right."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.wedge.model import Results
from pedalwright_bench.panels import stage
from pedalwright_bench.turn import HALO, Box

LOW_MM, HIGH_MM = -32.0, 53.0
TOES = ((0.09, 6.5), (0.27, 6.8), (0.45, 7.2), (0.63, 7.8), (0.86, 11.0))
"""Place across as a share of the width from the outer edge, and size in millimetres, of the heads of the five rays."""


class Forefoot:
    """Sole, wedge and forefoot; the gap that is left is hatched."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, LOW_MM, HIGH_MM)
        small = style.SMALL_PT[layout]
        left, right = axes.get_xlim()
        axes.text(
            (left + right) / 2, HIGH_MM - 1, "right forefoot from the front", ha="center", va="top", fontsize=small
        )
        for across, word, beside in ((-59, "outer", "right"), (59, "inner", "left")):
            axes.text(across, 8, word, ha=beside, va="center", fontsize=small, color=style.MUTED)
        self._sole = Polygon([(0, 0)], closed=True, facecolor=style.STEEL, edgecolor=style.MUTED, lw=2)
        self._gap = Polygon([(0, 0)], closed=True, facecolor="none", edgecolor=style.AGAINST, hatch="////", lw=0)
        self._wedge = Polygon([(0, 0)], closed=True, facecolor=style.USEFUL, edgecolor=style.USEFUL, lw=1)
        self._foot = Polygon([(0, 0)], closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2.5)
        self._heads = [Circle((0, 0), size, facecolor=style.CARD, edgecolor=style.LIMB_EDGE, lw=2) for _, size in TOES]
        self._width = Line2D([], [], color=style.INK, lw=2.4, marker="|", ms=15, mew=2.4)
        self._words = axes.text(0, -20, "", ha="center", va="top", fontsize=small, path_effects=HALO)
        self._height = axes.text(0, 0, "", color=style.USEFUL, weight="bold", va="top", ha="center", path_effects=HALO)
        self._left = axes.text(0, 45, "", color=style.AGAINST, weight="bold", va="top", ha="center", path_effects=HALO)
        for patch in (self._sole, self._gap, self._wedge, self._foot, *self._heads):
            axes.add_patch(patch)
        axes.add_line(self._width)
        self.moving: list[Artist] = [
            *(self._sole, self._gap, self._wedge, self._foot, *self._heads),
            *(self._width, self._words, self._height, self._left),
        ]

    def update(self, results: Results) -> None:
        """Set wedge and foot."""
        inputs = results.inputs
        half = inputs.width_mm / 2
        ends = np.array([-half, half])
        support = np.array([max(-inputs.wedge_mm, 0.0), max(inputs.wedge_mm, 0.0)])
        slope = np.tan(np.radians(inputs.forefoot_tilt_deg))
        under = ends * slope + np.max(support - ends * slope)
        self._sole.set_xy([(-half - 5, 0), (half + 5, 0), (half, -8), (-half, -8)])
        self._wedge.set_xy([(-half, 0), (half, 0), (half, support[1]), (-half, support[0])])
        self._wedge.set_visible(inputs.wedge_mm != 0)
        self._gap.set_xy([(-half, support[0]), (half, support[1]), (half, under[1]), (-half, under[0])])
        along = np.array([1.0, slope]) / np.hypot(1.0, slope)
        up = np.array([-along[1], along[0]])
        begin, length = np.array([-half, under[0]]), np.hypot(inputs.width_mm, under[1] - under[0])
        outline = ((0, 0), (1, 0), (1.03, 8), (1.0, 22), (0.86, 29), (0.55, 27), (0.2, 21), (0.0, 15), (-0.03, 7))
        self._foot.set_xy([begin + share * length * along + high * up for share, high in outline])
        for head, (share, size) in zip(self._heads, TOES, strict=True):
            middle = begin + share * length * along + (size + 2.0) * up
            head.set_center((middle[0], middle[1]))
        self._width.set_data(ends, [-14, -14])
        self._words.set_text(f"{inputs.width_mm:g} mm")
        self._height.set_text(f"{abs(inputs.wedge_mm):g} mm")
        self._height.set_visible(inputs.wedge_mm != 0)
        self._height.set_position((half - 6 if inputs.wedge_mm > 0 else -half + 6, -19))
        self._left.set_text(f"{abs(results.left_deg):.1f}° unfilled")
