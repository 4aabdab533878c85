"""The leg around the crank circle: joint centres, joint angles, velocities and accelerations."""

from dataclasses import dataclass

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.chain import Chain, across, chain_rates, direction, solve_chain
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.pedal_angle import PeriodicCurve, constant_curve, fourier_curve
from pedalwright.position import Leg, Position, ankle_to_pedal, hip_position_mm

__all__ = ["Motion", "Stroke", "knee_over_pedal_mm", "solve_chain", "solve_stroke"]


@dataclass(frozen=True)
class Motion:
    """Velocities and accelerations at a steady cadence."""

    thigh_velocity_deg_s: Floats
    shank_velocity_deg_s: Floats
    foot_velocity_deg_s: Floats
    thigh_acceleration_deg_s2: Floats
    shank_acceleration_deg_s2: Floats
    foot_acceleration_deg_s2: Floats

    @property
    def hip_flexion_velocity_deg_s(self) -> Floats:
        """Rate of hip flexion, the pelvis being still."""
        return self.thigh_velocity_deg_s

    @property
    def knee_flexion_velocity_deg_s(self) -> Floats:
        """Rate of knee flexion."""
        return self.thigh_velocity_deg_s - self.shank_velocity_deg_s

    @property
    def ankle_plantar_flexion_velocity_deg_s(self) -> Floats:
        """Rate of plantar flexion."""
        return self.shank_velocity_deg_s - self.foot_velocity_deg_s


@dataclass(frozen=True)
class Stroke:
    """The leg at each crank angle; angle arrays end in the crank angle, point arrays in (x, y) after it."""

    crank_angle_deg: Floats
    pedal_angle_deg: Floats
    hip_mm: Floats
    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats
    thigh_angle_deg: Floats
    shank_angle_deg: Floats
    foot_angle_deg: Floats
    hip_flexion_deg: Floats
    trunk_thigh_angle_deg: Floats
    knee_flexion_deg: Floats
    ankle_plantar_flexion_deg: Floats
    motion: Motion | None = None


def solve_stroke(
    leg: Leg,
    position: Position,
    crank_angle_deg: Numbers | None = None,
    pedal_angle_deg: Numbers | PeriodicCurve = 0.0,
    cadence_rpm: Numbers | None = None,
    *,
    pelvis_forward_tilt_deg: Numbers = 20.0,
    trunk_angle_deg: Numbers = 45.0,
) -> Stroke:
    """Follow a leg around the crank circle."""
    crank_angle = checked("crank_angle_deg", np.arange(72) * 5.0 if crank_angle_deg is None else crank_angle_deg)
    crank_angle = np.atleast_1d(crank_angle)
    curve = _pedal_curve(pedal_angle_deg, crank_angle)
    pedal_angle = curve.at(crank_angle) if isinstance(curve, PeriodicCurve) else curve
    foot, slope = ankle_to_pedal(leg, position)
    thigh = _per_rider(checked("thigh_length_mm", leg.thigh_length_mm, above=0))
    shank = _per_rider(checked("shank_length_mm", leg.shank_length_mm, above=0))
    crank = _per_rider(checked("crank_length_mm", position.crank_length_mm, above=0))
    hip = hip_position_mm(position)[..., None, :]
    foot_angle = -(pedal_angle + _per_rider(slope))
    chain = solve_chain(hip[..., 0], hip[..., 1], thigh, shank, _per_rider(foot), crank, crank_angle, foot_angle)
    trunk = _per_rider(checked("trunk_angle_deg", trunk_angle_deg))
    tilt = _per_rider(checked("pelvis_forward_tilt_deg", pelvis_forward_tilt_deg))
    motion = None
    if cadence_rpm is not None:
        if not isinstance(curve, PeriodicCurve):
            raise OutOfRangeError(
                "pedal_angle_deg: received one value a crank angle, unevenly spaced; allowed with a cadence: "
                "a constant, a PeriodicCurve or values at evenly spaced angles from 0; build a curve from the values"
            )
        cadence = _per_rider(checked("cadence_rpm", cadence_rpm, above=0))
        motion = _motion(chain, curve, crank_angle, thigh, shank, _per_rider(foot), crank, cadence)
    return Stroke(
        crank_angle_deg=crank_angle,
        pedal_angle_deg=np.broadcast_to(pedal_angle, chain.thigh_angle_deg.shape),
        hip_mm=np.broadcast_to(hip, chain.knee_mm.shape),
        knee_mm=chain.knee_mm,
        ankle_mm=chain.ankle_mm,
        pedal_mm=chain.pedal_mm,
        thigh_angle_deg=chain.thigh_angle_deg,
        shank_angle_deg=chain.shank_angle_deg,
        foot_angle_deg=chain.foot_angle_deg,
        hip_flexion_deg=chain.thigh_angle_deg + 90 + tilt,
        trunk_thigh_angle_deg=trunk - chain.thigh_angle_deg,
        knee_flexion_deg=chain.thigh_angle_deg - chain.shank_angle_deg,
        ankle_plantar_flexion_deg=90 + pedal_angle + chain.shank_angle_deg,
        motion=motion,
    )


