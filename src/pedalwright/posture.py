"""The three joint angles of a leg, as muscles see them."""

from dataclasses import dataclass
from typing import Protocol

from pedalwright._typing import Numbers


class LegAngles(Protocol):
    """Anything with the three joint angles of a leg: a ``Posture``, or a ``Stroke`` as it comes.

    Examples
    --------
    >>> angles: LegAngles = Posture(60, 60)
    >>> angles.knee_flexion_deg
    60
    """

    @property
    def hip_flexion_deg(self) -> Numbers:
        """Thigh against pelvis, 0 standing."""

    @property
    def knee_flexion_deg(self) -> Numbers:
        """180° minus the included angle."""

    @property
    def ankle_plantar_flexion_deg(self) -> Numbers:
        """Sole against shank, 0 at a right angle, toe down positive."""


class LegRates(Protocol):
    """Anything with the rates of the three joint angles: ``Rates``, or the ``motion`` of a ``Stroke``.

    Examples
    --------
    >>> rates: LegRates = Rates(knee_flexion_velocity_deg_s=-300)
    >>> rates.knee_flexion_velocity_deg_s
    -300
    """

    @property
    def hip_flexion_velocity_deg_s(self) -> Numbers:
        """Rate of hip flexion."""

    @property
    def knee_flexion_velocity_deg_s(self) -> Numbers:
        """Rate of knee flexion."""

    @property
    def ankle_plantar_flexion_velocity_deg_s(self) -> Numbers:
        """Rate of plantar flexion."""


@dataclass(frozen=True)
class Posture:
    """Joint angles of a leg; a joint that is left out is at 0, as in standing.

    Parameters
    ----------
    hip_flexion_deg : array_like
        Thigh against pelvis, 0 standing. [°]
    knee_flexion_deg : array_like
        180° minus the included angle. [°]
    ankle_plantar_flexion_deg : array_like
        Sole against shank, 0 at a right angle, toe down positive. [°]

    References
    ----------
    wu_2002

    Examples
    --------
    >>> Posture(knee_flexion_deg=35).hip_flexion_deg
    0.0
    """

    hip_flexion_deg: Numbers = 0.0
    knee_flexion_deg: Numbers = 0.0
    ankle_plantar_flexion_deg: Numbers = 0.0


@dataclass(frozen=True)
class Rates:
    """Rates of the joint angles; a joint that is left out stands still.

    Parameters
    ----------
    hip_flexion_velocity_deg_s, knee_flexion_velocity_deg_s, ankle_plantar_flexion_velocity_deg_s : array_like
        Rates, closing (at the ankle toe down) positive. [°/s]

    References
    ----------
    wu_2002

    Examples
    --------
    >>> Rates(knee_flexion_velocity_deg_s=-200).hip_flexion_velocity_deg_s
    0.0
    """

    hip_flexion_velocity_deg_s: Numbers = 0.0
    knee_flexion_velocity_deg_s: Numbers = 0.0
    ankle_plantar_flexion_velocity_deg_s: Numbers = 0.0
