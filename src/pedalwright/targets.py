"""The inverse of a position: the saddle that gives a wanted knee flexion, or a wanted knee over the pedal."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Literal

import numpy as np

from pedalwright import _lengths
from pedalwright._choices import chosen
from pedalwright._links import as_points
from pedalwright._typing import Floats, Numbers
from pedalwright.conventions import pedal_place_mm
from pedalwright.errors import UnreachablePositionError, checked
from pedalwright.foot_on_pedal import ankle_to_pedal
from pedalwright.position import Leg, Position, hip_position_mm, saddle_point_mm

Keep = Literal["seat tube line", "setback"]
KEEP: Mapping[str, str] = MappingProxyType(
    {
        "seat tube line": "The saddle moves along the line from bottom bracket to sitting point, as a seat post does.",
        "setback": "The saddle moves straight up or down, its setback corrected on the rails.",
    }
)


def saddle_for_knee_flexion(
    leg: Leg,
    position: Position,
    knee_flexion_deg: Numbers,
    *,
    crank_angle_deg: Numbers = 180.0,
    pedal_angle_deg: Numbers = 0.0,
    keep: Keep = "seat tube line",
) -> Position:
    """Position whose saddle gives a wanted knee flexion at a crank angle, the foot held at an angle.

    Parameters
    ----------
    leg : Leg
        Lengths of the leg.
    position : Position
        Contact points to start from; their saddle height does not matter, its direction or setback does.
    knee_flexion_deg : array_like
        Knee flexion wanted, 0 to 150. [°]
    crank_angle_deg : array_like
        Where it is wanted, 180 for the bottom. [°]
    pedal_angle_deg : array_like
        Pedal angle there, toe down positive, −90 to 90. [°]
    keep : str
        A key of ``KEEP``: how the saddle is moved.

    Returns
    -------
    Position
        The contact points with the new saddle height and setback.

    Raises
    ------
    OutOfRangeError
        If a value is out of range.
    UnreachablePositionError
        If no saddle on that line gives the wanted flexion.

    Notes
    -----
    *Measured law* (law of cosines, then a circle met by a line; closed form) on a *teaching model* with a fixed hip.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> from pedalwright.stroke import solve_stroke
    >>> leg = Leg(428.75, 430.5, 150)
    >>> found = saddle_for_knee_flexion(leg, Position(730, 200, 170), 30)
    >>> round(solve_stroke(leg, found, 180).knee_flexion_deg.item(), 6)
    30.0
    """
    chosen("keep", keep, KEEP)
    flexion = np.radians(checked("knee_flexion_deg", knee_flexion_deg, at_least=0, at_most=150))
    thigh, shank = _lengths.thigh_mm(leg.thigh_length_mm), _lengths.shank_mm(leg.shank_length_mm)
    reach = np.sqrt(thigh**2 + shank**2 + 2 * thigh * shank * np.cos(flexion))
    ankle = _ankle_mm(leg, position, crank_angle_deg, pedal_angle_deg)
    saddle = saddle_point_mm(position)
    offset = hip_position_mm(position) - saddle
    if keep == "setback":
        start, along = np.stack([saddle[..., 0], 0 * saddle[..., 0]], axis=-1), np.array([0.0, 1.0])
    else:
        start, along = np.zeros(2), saddle / np.hypot(saddle[..., 0], saddle[..., 1])[..., None]
    gap = ankle - offset - start
    forward = np.sum(gap * along, axis=-1)
    beside = gap[..., 0] * along[..., 1] - gap[..., 1] * along[..., 0]
    room = reach**2 - beside**2
    if np.any(room < 0):
        worst = float(np.max(np.abs(beside) - reach))
        raise UnreachablePositionError(
            f"knee_flexion_deg: no saddle height gives the flexion asked for: the saddle's line passes the ankle "
            f"{worst:.0f} mm too far away; allowed: less flexion, or a saddle further forward; change the setback first"
        )
    distance = forward + np.sqrt(room)
    return _with_saddle(position, start + distance[..., None] * along)


def setback_for_knee_over_pedal(
    leg: Leg,
    position: Position,
    knee_ahead_mm: Numbers = 0.0,
    *,
    pedal_angle_deg: Numbers = 0.0,
    front_of_knee_mm: Numbers = 0.0,
) -> Position:
    """Position whose saddle, slid on level rails, puts the knee where it is wanted over the forward pedal.

    Parameters
    ----------
    leg : Leg
        Lengths of the leg.
    position : Position
        Contact points to start from; the level of the sitting point stays.
    knee_ahead_mm : array_like
        How far the knee landmark shall lie ahead of the pedal axle with the crank forward; 0 for above it. [mm]
    pedal_angle_deg : array_like
        Pedal angle there, toe down positive, −90 to 90. [°]
    front_of_knee_mm : array_like
        How far the landmark lies ahead of the knee joint centre, −100 to 150; 0 for the joint centre. [mm]

    Returns
    -------
    Position
        The contact points with the new setback, and the height along the seat tube line that goes with it.

    Raises
    ------
    OutOfRangeError
        If a value is out of range.
    UnreachablePositionError
        If no setback at this level puts the knee there.

    Notes
    -----
    *Measured law* (two circles; closed form) on a *teaching model*. A rule of the trade: that it protects the knee has
    not been shown. Sliding the saddle also changes the knee flexion at the bottom; set the height again afterwards.

    References
    ----------
    bini_hume_lanferdini_vaz_2013
    menard_2020

    Examples
    --------
    >>> from pedalwright.stroke import knee_over_pedal_mm
    >>> leg = Leg(428.75, 430.5, 150)
    >>> found = setback_for_knee_over_pedal(leg, Position(730, 200, 170), -5)
    >>> round(knee_over_pedal_mm(leg, found).item(), 6)
    -5.0
    """
    thigh, shank = _lengths.thigh_mm(leg.thigh_length_mm), _lengths.shank_mm(leg.shank_length_mm)
    front = _lengths.front_of_knee_mm(front_of_knee_mm)
    pedal = pedal_place_mm(90.0, _lengths.crank_mm(position.crank_length_mm))
    ankle = _ankle_mm(leg, position, 90.0, pedal_angle_deg)
    hip, saddle = hip_position_mm(position), saddle_point_mm(position)
    knee_x = pedal[..., 0] + checked("knee_ahead_mm", knee_ahead_mm) - front
    knee_y = ankle[..., 1] + _other_side(shank, knee_x - ankle[..., 0], "the shank")
    hip_x = knee_x - _other_side(thigh, hip[..., 1] - knee_y, "the thigh")
    x = hip_x - (hip[..., 0] - saddle[..., 0])
    return _with_saddle(position, as_points((np.asarray(x), saddle[..., 1])))


def _ankle_mm(leg: Leg, position: Position, crank_angle_deg: Numbers, pedal_angle_deg: Numbers) -> Floats:
    length, slope = ankle_to_pedal(leg, position)
    down = np.radians(checked("pedal_angle_deg", pedal_angle_deg, at_least=-90, at_most=90) + slope)
    pedal = pedal_place_mm(crank_angle_deg, _lengths.crank_mm(position.crank_length_mm))
    return np.asarray(pedal + as_points((-length * np.cos(down), length * np.sin(down))))


def _other_side(longest: Floats, side: Floats, segment: str) -> Floats:
    if np.any(np.abs(side) > longest):
        missing = float(np.max(np.abs(side) - longest))
        raise UnreachablePositionError(
            f"knee_ahead_mm: {segment} is {missing:.0f} mm too short to put the knee there; allowed: a knee closer to "
            "where it is now; ask for a smaller change"
        )
    return np.asarray(np.sqrt(longest**2 - side**2))


def _with_saddle(position: Position, saddle_mm: Floats) -> Position:
    height = np.hypot(saddle_mm[..., 0], saddle_mm[..., 1])
    moved = replace(position, saddle_height_mm=height, saddle_setback_mm=-saddle_mm[..., 0])
    hip_position_mm(moved)
    return moved
