"""The line from ankle to pedal axle, from the foot's measures and its place on the pedal."""

import numpy as np

from pedalwright._lengths import IN_MM
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked
from pedalwright.position import Leg, Position


def ankle_to_pedal(leg: Leg, position: Position) -> tuple[Floats, Floats]:
    """Length and slope of the line from ankle to pedal axle, the foot placement included.

    Parameters
    ----------
    leg : Leg
        Lengths of the leg.
    position : Position
        Contact points; only ``pedal_behind_ball_mm`` is used.

    Returns
    -------
    tuple of numpy.ndarray
        Length [mm] and slope below the sole [°].

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Examples
    --------
    >>> length, slope = ankle_to_pedal(Leg(430, 430, 150, 30), Position(730, 200, 170, pedal_behind_ball_mm=10))
    >>> round(length.item(), 2), round(slope.item(), 2)
    (141.43, 32.03)
    """
    length = checked("ankle_to_pedal_mm", leg.ankle_to_pedal_mm, at_least=20, at_most=400, advice=IN_MM)
    slope = np.radians(checked("ankle_to_pedal_slope_deg", leg.ankle_to_pedal_slope_deg, above=0, below=90))
    back = checked("pedal_behind_ball_mm", position.pedal_behind_ball_mm, at_least=-100, at_most=150, advice=IN_MM)
    ahead, below = length * np.cos(slope) - back, length * np.sin(slope)
    return np.hypot(ahead, below), np.degrees(np.arctan2(below, ahead))


def ankle_to_pedal_from_foot(
    ankle_height_mm: Numbers, ankle_to_ball_mm: Numbers, sole_and_pedal_mm: Numbers
) -> tuple[Floats, Floats]:
    """Length and slope of the line from ankle to pedal axle from measures of the standing foot.

    Parameters
    ----------
    ankle_height_mm : array_like
        Outer ankle above the floor, bare foot, 20 to 200. [mm]
    ankle_to_ball_mm : array_like
        Outer ankle to the ball of the foot, along the floor, 20 to 300. [mm]
    sole_and_pedal_mm : array_like
        Thickness of sole and pedal between foot and pedal axle, 0 to 100. [mm]

    Returns
    -------
    tuple of numpy.ndarray
        Length [mm] and slope below the sole [°] as ``Leg`` takes them.

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Examples
    --------
    >>> length, slope = ankle_to_pedal_from_foot(68, 120, 22)
    >>> length.item(), round(slope.item(), 2)
    (150.0, 36.87)
    """
    height = checked("ankle_height_mm", ankle_height_mm, at_least=20, at_most=200, advice=IN_MM)
    ahead = checked("ankle_to_ball_mm", ankle_to_ball_mm, at_least=20, at_most=300, advice=IN_MM)
    below = height + checked("sole_and_pedal_mm", sole_and_pedal_mm, at_least=0, at_most=100, advice=IN_MM)
    return np.hypot(ahead, below), np.degrees(np.arctan2(below, ahead))
