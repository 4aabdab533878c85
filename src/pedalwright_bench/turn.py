"""Panels over one turn of the crank: axes, target window, curves that close."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patheffects import withStroke
from numpy.typing import ArrayLike

from pedalwright_bench import style
from pedalwright_bench.shapes import Floats

Box = tuple[float, float, float, float]

TURN_DEG: Floats = np.arange(361.0)
TARGET_DEG = (67.5, 135.0)
"""Sectors 4 to 6 of sixteen: where the useful push is greatest (common practice, no source)."""

HALO = [withStroke(linewidth=5, foreground=style.CARD)]


def over_the_turn(figure: Figure, box: Box, windows: tuple[tuple[float, float], ...] = (TARGET_DEG,)) -> Axes:
    """Make axes over the crank angle with the target window, or several, shaded."""
    axes = figure.add_axes(box)
    axes.set(xlim=(0, 360), xticks=[0, 90, 180, 270, 360])
    for window in windows:
        axes.axvspan(*window, facecolor=style.TARGET, lw=0, zorder=0)
        for edge in window:
            axes.axvline(edge, color=style.TARGET_EDGE, lw=1.2, zorder=0)
    axes.axhline(0, color=style.MUTED, lw=1.4, zorder=1)
    axes.tick_params(length=0, pad=6)
    return axes


def name_the_angles(axes: Axes) -> None:
    """Write the crank angles below the axes, with their places in words."""
    axes.set_xticklabels(["0°\ntop", "90°\nforward", "180°\nbottom", "270°\nback", "360°\ntop"])


def closed(curve: ArrayLike) -> Floats:
    """Repeat the first of 360 samples at the end."""
    values = np.asarray(curve, float)
    return np.append(values, values[0])


def outward(angle_deg: ArrayLike) -> Floats:
    """Give unit vectors along the crank at the given crank angles."""
    angle = np.radians(np.asarray(angle_deg, float))
    return np.stack([np.sin(angle), np.cos(angle)], axis=-1)


def tangent(angle_deg: ArrayLike) -> Floats:
    """Give unit vectors in the pedalling direction at the given crank angles."""
    angle = np.radians(np.asarray(angle_deg, float))
    return np.stack([np.cos(angle), -np.sin(angle)], axis=-1)
