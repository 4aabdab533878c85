"""Torque over the turn, and work by sector under it, on the same crank angles."""

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.lever_tangency.model import SECTORS, Results
from pedalwright_bench.turn import HALO, TARGET_DEG, TURN_DEG, Box, closed, name_the_angles, over_the_turn


class TurnPanel:
    """Torque of the right leg, the left leg and both, over the right crank's angle."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = over_the_turn(figure, box)
        axes.set(ylim=(-14, 68), yticks=[0, 20, 40, 60])
        axes.set_title("Torque on the cranks (N·m)", pad=34)
        axes.set_xticklabels([])
        small = style.SMALL_PT[layout]
        axes.text(
            float(np.mean(TARGET_DEG)), 67, "target", ha="center", va="top", fontsize=small, color=style.TARGET_INK
        )
        self._both = Line2D([], [], color=style.INK, lw=2.6, ls=(0, (6, 2)), label="both legs")
        self._left = Line2D([], [], color=style.OTHER_LEG, lw=2.6, ls=(0, (1.2, 1.2)), label="left leg")
        self._right = Line2D([], [], color=style.USEFUL, lw=4.4, label="right leg")
        self._unmoved = Line2D([], [], color=style.USEFUL, lw=1.6, alpha=0.75)
        self._stem = Line2D([], [], color=style.USEFUL, lw=1.8)
        self._dot = Line2D([], [], color=style.USEFUL, marker="o", ms=11, mec=style.CARD, mew=2, ls="")
        self._words = axes.text(0, 0, "", fontsize=small, color=style.USEFUL, weight="bold", path_effects=HALO)
        for line in (self._unmoved, self._both, self._left, self._right, self._stem, self._dot):
            axes.add_line(line)
        axes.legend(
            handles=[self._right, self._left, self._both],
            loc="lower left",
            bbox_to_anchor=(-0.02, 0.97),
            ncols=3,
            borderpad=0.2,
            handlelength=2.4,
            columnspacing=1.6,
        )
        self.moving: list[Artist] = [
            self._unmoved,
            self._both,
            self._left,
            self._right,
            self._stem,
            self._dot,
            self._words,
        ]

    def update(self, results: Results) -> None:
        """Move the curves and the mark at the peak."""
        stroke = results.stroke
        right = closed(stroke.right_torque_nm)
        self._right.set_data(TURN_DEG, right)
        self._left.set_data(TURN_DEG, closed(np.roll(stroke.right_torque_nm, 180)))
        self._both.set_data(TURN_DEG, closed(stroke.both_legs_torque_nm))
        self._unmoved.set_data(TURN_DEG, closed(results.unmoved.right_torque_nm))
        self._unmoved.set_visible(results.inputs.saddle_back_mm != 0)
        peak, top = results.peak_deg, results.peak_torque_nm
        self._stem.set_data([peak, peak], [-14, top])
        self._dot.set_data([peak], [top])
        self._words.set_text(f"{top:.0f} N·m at {peak:.0f}°")
        self._words.set_position((max(peak + 12, TARGET_DEG[1] + 5), top + 1.0))


class SectorPanel:
    """Work of the right leg in each sector of the turn."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = over_the_turn(figure, box)
        axes.set(ylim=(-8.5, 25), yticks=[0, 10, 20])
        axes.set_title("Work of the right leg in each sector (J)", pad=10)
        name_the_angles(axes)
        width = 360 / SECTORS
        self._bars = [
            Rectangle((i * width + 2, 0), width - 4, 0, facecolor=style.USEFUL, edgecolor=style.USEFUL, linewidth=1.6)
            for i in range(SECTORS)
        ]
        for bar in self._bars:
            axes.add_patch(bar)
        small = style.SMALL_PT[layout]
        self._numbers = [
            axes.text(
                (i + 0.5) * width, -8.0, str(i + 1), ha="center", va="bottom", fontsize=small - 2, color=style.MUTED
            )
            for i in range(SECTORS)
        ]
        self._best = axes.text(0, 0, "", ha="center", va="bottom", fontsize=small, weight="bold", color=style.USEFUL)
        self._share = axes.text(
            215, 21.5, "", fontsize=small, va="top", path_effects=HALO, linespacing=1.35, color=style.INK
        )
        self.moving: list[Artist] = [*self._bars, *self._numbers, self._best, self._share]

    def update(self, results: Results) -> None:
        """Set the bars' heights, and mark what works against the turn."""
        for bar, work in zip(self._bars, results.sector_work_j, strict=True):
            bar.set_height(work)
            against = work < 0
            bar.set_edgecolor(style.AGAINST if against else style.USEFUL)
            bar.set_facecolor(style.CARD if against else style.USEFUL)
            bar.set_hatch("////" if against else "")
        best = results.best_sector
        height = results.sector_work_j[best - 1]
        self._best.set_position(((best - 0.5) * 360 / SECTORS, height + 0.4))
        self._best.set_text(f"{height:.1f}")
        self._share.set_text(f"{100 * results.target_share:.0f} % of the net work\nin sectors 4 to 6")
