"""A leg on the bicycle that benches draw alike: pelvis, limb, joints, foot and crank, placed by a stroke."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon

from pedalwright.stroke import Stroke
from pedalwright_bench import style
from pedalwright_bench.bench import Layout
from pedalwright_bench.shapes import Floats
from pedalwright_bench.turn import Box, outward

PELVIS_MM = np.array(
    [
        *((-62, -42), (-84, 6), (-102, 58), (-78, 112), (-22, 124), (28, 96), (52, 48)),
        *((46, 6), (30, -34), (2, -62), (-36, -66)),
    ]
)
SOLE_MM = np.array([(-58, -74), (-52, -22), (6, 16), (52, -22), (150, -52), (188, -66), (180, -86), (-40, -86)])


@dataclass(frozen=True)
class LegPose:
    """Joint centres, pedal and the turn of pelvis and foot at one moment.

    Parameters
    ----------
    hip_mm, knee_mm, ankle_mm, pedal_mm : numpy.ndarray, shape (2,)
        Places from the bottom bracket. [mm]
    pelvis_tilt_deg, pedal_angle_deg : float
        Roll of the pelvis, and tilt of the foot, toe down positive. [°]
    """

    hip_mm: Floats
    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats
    pelvis_tilt_deg: float
    pedal_angle_deg: float


def pose_of(stroke: Stroke, place: int = 0) -> LegPose:
    """Take one moment of a stroke of one rider."""
    return LegPose(
        hip_mm=stroke.hip_mm[place],
        knee_mm=stroke.knee_mm[place],
        ankle_mm=stroke.ankle_mm[place],
        pedal_mm=stroke.pedal_mm[place],
        pelvis_tilt_deg=float(stroke.pelvis_forward_tilt_deg[0]),
        pedal_angle_deg=float(stroke.pedal_angle_deg[place]),
    )


def rotated(points_mm: Floats, down_deg: float) -> Floats:
    """Turn points about the origin, forward and down."""
    angle = np.radians(down_deg)
    cosine, sine = np.cos(angle), np.sin(angle)
    x, y = points_mm[..., 0], points_mm[..., 1]
    return np.stack([cosine * x + sine * y, cosine * y - sine * x], axis=-1)


class Leg:
    """Artists of the leg; ``update`` moves them to a pose."""

    def __init__(self, axes: Axes, *, thickness: float = 20.0) -> None:
        self._pelvis = Polygon(PELVIS_MM, closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2)
        self._foot = Polygon(SOLE_MM, closed=True, facecolor=style.LIMB, edgecolor=style.LIMB_EDGE, lw=2)
        self._edge = Line2D(
            [], [], color=style.LIMB_EDGE, lw=thickness + 4, solid_capstyle="round", solid_joinstyle="round"
        )
        self._limb = Line2D([], [], color=style.LIMB, lw=thickness, solid_capstyle="round", solid_joinstyle="round")
        self._bones = Line2D([], [], color=style.LIMB_EDGE, lw=2, marker="o", ms=10, mfc=style.CARD, mew=2.2)
        self._crank = Line2D([], [], color=style.MUTED, lw=9, solid_capstyle="round")
        self._pedal = Line2D([], [], color=style.INK, lw=6, solid_capstyle="round")
        for line in (self._crank, self._edge, self._limb, self._bones, self._pedal):
            axes.add_line(line)
        for patch in (self._pelvis, self._foot):
            axes.add_patch(patch)
        self.moving: list[Artist] = [
            *(self._crank, self._pedal, self._pelvis, self._edge, self._foot, self._limb, self._bones)
        ]

    def update(self, pose: LegPose) -> None:
        """Move pelvis, limb, foot and crank."""
        joints = np.stack([pose.hip_mm, pose.knee_mm, pose.ankle_mm])
        for line in (self._edge, self._limb, self._bones):
            line.set_data(*joints.T)
        self._pelvis.set_xy(pose.hip_mm + rotated(PELVIS_MM, pose.pelvis_tilt_deg))
        self._foot.set_xy(pose.ankle_mm + rotated(SOLE_MM, pose.pedal_angle_deg))
        self._crank.set_data([0, pose.pedal_mm[0]], [0, pose.pedal_mm[1]])
        ends = pose.pedal_mm + rotated(np.array([(-45.0, 0.0), (45.0, 0.0)]), pose.pedal_angle_deg)
        self._pedal.set_data(*ends.T)


def stage(figure: Figure, box: Box, layout: Layout, low_mm: float, high_mm: float, middle_mm: float) -> Axes:
    """Axes without a frame whose millimetres are equal in both directions."""
    axes = figure.add_axes(box)
    axes.set_axis_off()
    width, height = (side * size for side, size in zip(box[2:], style.SIZE_PX[layout], strict=True))
    half = (high_mm - low_mm) * width / height / 2
    axes.set(xlim=(middle_mm - half, middle_mm + half), ylim=(low_mm, high_mm))
    return axes


def draw_crank_circle(axes: Axes, crank_mm: float, marks_deg: Sequence[float] = (0, 90, 180, 270)) -> None:
    """Draw the pedal's circle with the places of the turn marked."""
    axes.add_patch(Circle((0, 0), crank_mm, fill=False, ec=style.FAINT, lw=2.4, zorder=0))
    for angle in marks_deg:
        ends = outward([angle, angle]) * [[crank_mm - 9], [crank_mm + 9]]
        axes.plot(*ends.T, color=style.MUTED, lw=1.8, zorder=0)
    axes.plot([0], [0], "o", color=style.INK, ms=11, zorder=1)
