"""Invented pedal records drawn around published mean records, for case families."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from pedalwright.force import crank_force_from_pedal
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force

Curve = NDArray[np.float64]
PEDAL_FRAME_PROFILES = ("kautz_1991_low", "kautz_1991_high")


def draw_pedal_record(rng: np.random.Generator, crank_angle_deg: Curve) -> tuple[Curve, Curve]:
    """Draw the forces of one leg on its pedal over a turn.

    Parameters
    ----------
    rng : numpy.random.Generator
        Where the draw comes from.
    crank_angle_deg : numpy.ndarray, shape (n,)
        Uniform crank angles of one turn from the top. [°]

    Returns
    -------
    tuple of numpy.ndarray, shape (n,)
        Forward and downward force, whole newtons. [N]

    Notes
    -----
    *Teaching model*: a mixture of three mean records, shifted by up to 45°, scaled, tilted with the pedal, with more or
    less weight resting on the rising pedal and low harmonics that make one rider differ from the mean.

    References
    ----------
    park_caldwell_umberger_2022
    kautz_1991
    """
    angles_deg = crank_angle_deg - rng.uniform(0, 45)
    pedal_deg = recorded_pedal_angle().at(angles_deg) * rng.uniform(0.7, 1.2) + rng.uniform(-14, 4)
    shares = rng.dirichlet((1.5, 1.5, 1.5))
    effort = rng.uniform(0.55, 1.05)
    forward_n, up_n = recorded_pedal_force("park_caldwell_2022", angles_deg)
    forward, down = shares[0] * forward_n, -shares[0] * up_n
    for share, profile in zip(shares[1:], PEDAL_FRAME_PROFILES, strict=True):
        normal_n, shear_n = recorded_pedal_force(profile, angles_deg)
        forward_n, up_n = crank_force_from_pedal(normal_n, shear_n, pedal_deg)
        forward, down = forward + share * forward_n, down - share * up_n
    resting_leg_n = rng.uniform(-10, 50) * np.maximum(0, -np.sin(np.radians(crank_angle_deg)))
    forward = effort * forward + own_manner(rng, crank_angle_deg, 12.0)
    down = effort * down + resting_leg_n + own_manner(rng, crank_angle_deg, 15.0)
    return np.round(forward), np.round(down)


def own_manner(rng: np.random.Generator, crank_angle_deg: Curve, size: float) -> Curve:
    """Draw low harmonics that make one rider differ from the mean.

    Parameters
    ----------
    rng : numpy.random.Generator
        Where the draw comes from.
    crank_angle_deg : numpy.ndarray, shape (n,)
        Crank angles. [°]
    size : float
        Standard deviation of the first harmonic, in the unit of the curve.

    Returns
    -------
    numpy.ndarray, shape (n,)
        What to add to a curve.
    """
    bends = np.zeros(len(crank_angle_deg))
    for order in (1, 2, 3):
        phase = np.radians(order * crank_angle_deg) - rng.uniform(0, 2 * np.pi)
        bends += size / order * rng.normal() * np.cos(phase)
    return bends
