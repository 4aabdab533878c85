"""The leg around the crank circle: joint centres and joint angles."""

from dataclasses import dataclass

import numpy as np

from pedalwright import _lengths
from pedalwright._leg_motion import derivable, leg_motion
from pedalwright._links import Pair, as_points, close_links, leg_angles_deg, require_bent
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import PELVIS_FORWARD_TILT_DEG, TRUNK_ANGLE_DEG
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.foot_on_pedal import ankle_to_pedal
from pedalwright.motion import Motion
from pedalwright.pedal_angle import PeriodicCurve, constant_curve, fourier_curve
from pedalwright.position import Leg, Position, hip_position_mm


@dataclass(frozen=True)
class Stroke:
    """The leg at each crank angle; the last axis of the angles, and the last but one of the points, is the crank angle.

    Parameters
    ----------
    crank_angle_deg, pedal_angle_deg : numpy.ndarray
        Crank angle and pedal angle. [°]
    hip_mm, knee_mm, ankle_mm, pedal_mm : numpy.ndarray, shape (..., crank angles, 2)
        Joint centres and pedal axle (x, y) from the bottom bracket. [mm]
    thigh_angle_deg, shank_angle_deg, foot_angle_deg : numpy.ndarray
        Directions hip to knee, knee to ankle, ankle to pedal axle, from forward, counter-clockwise. [°]
    pelvis_forward_tilt_deg, trunk_angle_deg : numpy.ndarray, last axis of length 1
        Roll of the pelvis from upright, trunk above the horizontal. [°]
    motion : Motion or None
        Angular rates, if a cadence was given.

    Examples
    --------
    >>> stroke = solve_stroke(Leg(428.75, 430.5, 150), Position(730, 200, 170))
    >>> stroke.knee_mm.shape
    (72, 2)
    """

    crank_angle_deg: Floats
    pedal_angle_deg: Floats
    hip_mm: Floats
    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats
    thigh_angle_deg: Floats
    shank_angle_deg: Floats
    foot_angle_deg: Floats
    pelvis_forward_tilt_deg: Floats
    trunk_angle_deg: Floats
    motion: Motion | None = None

    @property
    def hip_flexion_deg(self) -> Floats:
        """Thigh against pelvis, in °; 0 as in upright standing. Counted on beyond 180, which no hip can reach."""
        return np.asarray(self.thigh_angle_deg + 90 + self.pelvis_forward_tilt_deg)

    @property
    def trunk_thigh_angle_deg(self) -> Floats:
        """Included angle shoulder – hip – knee, in °: what is left open at the hip."""
        return np.asarray(self.trunk_angle_deg - self.thigh_angle_deg)

    @property
    def knee_flexion_deg(self) -> Floats:
        """180° minus the included angle of the knee, in °."""
        return np.asarray(self.thigh_angle_deg - self.shank_angle_deg)

    @property
    def ankle_plantar_flexion_deg(self) -> Floats:
        """Sole against shank, in °; 0 at a right angle, toe down positive."""
        return np.asarray(90 + self.pedal_angle_deg + self.shank_angle_deg)


def solve_stroke(
    leg: Leg,
    position: Position,
    crank_angle_deg: Numbers | None = None,
    pedal_angle_deg: Numbers | PeriodicCurve = 0.0,
    cadence_rpm: Numbers | None = None,
    *,
    pelvis_forward_tilt_deg: Numbers = PELVIS_FORWARD_TILT_DEG.value,
    trunk_angle_deg: Numbers = TRUNK_ANGLE_DEG.value,
) -> Stroke:
    """Follow a leg around the crank circle.

    Fields of ``leg`` and ``position``, cadence, tilt and trunk angle describe riders and positions and broadcast
    on the leading axes; the crank angle is the last axis of the results.

    Parameters
    ----------
    leg : Leg
        Lengths of the leg.
    position : Position
        Contact points.
    crank_angle_deg : array_like, shape (crank angles,), or None
        Crank angles, any finite values; None for every 5° from the top. [°]
    pedal_angle_deg : array_like or PeriodicCurve
        Pedal angle, toe down positive: one number, a curve of the module ``pedal_angle``, or values with the crank
        angle (or 1) on the last axis, −90 to 90. [°]
    cadence_rpm : array_like or None
        Cadence, above 0 and up to 300, to have the angular rates; the crank turns steadily. [1/min]
    pelvis_forward_tilt_deg : array_like
        Roll of the pelvis forward from upright standing, −60 to 120; the default is an assumption. [°]
    trunk_angle_deg : array_like
        Trunk, hip to shoulder, above the horizontal, −20 to 120. [°]

    Returns
    -------
    Stroke
        Joint centres, angles and, with a cadence, their exact rates.

    Raises
    ------
    OutOfRangeError
        If a value is out of range, or rates are asked for with pedal angles that are not evenly spaced over the turn.
    UnreachablePositionError
        If the leg cannot follow the pedal at some crank angle, or is straight where rates are asked for.

    Notes
    -----
    *Teaching model*: plane, fixed hip, hinge knee. Rates are exact for the given pedal-angle curve: the closure
    equation is derived by hand, the curve as a Fourier series.

    References
    ----------
    hull_jorge_1985
    redfield_hull_1986

    Examples
    --------
    >>> stroke = solve_stroke(Leg(428.75, 430.5, 150), Position(730, 200, 170), [0, 90, 180])
    >>> stroke.knee_flexion_deg.round(1).tolist()
    [111.7, 72.8, 34.9]
    """
    crank_angle = np.atleast_1d(
        checked("crank_angle_deg", np.arange(72) * 5.0 if crank_angle_deg is None else crank_angle_deg)
    )
    curve = _pedal_curve(pedal_angle_deg, crank_angle)
    pedal_angle = curve.at(crank_angle) if isinstance(curve, PeriodicCurve) else curve
    foot, slope = (_per_rider(value) for value in ankle_to_pedal(leg, position))
    thigh, shank, crank = _leg_and_crank(leg, position)
    hip = hip_position_mm(position)[..., None, :]
    toe = _toe_direction(pedal_angle, slope)
    links = close_links(hip[..., 0], hip[..., 1], thigh, shank, foot, crank, crank_angle, toe)
    thigh_angle, shank_angle = leg_angles_deg(links)
    tilt = _per_rider(checked("pelvis_forward_tilt_deg", pelvis_forward_tilt_deg, at_least=-60, at_most=120))
    trunk = _per_rider(checked("trunk_angle_deg", trunk_angle_deg, at_least=-20, at_most=120))
    motion = None
    if cadence_rpm is not None:
        cadence = _per_rider(checked("cadence_rpm", cadence_rpm, above=0, at_most=300))
        require_bent(links, crank_angle)
        motion = leg_motion(links, derivable(curve), crank_angle, (thigh, shank, foot, crank), cadence)
    points = (*thigh_angle.shape, 2)
    return Stroke(
        crank_angle_deg=crank_angle,
        pedal_angle_deg=np.broadcast_to(pedal_angle, points[:-1]),
        hip_mm=np.broadcast_to(hip, points),
        knee_mm=as_points(links.knee),
        ankle_mm=np.broadcast_to(as_points(links.ankle), points),
        pedal_mm=np.broadcast_to(as_points(links.pedal), points),
        thigh_angle_deg=thigh_angle,
        shank_angle_deg=shank_angle,
        foot_angle_deg=np.broadcast_to(-(pedal_angle + slope), points[:-1]),
        pelvis_forward_tilt_deg=tilt,
        trunk_angle_deg=trunk,
        motion=motion,
    )


