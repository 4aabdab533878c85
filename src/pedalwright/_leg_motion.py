"""The rates of the closed chain at a steady cadence, exact for the pedal-angle curve given."""

import numpy as np

from pedalwright._links import Links, link_rates
from pedalwright._typing import Floats
from pedalwright.errors import OutOfRangeError
from pedalwright.motion import Motion
from pedalwright.pedal_angle import PeriodicCurve


def derivable(curve: PeriodicCurve | Floats) -> PeriodicCurve:
    """Give the curve that rates can be had from, or refuse values that are not one."""
    if isinstance(curve, PeriodicCurve):
        return curve
    raise OutOfRangeError(
        "pedal_angle_deg: received values at crank angles that do not divide the turn evenly from 0; allowed with a "
        "cadence: one number, a curve, or evenly spaced values; build a curve first"
    )


def leg_motion(
    links: Links,
    curve: PeriodicCurve,
    crank_angle: Floats,
    lengths: tuple[Floats, Floats, Floats, Floats],
    cadence: Floats,
) -> Motion:
    """Rates of the closed chain, its pedal following the curve; lengths are thigh, shank, ankle to pedal, crank."""
    thigh, shank, foot, crank = lengths
    turning = cadence * (2 * np.pi / 60)
    foot_rate = -turning * np.radians(curve.at(crank_angle, 1))
    foot_change = -(turning**2) * np.radians(curve.at(crank_angle, 2))
    (out_x, out_y), (toe_x, toe_y) = links.crank, links.foot
    pedal_speed, pedal_pull = crank * turning, crank * turning**2
    foot_speed, foot_push, foot_pull = foot * foot_rate, foot * foot_change, foot * foot_rate**2
    velocity = pedal_speed * out_y + foot_speed * toe_y, -pedal_speed * out_x - foot_speed * toe_x
    acceleration = (
        -pedal_pull * out_x + foot_push * toe_y + foot_pull * toe_x,
        -pedal_pull * out_y - foot_push * toe_x + foot_pull * toe_y,
    )
    rates = link_rates(links, thigh, shank, velocity, acceleration)
    shape = rates.thigh_rad_s.shape
    return Motion(
        cadence,
        np.degrees(rates.thigh_rad_s),
        np.degrees(rates.shank_rad_s),
        np.broadcast_to(np.degrees(foot_rate), shape),
        np.degrees(rates.thigh_rad_s2),
        np.degrees(rates.shank_rad_s2),
        np.broadcast_to(np.degrees(foot_change), shape),
    )