def knee_over_pedal_mm(
    leg: Leg,
    position: Position,
    pedal_angle_deg: Numbers | PeriodicCurve = 0.0,
    *,
    front_of_knee_mm: Numbers = 0.0,
) -> Floats:
    """How far the knee is ahead of the pedal axle when the crank points forward."""
    stroke = solve_stroke(leg, position, 90.0, pedal_angle_deg)
    offset = stroke.knee_mm[..., 0, 0] - stroke.pedal_mm[..., 0, 0]
    return np.asarray(offset + checked("front_of_knee_mm", front_of_knee_mm))


def _per_rider(value: Floats) -> Floats:
    return np.asarray(value)[..., None]


def _pedal_curve(pedal_angle: Numbers | PeriodicCurve, crank_angle: Floats) -> PeriodicCurve | Floats:
    if isinstance(pedal_angle, PeriodicCurve):
        return pedal_angle
    angles = checked("pedal_angle_deg", pedal_angle)
    if angles.ndim == 0 or angles.shape[-1] == 1:
        return constant_curve(angles if angles.ndim == 0 else angles[..., 0])
    count = crank_angle.shape[-1]
    if angles.shape[-1] == count and crank_angle.ndim == 1 and np.allclose(crank_angle, np.arange(count) * 360 / count):
        return fourier_curve(angles)
    return angles


def _motion(
    chain: Chain,
    curve: PeriodicCurve,
    crank_angle: Floats,
    thigh: Floats,
    shank: Floats,
    foot: Floats,
    crank: Floats,
    cadence: Floats,
) -> Motion:
    turning = cadence * (2 * np.pi / 60)
    theta, phi = np.radians(crank_angle), np.radians(chain.foot_angle_deg)
    foot_rate = -turning * np.radians(curve.at(crank_angle, 1))
    foot_rate_change = -(turning**2) * np.radians(curve.at(crank_angle, 2))
    tangent = np.stack([np.cos(theta), -np.sin(theta)], axis=-1)
    outward = np.stack([np.sin(theta), np.cos(theta)], axis=-1)
    ankle_velocity = (crank * turning)[..., None] * tangent - (foot * foot_rate)[..., None] * across(phi)
    ankle_acceleration = (
        -(crank * turning**2)[..., None] * outward
        - (foot * foot_rate_change)[..., None] * across(phi)
        + (foot * foot_rate**2)[..., None] * direction(phi)
    )
    rates = chain_rates(
        np.radians(chain.thigh_angle_deg),
        np.radians(chain.shank_angle_deg),
        thigh,
        shank,
        ankle_velocity,
        ankle_acceleration,
    )
    shape = rates.thigh_rad_s.shape
    return Motion(
        np.degrees(rates.thigh_rad_s),
        np.degrees(rates.shank_rad_s),
        np.broadcast_to(np.degrees(foot_rate), shape),
        np.degrees(rates.thigh_rad_s2),
        np.degrees(rates.shank_rad_s2),
        np.broadcast_to(np.degrees(foot_rate_change), shape),
    )
