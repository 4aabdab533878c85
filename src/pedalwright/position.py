"""Contact points of a rider on a bicycle, where they put the hip, and how the saddle is moved."""

from dataclasses import dataclass, replace

import numpy as np

from pedalwright._lengths import IN_MM, crank_mm
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import (
    ANKLE_TO_PEDAL_SLOPE_DEG,
    HIP_ABOVE_SADDLE_MM,
    HIP_AHEAD_OF_SADDLE_MM,
    HIP_JOINT_WIDTH_MM,
    STANCE_WIDTH_MM,
)
from pedalwright.errors import OutOfRangeError, checked


@dataclass(frozen=True)
class Leg:
    """Lengths of a leg between joint centres; arrays describe many riders.

    Parameters
    ----------
    thigh_length_mm : array_like
        Hip joint centre to knee joint centre, 100 to 1000. [mm]
    shank_length_mm : array_like
        Knee joint centre to ankle joint centre, 100 to 1000. [mm]
    ankle_to_pedal_mm : array_like
        Ankle joint centre to pedal axle with the ball of the foot over the axle, 20 to 400. [mm]
    ankle_to_pedal_slope_deg : array_like
        Slope of that line below the sole, above 0 and below 90; the default is an assumption. [°]

    Examples
    --------
    >>> Leg(428.75, 430.5, 150).ankle_to_pedal_slope_deg
    35.0
    """

    thigh_length_mm: Numbers
    shank_length_mm: Numbers
    ankle_to_pedal_mm: Numbers
    ankle_to_pedal_slope_deg: Numbers = ANKLE_TO_PEDAL_SLOPE_DEG.value


@dataclass(frozen=True)
class Position:
    """Where saddle, cranks and pedals hold the rider; arrays describe many positions.

    Parameters
    ----------
    saddle_height_mm : array_like
        Bottom bracket axis to the sitting point of the saddle top, along the seat tube line that runs through both,
        100 to 2000. [mm]
    saddle_setback_mm : array_like
        How far the sitting point, where the sit bones rest, lies behind the bottom bracket; less than the height.
        [mm]
    crank_length_mm : array_like
        Crank length, 50 to 300. [mm]
    hip_above_saddle_mm : array_like
        Height of the hip joint centre above the sitting point, −100 to 300; the default is an assumption. [mm]
    hip_ahead_of_saddle_mm : array_like
        How far the hip joint centre lies ahead of the sitting point, −300 to 300; the default is an assumption. [mm]
    pedal_behind_ball_mm : array_like
        How far the pedal axle sits behind the ball of the foot, toward the heel, −100 to 150. [mm]
    stance_width_mm : array_like
        Distance between the middles of the two pedals, 0 to 600. [mm]

    Examples
    --------
    >>> Position(730, 200, 170).pedal_behind_ball_mm
    0.0
    """

    saddle_height_mm: Numbers
    saddle_setback_mm: Numbers
    crank_length_mm: Numbers
    hip_above_saddle_mm: Numbers = HIP_ABOVE_SADDLE_MM.value
    hip_ahead_of_saddle_mm: Numbers = HIP_AHEAD_OF_SADDLE_MM.value
    pedal_behind_ball_mm: Numbers = 0.0
    stance_width_mm: Numbers = STANCE_WIDTH_MM.value


def saddle_point_mm(position: Position) -> Floats:
    """Place of the sitting point of the saddle.

    Parameters
    ----------
    position : Position
        Contact points.

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Place (x, y) from the bottom bracket axis. [mm]

    Raises
    ------
    OutOfRangeError
        If height or setback are out of range, or the setback is not smaller than the height.

    Examples
    --------
    >>> saddle_point_mm(Position(500, 300, 170)).tolist()
    [-300.0, 400.0]
    """
    height = checked("saddle_height_mm", position.saddle_height_mm, at_least=100, at_most=2000, advice=IN_MM)
    setback = checked("saddle_setback_mm", position.saddle_setback_mm)
    back, tall = np.broadcast_arrays(setback, height)
    if np.any(np.abs(back) >= tall):
        raise OutOfRangeError(
            f"saddle_setback_mm: received {back[np.abs(back) >= tall].flat[0]:g}; "
            "allowed: less than the saddle height; check which of the two was measured"
        )
    return np.stack([-back, np.sqrt(tall**2 - back**2)], axis=-1)


