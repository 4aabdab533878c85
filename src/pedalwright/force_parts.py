"""Why the rising leg presses down: the pedal force split into what weight, inertia and muscles make of it."""

from dataclasses import dataclass

import numpy as np

from pedalwright._leg_states import stroke_states
from pedalwright._links import Pair
from pedalwright._newton_euler import Segments, loads
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import STANDARD_GRAVITY_M_S2
from pedalwright.errors import UnreachablePositionError, checked
from pedalwright.inertia import LegInertia
from pedalwright.stroke import Stroke


@dataclass(frozen=True)
class PedalForceParts:
    """Parts of the force of the foot on the pedal; forward and up parts each add up to the whole.

    Parameters
    ----------
    weight_forward_force_n, weight_up_force_n : numpy.ndarray
        What the weight of the leg presses on the pedal. [N]
    inertial_forward_force_n, inertial_up_force_n : numpy.ndarray
        What its acceleration adds. [N]
    muscular_forward_force_n, muscular_up_force_n : numpy.ndarray
        What is left for the muscles of hip and knee. [N]

    Examples
    --------
    >>> len(PedalForceParts.__dataclass_fields__)
    6
    """

    weight_forward_force_n: Floats
    weight_up_force_n: Floats
    inertial_forward_force_n: Floats
    inertial_up_force_n: Floats
    muscular_forward_force_n: Floats
    muscular_up_force_n: Floats


def pedal_force_parts(
    stroke: Stroke,
    inertia: LegInertia,
    forward_force_n: Numbers,
    up_force_n: Numbers,
    *,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2.value,
) -> PedalForceParts:
    """Split the force of the foot on the pedal into the parts of weight, inertia and muscles.

    Parameters
    ----------
    stroke : Stroke
        The leg around the turn, solved with a cadence.
    inertia : LegInertia
        Masses; leading axes broadcast with the riders of the stroke.
    forward_force_n, up_force_n : array_like, shape (..., crank angles) or one number
        Force of the foot on the pedal. [N]
    gravity_m_s2 : float
        Acceleration of free fall, 0 to 20. [m/s²]

    Returns
    -------
    PedalForceParts
        The parts. [N]

    Raises
    ------
    OutOfRangeError
        If the stroke has no rates, or a value is out of range.
    UnreachablePositionError
        If hip, knee and pedal lie in one line, where a limp leg stands like a strut.

    Notes
    -----
    *Teaching model*: weight and inertia are what the pedal would carry with hip and knee limp and the ankle held
    stiff, on the same course. So a leg that is lifted too little by its own muscles presses on the rising pedal, and
    the other leg pays for it; that is no fault of technique.

    References
    ----------
    kautz_hull_1993

    Examples
    --------
    >>> from pedalwright.position import Leg, Position
    >>> from pedalwright.stroke import solve_stroke
    >>> stroke = solve_stroke(Leg(428.75, 430.5, 150), Position(730, 200, 170), [270.0], cadence_rpm=60)
    >>> inertia = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
    >>> parts = pedal_force_parts(stroke, inertia, 0.0, -45.8)
    >>> bool(parts.weight_up_force_n[0] < -45.8)
    True
    """
    gravity = checked("gravity_m_s2", gravity_m_s2, at_least=0, at_most=20).item()
    segments = stroke_states(stroke, inertia)
    thigh, shank, foot = segments
    none = np.zeros(())
    resting: Segments = (
        thigh._replace(rate=none, change=none),
        shank._replace(rate=none, change=none),
        foot._replace(rate=none, change=none),
    )
    weight = _force_of_limp_leg(resting, gravity)
    inertial = _force_of_limp_leg(segments, 0.0)
    forward, up = checked("forward_force_n", forward_force_n), checked("up_force_n", up_force_n)
    return PedalForceParts(*weight, *inertial, forward - weight[0] - inertial[0], up - weight[1] - inertial[1])


def _force_of_limp_leg(segments: Segments, gravity: float) -> Pair:
    """Pedal force at which the moments of hip and knee are zero."""
    none = np.zeros(()), np.zeros(())
    hip_moment, knee_moment, _ = loads(segments, none, gravity, none, none).moments
    thigh, shank, foot = segments
    knee_x = shank.length * shank.along[0] + foot.length * foot.along[0]
    knee_y = shank.length * shank.along[1] + foot.length * foot.along[1]
    hip_x, hip_y = knee_x + thigh.length * thigh.along[0], knee_y + thigh.length * thigh.along[1]
    opening = knee_x * hip_y - knee_y * hip_x
    if np.any(np.abs(opening) < 1e-6 * np.hypot(knee_x, knee_y) * np.hypot(hip_x, hip_y)):
        raise UnreachablePositionError(
            "hip, knee and pedal lie in one line at some crank angle; allowed: a knee off the line from hip to pedal; "
            "lower the saddle a little or leave that crank angle out"
        )
    forward = (knee_x * hip_moment - hip_x * knee_moment) / opening
    up = (knee_y * hip_moment - hip_y * knee_moment) / opening
    return np.asarray(forward), np.asarray(up)
