"""What effort and the saddle's fore-aft place do to the useful push: a teaching model on a published record.

The record gives the whole force of the foot on the pedal. From it the torque is taken that the weight
of the leg does by itself as the leg rises and falls; the rest grows with effort, and turns with the
leg about the bottom bracket when the saddle moves. Gravity does neither.
"""

from dataclasses import dataclass, replace

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.body import LegSegments, leg_segments
from pedalwright.errors import checked
from pedalwright.force import both_legs_torque_nm, crank_torque_nm, mean_over_turn, resolve_on_crank
from pedalwright.leg_weight import leg_weight_torque_nm
from pedalwright.pedal_angle import PeriodicCurve, fourier_curve
from pedalwright.position import Leg, Position, hip_position_mm
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import knee_over_pedal_mm

SAMPLES = 360
"""Crank angles in one turn, one a degree."""


TEACHING_LEG = Leg(thigh_length_mm=428.75, shank_length_mm=430.5, ankle_to_pedal_mm=150.0)
"""An invented rider of 1.75 m: thigh 0.245 and shank 0.246 of stature (`drillis_contini_1966`); the foot is assumed."""

TEACHING_SEGMENTS = leg_segments(
    70.0, thigh_length_mm=428.75, shank_length_mm=430.5, ankle_to_ball_mm=150.0, table="winter_2009"
)
"""The same rider at 70 kg. This table's foot ends at the ball, which stands over the pedal axle here."""

TEACHING_POSITION = Position(
    saddle_height_mm=735.0, saddle_setback_mm=198.0, crank_length_mm=170.0, hip_ahead_of_saddle_mm=40.0
)
"""An invented position in which the knee stands plumb over the pedal axle with the crank forward."""


@dataclass(frozen=True)
class LeverStroke:
    """One turn of a leg whose effort and saddle place were chosen; curves end in the crank angle, one a degree.

    Parameters
    ----------
    crank_angle_deg, pedal_angle_deg : numpy.ndarray
        Right crank, and tilt of the pedal under the turned foot, toe down positive. [°]
    forward_force_n, up_force_n : numpy.ndarray
        Force of the foot on the pedal. [N]
    tangential_force_n, radial_force_n, resultant_force_n : numpy.ndarray
        The same force seen from the crank. [N]
    leg_weight_torque_nm, right_torque_nm, both_legs_torque_nm : numpy.ndarray
        Torque of the leg's weight alone, of the right leg, and of both legs on opposed cranks. [N·m]
    knee_over_pedal_mm : numpy.ndarray
        Knee ahead of the pedal axle with the crank forward. [mm]
    leg_turn_deg : numpy.ndarray
        Backward turn of the line from bottom bracket to hip. [°]

    Examples
    --------
    >>> lever_stroke(200.0, 20.0).leg_turn_deg.round(2).item()
    1.58
    """

    crank_angle_deg: Floats
    pedal_angle_deg: Floats
    forward_force_n: Floats
    up_force_n: Floats
    tangential_force_n: Floats
    radial_force_n: Floats
    resultant_force_n: Floats
    leg_weight_torque_nm: Floats
    right_torque_nm: Floats
    both_legs_torque_nm: Floats
    knee_over_pedal_mm: Floats
    leg_turn_deg: Floats


def hip_line_angle_deg(position: Position) -> Floats:
    """Angle of the line from bottom bracket to hip behind the vertical.

    Parameters
    ----------
    position : Position
        Contact points; arrays describe many positions.

    Returns
    -------
    numpy.ndarray
        Angle, positive with the hip behind the bottom bracket. [°]

    Raises
    ------
    OutOfRangeError
        If the position is not one (see `Position`).

    Notes
    -----
    Stated by this package.

    Examples
    --------
    >>> hip_line_angle_deg(Position(500.0, 300.0, 170.0, hip_above_saddle_mm=0.0)).round(4).item()
    36.8699
    """
    hip = hip_position_mm(position)
    return np.asarray(np.degrees(np.arctan2(-hip[..., 0], hip[..., 1])))


def turned_with_the_leg(pedal_angle: PeriodicCurve, leg_turn_deg: Numbers) -> PeriodicCurve:
    """Pedal angle of a foot that keeps its place in the leg while the whole leg turns about the bottom bracket.

    Parameters
    ----------
    pedal_angle : PeriodicCurve
        Pedal angle before the turn, toe down positive. [°]
    leg_turn_deg : array_like
        Backward turn of the line from bottom bracket to hip. [°]

    Returns
    -------
    PeriodicCurve
        Pedal angle after it: reached that much earlier in the turn, and toe up by as much. [°]

    Raises
    ------
    OutOfRangeError
        If the turn is not a finite number.

    Notes
    -----
    Geometry of a turned plane; exact.

    Examples
    --------
    >>> from pedalwright.pedal_angle import sinusoid_curve
    >>> turned_with_the_leg(sinusoid_curve(5.0, 20.0, 0.0), 2.0).at(88.0).round(6).item()
    23.0
    """
    turn = checked("leg_turn_deg", leg_turn_deg)[..., None]
    count = 2 * pedal_angle.cosine.shape[-1] + 2
    return fourier_curve(pedal_angle.at(np.arange(count) * (360 / count) + turn) - turn)