def hip_position_mm(position: Position) -> Floats:
    """Place of the hip joint centre, which is taken to stand still.

    Parameters
    ----------
    position : Position
        Contact points.

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Place (x, y) from the bottom bracket axis. [mm]

    Raises
    ------
    OutOfRangeError
        If a value of the position is out of range.

    Notes
    -----
    *Teaching model*: a real pelvis rocks by 2° to 3° and slides on the saddle.

    References
    ----------
    sauer_2007

    Examples
    --------
    >>> hip_position_mm(Position(500, 300, 170, hip_above_saddle_mm=30)).tolist()
    [-300.0, 430.0]
    """
    saddle = saddle_point_mm(position)
    ahead = checked("hip_ahead_of_saddle_mm", position.hip_ahead_of_saddle_mm, at_least=-300, at_most=300, advice=IN_MM)
    above = checked("hip_above_saddle_mm", position.hip_above_saddle_mm, at_least=-100, at_most=300, advice=IN_MM)
    return np.stack(np.broadcast_arrays(saddle[..., 0] + ahead, saddle[..., 1] + above), axis=-1)


def raised(position: Position, by_mm: Numbers) -> Position:
    """Move the saddle along the seat tube line, which also carries it back.

    Parameters
    ----------
    position : Position
        Contact points.
    by_mm : array_like
        How far up; negative is down. [mm]

    Returns
    -------
    Position
        The new contact points.

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Examples
    --------
    >>> raised(Position(500, 300, 170), 5).saddle_setback_mm.item()
    303.0
    """
    here = saddle_point_mm(position)
    height = np.hypot(here[..., 0], here[..., 1])
    new_height = checked("saddle_height_mm", height + checked("by_mm", by_mm), at_least=100, at_most=2000)
    return replace(position, saddle_height_mm=new_height, saddle_setback_mm=-here[..., 0] * new_height / height)


def slid_back(position: Position, by_mm: Numbers) -> Position:
    """Slide the saddle back on level rails, which also changes its height along the seat tube line.

    Parameters
    ----------
    position : Position
        Contact points.
    by_mm : array_like
        How far back; negative is forward. [mm]

    Returns
    -------
    Position
        The new contact points.

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Examples
    --------
    >>> moved = slid_back(Position(500, 300, 170), -100)
    >>> moved.saddle_setback_mm.item(), round(moved.saddle_height_mm.item(), 2)
    (200.0, 447.21)
    """
    here = saddle_point_mm(position)
    setback = checked("by_mm", by_mm) - here[..., 0]
    return replace(position, saddle_height_mm=np.hypot(setback, here[..., 1]), saddle_setback_mm=setback)


def leg_splay_deg(position: Position, hip_joint_width_mm: Numbers = HIP_JOINT_WIDTH_MM.value) -> Floats:
    """Tilt of the line from hip to pedal out of the vertical plane, seen from the front, at the bottom of the stroke.

    Parameters
    ----------
    position : Position
        Contact points; ``stance_width_mm`` between 0 and 600.
    hip_joint_width_mm : array_like
        Distance between the hip joint centres, 50 to 400; the default is an assumption. [mm]

    Returns
    -------
    numpy.ndarray
        Angle, positive when the pedal lies further out than the hip. [°]

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Notes
    -----
    It says where the contact points are, not where the knee will travel.

    Examples
    --------
    >>> round(leg_splay_deg(Position(730, 200, 170), 170).item(), 2)
    2.48
    """
    stance = checked("stance_width_mm", position.stance_width_mm, at_least=0, at_most=600, advice=IN_MM)
    width = checked("hip_joint_width_mm", hip_joint_width_mm, at_least=50, at_most=400, advice=IN_MM)
    crank = crank_mm(position.crank_length_mm)
    hip = hip_position_mm(position)
    return np.asarray(np.degrees(np.arctan2((stance - width) / 2, np.hypot(hip[..., 0], hip[..., 1] + crank))))