def knee_over_pedal_mm(
    leg: Leg,
    position: Position,
    pedal_angle_deg: Numbers | PeriodicCurve = 0.0,
    *,
    front_of_knee_mm: Numbers = 0.0,
) -> Floats:
    """How far the knee is ahead of the pedal axle when the crank points forward.

    Parameters
    ----------
    leg : Leg
        Lengths of the leg.
    position : Position
        Contact points.
    pedal_angle_deg : array_like or PeriodicCurve
        Pedal angle when the crank points forward, one number a rider or a curve, −90 to 90. [°]
    front_of_knee_mm : array_like
        How far the landmark used (front of the kneecap, tibial tuberosity) lies ahead of the knee joint centre in
        this pose, −100 to 150; 0 for the joint centre. Name the landmark when you report the number. [mm]

    Returns
    -------
    numpy.ndarray
        Horizontal distance, positive with the knee ahead of the axle. [mm]

    Raises
    ------
    OutOfRangeError
        If a value is out of range.
    UnreachablePositionError
        If the leg cannot reach the pedal there.

    Notes
    -----
    *Teaching model*. A knee above the pedal keeps the shank upright and the push near the tangent; that it protects
    the knee has not been shown, and two studies of the setback disagree on the joint loads.

    References
    ----------
    bini_hume_lanferdini_vaz_2013
    menard_2020

    Examples
    --------
    >>> round(knee_over_pedal_mm(Leg(428.75, 430.5, 150), Position(730, 200, 170)).item(), 1)
    -8.8
    """
    if not isinstance(pedal_angle_deg, PeriodicCurve):
        pedal_angle_deg = _per_rider(checked("pedal_angle_deg", pedal_angle_deg))
    stroke = solve_stroke(leg, position, 90.0, pedal_angle_deg)
    front = _lengths.front_of_knee_mm(front_of_knee_mm)
    return np.asarray(stroke.knee_mm[..., 0, 0] - stroke.pedal_mm[..., 0, 0] + front)


def _per_rider(value: Floats) -> Floats:
    return np.asarray(value)[..., None]


def _toe_direction(pedal_angle_deg: Floats, slope_deg: Floats) -> Pair:
    """Direction from ankle to pedal axle; sums of angles spare sines of every rider at every crank angle."""
    pedal, slope = np.radians(pedal_angle_deg), np.radians(slope_deg)
    cosine = np.cos(pedal) * np.cos(slope) - np.sin(pedal) * np.sin(slope)
    return cosine, -(np.sin(pedal) * np.cos(slope) + np.cos(pedal) * np.sin(slope))


def _leg_and_crank(leg: Leg, position: Position) -> tuple[Floats, Floats, Floats]:
    thigh, shank = _lengths.thigh_mm(leg.thigh_length_mm), _lengths.shank_mm(leg.shank_length_mm)
    return _per_rider(thigh), _per_rider(shank), _per_rider(_lengths.crank_mm(position.crank_length_mm))


def _pedal_curve(pedal_angle: Numbers | PeriodicCurve, crank_angle: Floats) -> PeriodicCurve | Floats:
    if isinstance(pedal_angle, PeriodicCurve):
        return pedal_angle
    angles = checked("pedal_angle_deg", pedal_angle, at_least=-90, at_most=90)
    if angles.ndim == 0 or angles.shape[-1] == 1:
        return constant_curve(angles if angles.ndim == 0 else angles[..., 0])
    count = crank_angle.shape[-1]
    if angles.shape[-1] != count:
        raise OutOfRangeError(
            f"pedal_angle_deg: received {angles.shape[-1]} values on the last axis; allowed: 1 or {count}, one a crank "
            "angle; for one value a rider add a last axis of length 1"
        )
    evenly = count >= 3 and np.allclose(crank_angle, np.arange(count) * 360 / count)
    return fourier_curve(angles) if evenly else angles
