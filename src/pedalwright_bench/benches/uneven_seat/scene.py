"""The pelvis on its seat from behind, and both legs from the front, where the rider's right is on the left."""

from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon

from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.benches.uneven_seat.model import HIP_ABOVE_SEAT_MM, Results
from pedalwright_bench.panels import stage
from pedalwright_bench.shapes import Floats
from pedalwright_bench.turn import HALO, Box

HALF_HIPS_MM, HALF_BONES_MM = 85.0, 60.0
HALF_PELVIS_MM = (
    *((0, 172), (34, 178), (62, 206), (104, 200), (126, 164), (112, 122), (100, 98), (88, 60)),
    *((80, 28), (70, 6), (60, 0), (48, 7), (40, 38), (14, 58), (0, 60)),
)
PELVIS_MM = np.array([*HALF_PELVIS_MM, *((-across, up) for across, up in HALF_PELVIS_MM[::-1])], dtype=float)
SADDLE_MM = np.array([(-78, -2), (78, -2), (70, -26), (20, -40), (-20, -40), (-70, -26)], dtype=float)
MIDLINE: dict[str, Any] = {"color": style.MUTED, "lw": 1.8, "ls": (0, (8, 4, 2, 4)), "zorder": 0}


class FromBehind:
    """Pelvis and seat from behind: the rider's right is on the right."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -105.0, 315.0)
        small = style.SMALL_PT[layout]
        axes.plot([0, 0], [-80, 262], **MIDLINE)
        axes.text(0, 312, "from behind", ha="center", va="top", weight="bold")
        for across, word in ((-128, "left"), (128, "right")):
            axes.text(across, -84, word, ha="center", va="center", fontsize=small, color=style.MUTED)
        self._saddle = Polygon(SADDLE_MM, closed=True, facecolor=style.STEEL, edgecolor=style.MUTED, lw=2)
        self._pelvis = Polygon(PELVIS_MM, closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2.5)
        self._hips = [
            Circle((0, 0), 13, facecolor=style.CARD, edgecolor=colour, lw=3.4)
            for colour in (style.USEFUL, style.OTHER_LEG)
        ]
        self._across = Line2D([], [], color=style.INK, lw=2.4)
        self._middle = Line2D([], [], color=style.AGAINST, marker="D", ms=11, mfc=style.CARD, mew=2.8, ls="")
        self._words = axes.text(
            0, 278, "", color=style.AGAINST, weight="bold", ha="center", va="center", path_effects=HALO
        )
        for patch in (self._saddle, self._pelvis, *self._hips):
            axes.add_patch(patch)
        for line in (self._across, self._middle):
            axes.add_line(line)
        self.moving: list[Artist] = [
            *(self._saddle, self._pelvis, self._across, *self._hips, self._middle, self._words),
        ]

    def update(self, results: Results) -> None:
        """Lean the seat and the pelvis, and slide the rider."""
        slope, slide = results.inputs.obliquity_deg, np.array([results.inputs.slide_mm, 0.0])
        self._saddle.set_xy(_leaning(SADDLE_MM, slope))
        self._pelvis.set_xy(_leaning(PELVIS_MM, slope) + slide)
        ends = np.array([(HALF_HIPS_MM, HIP_ABOVE_SEAT_MM), (-HALF_HIPS_MM, HIP_ABOVE_SEAT_MM)])
        hips = _leaning(ends, slope) + slide
        self._across.set_data(*hips.T)
        for circle, hip in zip(self._hips, hips, strict=True):
            circle.set_center((hip[0], hip[1]))
        self._middle.set_data(*hips.mean(axis=0)[:, None])
        shift = results.pelvis_shift_mm
        still = abs(shift) < 0.05
        self._words.set_text("in the middle" if still else f"{abs(shift):.1f} mm {'right' if shift > 0 else 'left'}")


class FromFront:
    """Both legs from the front, the right crank forward; dashed where they run on a level seat."""

    def __init__(self, figure: Figure, box: Box, layout: Layout) -> None:
        axes = stage(figure, box, layout, -88.0, 872.0)
        small = style.SMALL_PT[layout]
        axes.plot([0, 0], [-85, 815], **MIDLINE)
        axes.text(0, 868, "from the front", ha="center", va="top", weight="bold")
        for across, word, colour in ((-125, "right", style.USEFUL), (125, "left", style.OTHER_LEG)):
            axes.text(across, -84, word, ha="center", va="bottom", fontsize=small, color=colour)
        sides = ((style.USEFUL, "o"), (style.OTHER_LEG, "s"))
        self._limbs = [
            Line2D([], [], color=colour, lw=lw, solid_capstyle="round", solid_joinstyle="round")
            for colour, lw in ((style.LIMB_EDGE, 38), (style.LIMB, 34))
            for _ in sides
        ]
        self._even = [Line2D([], [], color=style.MUTED, lw=2.4, ls=(0, (4, 2.5))) for _ in sides]
        self._legs = [
            Line2D([], [], color=colour, lw=3.2, marker=marker, ms=11, mfc=style.CARD, mew=2.8)
            for colour, marker in sides
        ]
        self._feet = [Line2D([], [], color=style.MUTED, lw=13, solid_capstyle="butt") for _ in sides]
        self._words = [
            axes.text(
                0, 0, "", color=colour, fontsize=small, ha=beside, va="center", path_effects=HALO, linespacing=1.3
            )
            for (colour, _), beside in zip(sides, ("right", "left"), strict=True)
        ]
        for line in (*self._limbs, *self._feet, *self._even, *self._legs):
            axes.add_line(line)
        self.moving: list[Artist] = [*self._limbs, *self._feet, *self._even, *self._legs, *self._words]

    def update(self, results: Results) -> None:
        """Move hips and knees."""
        slope = np.radians(results.inputs.obliquity_deg)
        sides = (
            (results.right_even_mm, results.right_inward_mm, 1),
            (results.left_even_mm, results.left_inward_mm, -1),
        )
        for i, (even, inward, side) in enumerate(sides):
            leg = even.copy()
            leg[0] = (results.pelvis_shift_mm + side * HALF_HIPS_MM * np.cos(slope), 0)
            leg[0, 1] = even[0, 1] + side * HALF_HIPS_MM * np.sin(slope)
            leg[1, 0] -= side * inward
            seen, level = leg * (-1, 1), even * (-1, 1)
            for line in (self._limbs[i], self._limbs[i + 2], self._legs[i]):
                line.set_data(*seen.T)
            self._even[i].set_data(*level.T)
            foot = seen[2]
            self._feet[i].set_data([foot[0] - 42, foot[0] + 42], [foot[1] - 48, foot[1] - 48])
            way = "" if abs(inward) < 0.05 else "further\nin" if inward > 0 else "further\nout"
            self._words[i].set_text(f"{abs(inward):.1f} mm\n{way}".rstrip())
            self._words[i].set_position((seen[1, 0] - side * 48, seen[1, 1]))


def _leaning(points: Floats, slope_deg: float) -> Floats:
    """Turn points about the middle of the seat, the right side up when positive, as seen from behind."""
    angle = np.radians(slope_deg)
    return np.asarray(points @ np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]))