def lever_stroke(
    effort_w: Numbers,
    saddle_back_mm: Numbers = 0.0,
    *,
    cadence_rpm: Numbers = 90.0,
    leg: Leg = TEACHING_LEG,
    position: Position = TEACHING_POSITION,
    segments: LegSegments = TEACHING_SEGMENTS,
) -> LeverStroke:
    """Pedal force of a rider at a chosen effort, with the saddle moved back or forward.

    Parameters
    ----------
    effort_w : array_like
        Mean power of both legs together; above 0. [W]
    saddle_back_mm : array_like
        How far the saddle goes back from `position` (negative: forward), at the same saddle height. [mm]
    cadence_rpm : array_like
        Turns a minute; above 0. It says what torque the effort needs and nothing else. [rpm]
    leg, position : Leg, Position
        The rider and the position the saddle is moved from.
    segments : LegSegments
        Masses of one leg; by default those of a rider of 70 kg.

    Returns
    -------
    LeverStroke
        Forces, torques and the knee's place over the pedal, one value a degree of crank angle.

    Raises
    ------
    OutOfRangeError
        If effort or cadence is not above 0.
    UnreachablePositionError
        If the leg cannot follow the pedal in the moved position.

    Notes
    -----
    *Teaching model*. Kept: the recorded pattern of `park_caldwell_umberger_2022` (15 riders, about 30 W a
    leg, `park_caldwell_2021`); the leg's weight by virtual work; the mean power. The record without the
    leg's weight grows in proportion to effort, and turns about the bottom bracket by as much as the line
    from there to the hip turns, foot included. Left out: the swing of the leg, which grows with the
    square of cadence; that riders change their pattern with effort and cadence; movement of the pelvis;
    any new habit after the saddle has moved. With a leg of no weight the model is a pure turn: same
    forces, same work and same index of effectiveness, earlier by the angle turned.

    References
    ----------
    park_caldwell_umberger_2022
    park_caldwell_2021
    kautz_hull_1993

    Examples
    --------
    >>> stroke = lever_stroke(200.0, 20.0)
    >>> float((2 * stroke.right_torque_nm.mean() * 90 * 2 * np.pi / 60).round(6))
    200.0
    """
    effort = checked("effort_w", effort_w, above=0)[..., None]
    cadence = checked("cadence_rpm", cadence_rpm, above=0)[..., None]
    back = checked("saddle_back_mm", saddle_back_mm)
    moved = replace(position, saddle_setback_mm=np.asarray(position.saddle_setback_mm) + back)
    turn = np.asarray(hip_line_angle_deg(moved) - hip_line_angle_deg(position))
    crank_angle: Floats = np.arange(float(SAMPLES)) * (360 / SAMPLES)
    in_record = crank_angle + turn[..., None]
    foot = recorded_pedal_angle()
    turned_foot = turned_with_the_leg(foot, turn)
    recorded = resolve_on_crank(*recorded_pedal_force(crank_angle_deg=in_record), in_record)
    crank_m = _per_rider(checked("crank_length_mm", position.crank_length_mm, above=0)) / 1000
    weight_then = leg_weight_torque_nm(leg, position, foot, segments, in_record)
    weight_now = leg_weight_torque_nm(leg, moved, turned_foot, segments, crank_angle)
    needed_torque = effort / (cadence * 2 * np.pi / 60) / 2
    recorded_torque = recorded.tangential_force_n * crank_m
    growth = needed_torque / mean_over_turn(recorded_torque)[..., None]
    tangential = (weight_now + growth * (recorded_torque - weight_then)) / crank_m
    radial = np.broadcast_to(growth * recorded.radial_force_n, tangential.shape)
    theta = np.radians(crank_angle)
    right = crank_torque_nm(tangential, 1000 * crank_m)
    return LeverStroke(
        crank_angle_deg=crank_angle,
        pedal_angle_deg=turned_foot.at(crank_angle),
        forward_force_n=tangential * np.cos(theta) + radial * np.sin(theta),
        up_force_n=radial * np.cos(theta) - tangential * np.sin(theta),
        tangential_force_n=tangential,
        radial_force_n=radial,
        resultant_force_n=np.hypot(tangential, radial),
        leg_weight_torque_nm=np.broadcast_to(weight_now, tangential.shape),
        right_torque_nm=right,
        both_legs_torque_nm=both_legs_torque_nm(right),
        knee_over_pedal_mm=knee_over_pedal_mm(leg, moved, turned_foot),
        leg_turn_deg=turn,
    )


def peak_angle_deg(values: Numbers) -> Floats:
    """Crank angle at which a sampled curve is greatest, to a fraction of a sample.

    Parameters
    ----------
    values : array_like, shape (..., n)
        Curve over one turn, uniform from the top, without a repeated end point. [any unit]

    Returns
    -------
    numpy.ndarray
        Angle of the greatest value, from the parabola through the three highest neighbours. [°]

    Raises
    ------
    OutOfRangeError
        If there are fewer than three samples.

    Notes
    -----
    Stated by this package.

    Examples
    --------
    >>> turn = np.radians(np.arange(360.0))
    >>> peak_angle_deg(np.cos(turn - np.radians(103.4))).round(2).item()
    103.4
    """
    curve = checked("values", values)
    count = curve.shape[-1] if curve.ndim else 0
    checked("samples", count, at_least=3, advice="give a whole turn of samples")
    top = np.argmax(curve, axis=-1)[..., None]
    before, at, after = (np.take_along_axis(curve, (top + i) % count, axis=-1)[..., 0] for i in (-1, 0, 1))
    bend = before - 2 * at + after
    shift = np.where(bend == 0, 0.0, (before - after) / (2 * np.where(bend == 0, 1.0, bend)))
    return np.asarray(np.mod((top[..., 0] + shift) * (360 / count), 360))


def _per_rider(value: Floats) -> Floats:
    return np.asarray(value)[..., None]
