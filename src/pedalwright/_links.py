"""The closed chain in components: closing it, the rates of its angles, and the error when it cannot be closed.

The rates follow from the closure equation derived once and twice, each segment's unknown found by projecting the
other segment away.
"""

from typing import NamedTuple

import numpy as np

from pedalwright._typing import Floats
from pedalwright.errors import UnreachablePositionError

Pair = tuple[Floats, Floats]
STRAIGHT = 1e-6


class Links(NamedTuple):
    """The closed chain in its x and y components: places, and unit vectors along the links."""

    ankle: Pair
    knee: Pair
    pedal: Pair
    thigh: Pair
    shank: Pair
    foot: Pair
    crank: Pair


class ChainRates(NamedTuple):
    """Angular velocities and accelerations of thigh and shank."""

    thigh_rad_s: Floats
    shank_rad_s: Floats
    thigh_rad_s2: Floats
    shank_rad_s2: Floats


def close_links(
    hip_x: Floats,
    hip_y: Floats,
    thigh_length: Floats,
    shank_length: Floats,
    ankle_to_pedal: Floats,
    crank_length: Floats,
    crank_angle_deg: Floats,
    foot: Pair,
) -> Links:
    """Close the chain for checked values; ``foot`` is the unit vector from ankle to pedal axle."""
    theta = np.radians(crank_angle_deg)
    crank = np.sin(theta), np.cos(theta)
    pedal = crank_length * crank[0], crank_length * crank[1]
    ankle = pedal[0] - ankle_to_pedal * foot[0], pedal[1] - ankle_to_pedal * foot[1]
    span_x, span_y = ankle[0] - hip_x, ankle[1] - hip_y
    squared = span_x * span_x + span_y * span_y
    _require_reach(squared, thigh_length, shank_length, crank_angle_deg)
    # Law of cosines: the thigh's shares along the line from hip to ankle and off it, each over that line's length.
    inverse = 1 / squared
    along = (inverse * (thigh_length**2 - shank_length**2) + 1) / (2 * thigh_length)
    off = np.sqrt(np.maximum(inverse - along * along, 0))
    thigh = along * span_x - off * span_y, along * span_y + off * span_x
    knee = thigh_length * thigh[0] + hip_x, thigh_length * thigh[1] + hip_y
    shank = (ankle[0] - knee[0]) / shank_length, (ankle[1] - knee[1]) / shank_length
    return Links(ankle, knee, pedal, thigh, shank, foot, crank)


def link_rates(
    links: Links,
    thigh_length: Floats,
    shank_length: Floats,
    ankle_velocity: tuple[Floats, Floats],
    ankle_acceleration: tuple[Floats, Floats],
) -> ChainRates:
    """Angular rates of thigh and shank that carry the ankle as given, the hip standing still."""
    (thigh_x, thigh_y), (shank_x, shank_y) = links.thigh, links.shank
    fold = thigh_x * shank_y - thigh_y * shank_x
    thigh_share, shank_share = 1 / (thigh_length * fold), -1 / (shank_length * fold)
    thigh_rate = (ankle_velocity[0] * shank_x + ankle_velocity[1] * shank_y) * thigh_share
    shank_rate = (ankle_velocity[0] * thigh_x + ankle_velocity[1] * thigh_y) * shank_share
    thigh_pull, shank_pull = thigh_length * thigh_rate * thigh_rate, shank_length * shank_rate * shank_rate
    left_x = ankle_acceleration[0] + thigh_pull * thigh_x + shank_pull * shank_x
    left_y = ankle_acceleration[1] + thigh_pull * thigh_y + shank_pull * shank_y
    return ChainRates(
        thigh_rate,
        shank_rate,
        (left_x * shank_x + left_y * shank_y) * thigh_share,
        (left_x * thigh_x + left_y * thigh_y) * shank_share,
    )


def require_bent(links: Links, crank_angle_deg: Floats) -> None:
    """Refuse a straight leg, whose joints would have to move infinitely fast."""
    fold = np.abs(links.thigh[0] * links.shank[1] - links.thigh[1] * links.shank[0])
    if np.any(fold < STRAIGHT):
        folds, angles = np.broadcast_arrays(fold, crank_angle_deg)
        where = np.mod(angles.ravel()[int(np.argmin(folds))], 360)
        raise UnreachablePositionError(
            f"the leg is straight at crank angle {where:.0f}°, where its joints would have to turn infinitely fast; "
            "allowed: a bent knee all around the turn; lower the saddle a little"
        )


def as_points(pair: Pair) -> Floats:
    """Join x and y to points with x and y on the last axis, each kept in one run of memory."""
    points = np.empty((2, *np.broadcast_shapes(np.shape(pair[0]), np.shape(pair[1]))))
    points[0], points[1] = pair
    return np.moveaxis(points, 0, -1)


def leg_angles_deg(links: Links) -> tuple[Floats, Floats]:
    """Directions of thigh and shank, the shank's counted on from the thigh's so that it never jumps."""
    thigh = np.arctan2(links.thigh[1], links.thigh[0])
    flexion = thigh - np.arctan2(links.shank[1], links.shank[0])
    flexion = np.where(flexion < -1e-9, flexion + 2 * np.pi, flexion)
    return np.degrees(thigh), np.degrees(thigh - flexion)


def _require_reach(squared: Floats, thigh: Floats, shank: Floats, crank_angle_deg: Floats) -> None:
    longest = thigh + shank
    shortest = np.maximum(np.abs(thigh - shank), STRAIGHT * longest)
    if np.any(squared > (longest * (1 + 1e-12)) ** 2):
        _refuse(
            np.sqrt(squared) - longest,
            longest,
            crank_angle_deg,
            "hip and ankle lie {gap:.1f} mm further apart than thigh and shank together reach ({limit:.1f} mm)",
            "lower the saddle, move it forward, shorten the crank or point the toe further down",
        )
    if np.any(squared < (shortest * (1 - 1e-12)) ** 2):
        _refuse(
            shortest - np.sqrt(squared),
            shortest,
            crank_angle_deg,
            "hip and ankle come {gap:.1f} mm closer than the folded leg allows ({limit:.1f} mm)",
            "raise the saddle, move it back or shorten the crank",
        )


def _refuse(gap: Floats, limit: Floats, crank_angle_deg: Floats, what: str, advice: str) -> None:
    gaps, limits, angles = np.broadcast_arrays(gap, limit, crank_angle_deg)
    worst = np.unravel_index(int(np.argmax(gaps)), gaps.shape)
    places = int(np.count_nonzero(gaps > 0))
    more = f" (the worst of {places} places)" if places > 1 else ""
    entry = f" of entry {list(map(int, worst[:-1]))}" if len(worst) > 1 else ""
    raise UnreachablePositionError(
        f"the leg cannot follow the pedal: at crank angle {np.mod(angles[worst], 360):.0f}°{entry} "
        f"{what.format(gap=gaps[worst], limit=limits[worst])}{more}; {advice}"
    )
