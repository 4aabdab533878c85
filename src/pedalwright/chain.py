"""The planar closed chain hip - knee - ankle - pedal - crank: geometry and its exact derivatives."""

from typing import NamedTuple

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import UnreachablePositionError, checked


class Chain(NamedTuple):
    """Joint centres and absolute segment angles of the closed chain."""

    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats
    hip_ankle_mm: Floats
    thigh_angle_deg: Floats
    shank_angle_deg: Floats
    foot_angle_deg: Floats


class ChainRates(NamedTuple):
    """First and second time derivatives of the thigh and shank angles, in radians."""

    thigh_rad_s: Floats
    shank_rad_s: Floats
    thigh_rad_s2: Floats
    shank_rad_s2: Floats


def solve_chain(
    hip_x_mm: Numbers,
    hip_y_mm: Numbers,
    thigh_length_mm: Numbers,
    shank_length_mm: Numbers,
    ankle_to_pedal_mm: Numbers,
    crank_length_mm: Numbers,
    crank_angle_deg: Numbers,
    foot_angle_deg: Numbers,
) -> Chain:
    """Close the chain: knee and ankle for a hip, a crank angle and a foot direction."""
    hip = _points(checked("hip_x_mm", hip_x_mm), checked("hip_y_mm", hip_y_mm))
    thigh = checked("thigh_length_mm", thigh_length_mm, above=0)
    shank = checked("shank_length_mm", shank_length_mm, above=0)
    crank_angle = checked("crank_angle_deg", crank_angle_deg)
    foot_angle = checked("foot_angle_deg", foot_angle_deg)
    theta = np.radians(crank_angle)
    crank = checked("crank_length_mm", crank_length_mm, above=0)
    foot = checked("ankle_to_pedal_mm", ankle_to_pedal_mm, above=0)
    pedal = _points(crank * np.sin(theta), crank * np.cos(theta))
    ankle = pedal - foot[..., None] * direction(np.radians(foot_angle))
    span = ankle - hip
    distance = np.hypot(span[..., 0], span[..., 1])
    _require_reach(distance, thigh, shank, crank_angle)
    opening = (thigh**2 + distance**2 - shank**2) / (2 * thigh * distance)
    thigh_angle = np.arctan2(span[..., 1], span[..., 0]) + np.arccos(np.clip(opening, -1, 1))
    knee = hip + thigh[..., None] * direction(thigh_angle)
    lower = ankle - knee
    shank_angle = np.arctan2(lower[..., 1], lower[..., 0])
    full = np.broadcast_shapes(knee.shape, ankle.shape, pedal.shape)
    return Chain(
        np.broadcast_to(knee, full),
        np.broadcast_to(ankle, full),
        np.broadcast_to(pedal, full),
        distance,
        np.degrees(thigh_angle),
        np.degrees(shank_angle),
        np.broadcast_to(foot_angle, full[:-1]),
    )


def chain_rates(
    thigh_angle_rad: Floats,
    shank_angle_rad: Floats,
    thigh_length: Floats,
    shank_length: Floats,
    ankle_velocity: Floats,
    ankle_acceleration: Floats,
) -> ChainRates:
    """Angular velocities and accelerations of thigh and shank that carry the ankle as given."""
    along_thigh, along_shank = direction(thigh_angle_rad), direction(shank_angle_rad)
    fold = np.sin(shank_angle_rad - thigh_angle_rad)
    thigh_rate = _dot(ankle_velocity, along_shank) / (thigh_length * fold)
    shank_rate = -_dot(ankle_velocity, along_thigh) / (shank_length * fold)
    remaining = (
        ankle_acceleration
        + (thigh_length * thigh_rate**2)[..., None] * along_thigh
        + (shank_length * shank_rate**2)[..., None] * along_shank
    )
    return ChainRates(
        thigh_rate,
        shank_rate,
        _dot(remaining, along_shank) / (thigh_length * fold),
        -_dot(remaining, along_thigh) / (shank_length * fold),
    )


def direction(angle_rad: Floats) -> Floats:
    """Unit vector at an angle from forward, counter-clockwise, as seen from the rider's right."""
    return np.stack([np.cos(angle_rad), np.sin(angle_rad)], axis=-1)


def across(angle_rad: Floats) -> Floats:
    """Unit vector a quarter turn counter-clockwise from ``direction``."""
    return np.stack([-np.sin(angle_rad), np.cos(angle_rad)], axis=-1)


def _points(x: Floats, y: Floats) -> Floats:
    return np.stack(np.broadcast_arrays(x, y), axis=-1)


def _dot(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1])


def _require_reach(distance: Floats, thigh: Floats, shank: Floats, crank_angle_deg: Floats) -> None:
    longest, shortest = thigh + shank, np.abs(thigh - shank)
    tolerance = 1e-9 * longest
    missing = distance - longest
    folded = np.maximum(shortest, 1e-6 * longest) - distance
    for gap, what, advice in (
        (
            missing,
            "hip and ankle lie {far:.1f} mm further apart than thigh and shank together reach ({limit:.1f} mm)",
            "lower the saddle, move it forward, shorten the crank or point the toe further down",
        ),
        (
            folded,
            "hip and ankle come {far:.1f} mm closer than the folded leg allows ({limit:.1f} mm)",
            "raise the saddle, move it back or shorten the crank",
        ),
    ):
        if np.any(gap > tolerance):
            gaps, angles, limits = np.broadcast_arrays(gap, crank_angle_deg, longest if gap is missing else shortest)
            worst = np.unravel_index(int(np.argmax(gaps)), gaps.shape)
            cases = int(np.sum(gaps > tolerance))
            raise UnreachablePositionError(
                f"the leg cannot follow the pedal: at crank angle {np.mod(angles[worst], 360):.0f}° "
                + what.format(far=gaps[worst], limit=limits[worst])
                + (f" (the worst of {cases} such places)" if cases > 1 else "")
                + f"; {advice}"
            )
