"""How the weight of a leg, by itself, turns the crank going down and holds it back coming up."""

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.body import LegSegments
from pedalwright.constants import STANDARD_GRAVITY_M_S2
from pedalwright.errors import checked
from pedalwright.pedal_angle import PeriodicCurve
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke


def leg_weight_torque_nm(
    leg: Leg, position: Position, pedal_angle: PeriodicCurve, segments: LegSegments, crank_angle_deg: Numbers
) -> Floats:
    """Torque with which the weight of one leg alone turns, or holds back, its crank.

    Parameters
    ----------
    leg : Leg
        Segment lengths; arrays describe many riders.
    position : Position
        Contact points; arrays describe many positions.
    pedal_angle : PeriodicCurve
        Tilt of the foot over the turn, toe down positive. [°]
    segments : LegSegments
        Masses of the leg and how far along each segment they lie; the lengths are those of `leg`.
    crank_angle_deg : array_like, shape (..., n)
        Crank angles. [°]

    Returns
    -------
    numpy.ndarray, shape (..., n)
        Torque, positive in the pedalling direction. Its mean over a turn is zero. [N·m]

    Raises
    ------
    OutOfRangeError
        If a length or mass is not a positive number.
    UnreachablePositionError
        If the leg cannot follow the pedal.

    Notes
    -----
    *Measured law*: virtual work. As the crank turns, the weight gives to the crank what the leg loses in
    height, so the torque is minus the slope of the leg's potential energy over the crank angle. Only the
    turning part of a pedal force can be found in this way; the radial part does no work. `force_parts` splits
    the whole force instead, for a leg limp at hip and knee and stiff at the ankle, so its turning part differs by
    what the ankle does, and need not come to zero over a turn.

    References
    ----------
    hull_jorge_1985
    kautz_hull_1993

    Examples
    --------
    >>> from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION, TEACHING_SEGMENTS
    >>> from pedalwright.pedal_angle import constant_curve
    >>> turn = np.arange(360.0)
    >>> torque = leg_weight_torque_nm(TEACHING_LEG, TEACHING_POSITION, constant_curve(0.0), TEACHING_SEGMENTS, turn)
    >>> bool(torque[90] > 0 > torque[270]), abs(torque.mean()).round(9).item()
    (True, 0.0)
    """
    stroke = solve_stroke(leg, position, crank_angle_deg, pedal_angle, cadence_rpm=60.0)
    assert stroke.motion is not None
    motion = stroke.motion
    thigh = _rise_m(leg.thigh_length_mm, stroke.thigh_angle_deg, motion.thigh_velocity_deg_s)
    shank = _rise_m(leg.shank_length_mm, stroke.shank_angle_deg, motion.shank_velocity_deg_s)
    foot = _rise_m(leg.ankle_to_pedal_mm, stroke.foot_angle_deg, motion.foot_velocity_deg_s)
    (thigh_kg, thigh_part), (shank_kg, shank_part), (foot_kg, foot_part) = (
        (_per_rider(part.mass_kg), _per_rider(part.com_from_proximal))
        for part in (segments.thigh, segments.shank, segments.foot)
    )
    climb = (
        thigh_kg * thigh_part * thigh
        + shank_kg * (thigh + shank_part * shank)
        + foot_kg * (thigh + shank + foot_part * foot)
    )
    return np.asarray(-STANDARD_GRAVITY_M_S2.value * climb)


def _rise_m(length_mm: Numbers, angle_deg: Floats, velocity_at_60_rpm_deg_s: Floats) -> Floats:
    """Rise of a segment's far end over its near end, in metres per radian of crank angle."""
    length_m = _per_rider(checked("segment length in mm", length_mm, above=0)) / 1000
    per_radian = np.radians(velocity_at_60_rpm_deg_s) / (2 * np.pi)
    return np.asarray(length_m * np.cos(np.radians(angle_deg)) * per_radian)


def _per_rider(value: Floats) -> Floats:
    return np.asarray(value)[..., None]
