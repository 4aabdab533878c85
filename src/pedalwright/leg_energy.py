"""Energy held in the moving leg, and the balance it must keep with joints and pedal."""

from dataclasses import dataclass

import numpy as np

from pedalwright._leg_states import stroke_states
from pedalwright._newton_euler import energies
from pedalwright._typing import Floats
from pedalwright.constants import STANDARD_GRAVITY_M_S2
from pedalwright.errors import checked
from pedalwright.inertia import LegInertia
from pedalwright.stroke import Stroke


@dataclass(frozen=True)
class LegEnergy:
    """Energy of a leg around the turn.

    Parameters
    ----------
    kinetic_energy_j : numpy.ndarray
        Energy of motion. [J]
    height_energy_j : numpy.ndarray
        Energy of height above the bottom bracket. [J]
    energy_rate_w : numpy.ndarray
        Rate at which their sum grows: what joints and hip put into the leg beyond what goes into the pedal. [W]

    Examples
    --------
    >>> list(LegEnergy.__dataclass_fields__)
    ['kinetic_energy_j', 'height_energy_j', 'energy_rate_w']
    """

    kinetic_energy_j: Floats
    height_energy_j: Floats
    energy_rate_w: Floats


def leg_energy(stroke: Stroke, inertia: LegInertia, *, gravity_m_s2: float = STANDARD_GRAVITY_M_S2.value) -> LegEnergy:
    """Energy of the leg around the turn, from its motion alone.

    Parameters
    ----------
    stroke : Stroke
        The leg around the turn, solved with a cadence.
    inertia : LegInertia
        Masses; leading axes broadcast with the riders of the stroke.
    gravity_m_s2 : float
        Acceleration of free fall, 0 to 20. [m/s²]

    Returns
    -------
    LegEnergy
        Energies [J] and the rate of their sum [W].

    Raises
    ------
    OutOfRangeError
        If the stroke has no rates, or a value is out of range.

    Notes
    -----
    *Measured law* on a *teaching model* of three rigid segments in a plane. The sum of the joint powers equals the
    pedal power plus this rate: the check that inverse dynamics must pass.

    References
    ----------
    winter_2009

    Examples
    --------
    >>> from pedalwright.dynamics import inverse_dynamics
    >>> from pedalwright.position import Leg, Position
    >>> from pedalwright.stroke import solve_stroke
    >>> stroke = solve_stroke(Leg(428.75, 430.5, 150), Position(730, 200, 170), cadence_rpm=90)
    >>> inertia = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
    >>> gap = inverse_dynamics(stroke, inertia, 0.0, -100.0).leg_gains_w - leg_energy(stroke, inertia).energy_rate_w
    >>> bool(np.max(np.abs(gap)) < 1e-8)
    True
    """
    gravity = checked("gravity_m_s2", gravity_m_s2, at_least=0, at_most=20).item()
    still = np.zeros(()), np.zeros(())
    segments = stroke_states(stroke, inertia)
    kinetic, height, rate = energies(segments, gravity, stroke.hip_mm[..., 1] / 1000, still, still)
    return LegEnergy(kinetic, height, rate)
