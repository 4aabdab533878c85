"""What the package knows of one muscle in one model."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy.interpolate import PPoly

from pedalwright._typing import Floats


@dataclass(frozen=True)
class Strength:
    """How strong a muscle is and how long its parts are.

    Parameters
    ----------
    max_isometric_force_n : float
        Greatest force at the optimal fibre length, held still. [N]
    optimal_fibre_length_mm : float
        Fibre length at which it is strongest. [mm]
    tendon_slack_length_mm : float
        Length of the tendon just before it pulls. [mm]
    pennation_deg : float
        Angle between fibres and tendon at the optimal fibre length. [°]

    References
    ----------
    rajagopal_2016

    Examples
    --------
    >>> Strength(6195, 44, 281.3, 21.9).optimal_fibre_length_mm
    44
    """

    max_isometric_force_n: float
    optimal_fibre_length_mm: float
    tendon_slack_length_mm: float
    pennation_deg: float


@dataclass(frozen=True)
class MuscleCurve:
    """One muscle by one model: arms over angle in degrees, length at a posture, both for a segment of that length.

    Parameters
    ----------
    scales_with : str
        The segment, ``thigh`` or ``shank``, in proportion to which everything grows.
    segment_length_mm : float or None
        Length of that segment to which the numbers belong; None for numbers in segment lengths. [mm]
    length_mm : float or None
        Muscle with tendon at ``at_deg``; None if the model gives changes only. [mm]
    at_deg : mapping
        Joint angles of that length, by joint. [°]
    arms : mapping
        Piecewise polynomial of the moment arm over the joint angle, by joint.
    strength : Strength or None
        What the model states of it.

    References
    ----------
    lai_2017

    Examples
    --------
    >>> from pedalwright.muscle_curves import muscle_curve
    >>> muscle_curve("vasti", "lai_2017").arm_mm("hip", np.array(60.0)).item()
    0.0
    """

    scales_with: str
    segment_length_mm: float | None
    length_mm: float | None
    at_deg: Mapping[str, float]
    arms: Mapping[str, PPoly]
    strength: Strength | None

    def arm_mm(self, joint: str, angle_deg: Floats) -> Floats:
        """Moment arm at a joint; 0 where the muscle does not cross it."""
        if joint not in self.arms:
            return np.zeros_like(angle_deg)
        return np.asarray(self.arms[joint](angle_deg))

    def shortening_mm(self, joint: str, angle_deg: Floats) -> Floats:
        """How much shorter the muscle is than at ``at_deg``, by this joint alone."""
        if joint not in self.arms:
            return np.zeros_like(angle_deg)
        integral = _integrals(self.arms[joint])
        return np.asarray(np.radians(integral(angle_deg) - integral(self.at_deg[joint])))


@cache
def _integrals(curve: PPoly) -> PPoly:
    return curve.antiderivative()
