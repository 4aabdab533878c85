"""Published pedalling records: what riders' feet did to the pedal around one turn."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.pedal_angle import PeriodicCurve, fourier_curve


@dataclass(frozen=True)
class PedalRecord:
    """A published record of pedal forces, sampled uniformly over one turn from the top, mean of the riders.

    Parameters
    ----------
    name : str
        Name of the choice.
    source : str
        Bibliography key.
    riders : str
        Who was measured.
    frame : str
        ``ground``: the two forces are forward and up; ``pedal``: normal (into the pedal) and shear (toward the toe).
    first_force_n : tuple of float
        Forward or normal force of the foot on the pedal. [N]
    second_force_n : tuple of float
        Up or shear force of the foot on the pedal. [N]
    remark : str
        What the record can and cannot be used for.

    Examples
    --------
    >>> len(RECORDS["park_caldwell_2022"].first_force_n)
    12
    """

    name: str
    source: str
    riders: str
    frame: str
    first_force_n: tuple[float, ...]
    second_force_n: tuple[float, ...]
    remark: str


PARK_CALDWELL_2022_PEDAL_ANGLE_DEG = (11.0, -1.0, -9.2, -13.6, -13.1, -7.2, 3.3, 14.8, 23.8, 29.1, 28.1, 21.6)
"""Pedal angle at 0, 30 … 330°, mean of 15 recreational riders, toe down positive; standard deviation 4.9° to 7.0°."""

DEFAULT_RECORD = "park_caldwell_2022"

RECORDS: Mapping[str, PedalRecord] = MappingProxyType(
    {
        record.name: record
        for record in (
            PedalRecord(
                "park_caldwell_2022",
                "park_caldwell_umberger_2022",
                "15 recreational riders",
                "ground",
                (32.7, 24.5, 6.6, -11.2, -25.1, -28.0, -20.1, -12.7, -5.5, 0.6, 5.4, 15.6),
                (-96.1, -168.8, -200.6, -225.8, -238.0, -208.2, -121.4, -64.7, -52.6, -45.8, -37.4, -37.8),
                "Forces in the ground frame, so that the torque is exact. Default for that reason. Cadence and power "
                "are not stated with the data; the sign of the forward force is inferred from the push at the top.",
            ),
            PedalRecord(
                "kautz_1991_low",
                "kautz_1991",
                "elite riders, lower of two workloads, 10 rows",
                "pedal",
                (54.2, 226.1, 374.8, 371.8, 272.0, 132.4, -9.4, -29.6, -15.0, -22.8),
                (39.5, 61.9, 37.5, -0.9, -31.5, -39.0, -26.5, -16.6, -8.0, 1.6),
                "No pedal angle was stored with it, so its torque can be bracketed only and no effectiveness quoted; "
                "the sign of the shear force is inferred.",
            ),
            PedalRecord(
                "kautz_1991_high",
                "kautz_1991",
                "elite riders, higher of two workloads, 10 rows",
                "pedal",
                (58.2, 289.1, 490.1, 517.9, 391.1, 252.2, 57.5, 0.7, 11.9, -8.5),
                (23.8, 58.8, 61.3, 40.4, 15.3, 2.0, -15.6, -21.0, -13.0, -4.8),
                "As for the lower workload.",
            ),
        )
    }
)


def recorded_pedal_force(
    profile: str = DEFAULT_RECORD, crank_angle_deg: Numbers | None = None
) -> tuple[Floats, Floats]:
    """Read the forces of a published record at any crank angle, on the smooth curve through its points.

    Parameters
    ----------
    profile : str
        A key of ``RECORDS``.
    crank_angle_deg : array_like or None
        Crank angles, any finite values; None for every degree from the top. [°]

    Returns
    -------
    tuple of numpy.ndarray
        Forward and up force for a record in the ground frame, normal and shear force for one in the pedal frame:
        see ``frame`` of the record. [N]

    Raises
    ------
    OutOfRangeError
        If the record is not known or an angle is not finite.

    Notes
    -----
    *Measured quantity*. Between the published points, 30° or 36° apart, the curve is an interpolation.

    References
    ----------
    park_caldwell_umberger_2022
    kautz_1991

    Examples
    --------
    >>> forward, up = recorded_pedal_force(crank_angle_deg=90)
    >>> round(forward.item(), 1), round(up.item(), 1)
    (-11.2, -225.8)
    """
    record = chosen("profile", profile, RECORDS)
    angles = np.arange(360.0) if crank_angle_deg is None else crank_angle_deg
    return fourier_curve(record.first_force_n).at(angles), fourier_curve(record.second_force_n).at(angles)


def recorded_pedal_angle() -> PeriodicCurve:
    """Give the pedal angle of recreational riders as a smooth curve, toe down positive.

    Returns
    -------
    PeriodicCurve
        Mean pedal angle of 15 riders; single riders lie several degrees beside it. [°]

    Notes
    -----
    *Measured quantity*.

    References
    ----------
    park_caldwell_umberger_2022

    Examples
    --------
    >>> recorded_pedal_angle().at([0, 90, 180, 270]).round(1).tolist()
    [11.0, -13.6, 3.3, 29.1]
    """
    return fourier_curve(PARK_CALDWELL_2022_PEDAL_ANGLE_DEG)
