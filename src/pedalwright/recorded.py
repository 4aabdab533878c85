"""Published pedal records: what riders' feet did to the pedal around one turn."""

from dataclasses import dataclass

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError
from pedalwright.pedal_angle import PeriodicCurve, fourier_curve


@dataclass(frozen=True)
class PedalRecord:
    """A published record of pedal forces, sampled uniformly over one turn from the top."""

    name: str
    source: str
    riders: str
    frame: str
    first_force_n: tuple[float, ...]
    second_force_n: tuple[float, ...]


PARK_CALDWELL_2022_PEDAL_ANGLE_DEG = (11.0, -1.0, -9.2, -13.6, -13.1, -7.2, 3.3, 14.8, 23.8, 29.1, 28.1, 21.6)

RECORDS: dict[str, PedalRecord] = {
    "park_caldwell_2022": PedalRecord(
        "park_caldwell_2022",
        "park_caldwell_umberger_2022",
        "15 recreational cyclists",
        "ground",
        (32.7, 24.5, 6.6, -11.2, -25.1, -28.0, -20.1, -12.7, -5.5, 0.6, 5.4, 15.6),
        (-96.1, -168.8, -200.6, -225.8, -238.0, -208.2, -121.4, -64.7, -52.6, -45.8, -37.4, -37.8),
    ),
    "kautz_1991_low": PedalRecord(
        "kautz_1991_low",
        "kautz_1991",
        "elite cyclists, lower workload",
        "pedal",
        (54.2, 226.1, 374.8, 371.8, 272.0, 132.4, -9.4, -29.6, -15.0, -22.8),
        (39.5, 61.9, 37.5, -0.9, -31.5, -39.0, -26.5, -16.6, -8.0, 1.6),
    ),
    "kautz_1991_high": PedalRecord(
        "kautz_1991_high",
        "kautz_1991",
        "elite cyclists, higher workload",
        "pedal",
        (58.2, 289.1, 490.1, 517.9, 391.1, 252.2, 57.5, 0.7, 11.9, -8.5),
        (23.8, 58.8, 61.3, 40.4, 15.3, 2.0, -15.6, -21.0, -13.0, -4.8),
    ),
}


def recorded_pedal_force(
    profile: str = "park_caldwell_2022", crank_angle_deg: Numbers | None = None
) -> tuple[Floats, Floats]:
    """Forces of a published record at any crank angle.

    For a record in the ground frame: forward and up force; in the pedal frame: normal and shear force.
    """
    if profile not in RECORDS:
        raise OutOfRangeError(f"profile: received {profile!r}; allowed: {', '.join(RECORDS)}; choose one of them")
    record = RECORDS[profile]
    angles = np.arange(360.0) if crank_angle_deg is None else crank_angle_deg
    return fourier_curve(record.first_force_n).at(angles), fourier_curve(record.second_force_n).at(angles)


def recorded_pedal_angle() -> PeriodicCurve:
    """Measured pedal angle of recreational cyclists as a smooth curve, toe down positive."""
    return fourier_curve(PARK_CALDWELL_2022_PEDAL_ANGLE_DEG)
