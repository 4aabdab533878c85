"""Which joint does the work: shares of the positive work, computed and published, which do not agree."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pedalwright._typing import Floats
from pedalwright.dynamics import JointLoads
from pedalwright.errors import checked


@dataclass(frozen=True)
class WorkShares:
    """Shares of the positive work of the joints over a turn; they add up to 100.

    Parameters
    ----------
    hip_extension_pct, hip_flexion_pct : array_like
        Work of hip extensors and hip flexors. [%]
    knee_extension_pct, knee_flexion_pct : array_like
        Work of knee extensors and knee flexors. [%]
    ankle_plantar_flexion_pct, ankle_dorsiflexion_pct : array_like
        Work of the muscles that point the toe down and lift it. [%]

    Examples
    --------
    >>> PUBLISHED_WORK_SHARES["ericson_1986"].shares.knee_extension_pct
    39.0
    """

    hip_extension_pct: Floats | float
    hip_flexion_pct: Floats | float
    knee_extension_pct: Floats | float
    knee_flexion_pct: Floats | float
    ankle_plantar_flexion_pct: Floats | float
    ankle_dorsiflexion_pct: Floats | float


@dataclass(frozen=True)
class PublishedShares:
    """What a study found about the shares.

    Parameters
    ----------
    source : str
        Bibliography key.
    riding : str
        Power, cadence and riders.
    finding : str
        The finding in a sentence.
    shares : WorkShares or None
        The figures, if the study gives them as such.

    Examples
    --------
    >>> PUBLISHED_WORK_SHARES["elmer_2011"].shares is None
    True
    """

    source: str
    riding: str
    finding: str
    shares: WorkShares | None


PUBLISHED_WORK_SHARES: Mapping[str, PublishedShares] = MappingProxyType(
    {
        "ericson_1986": PublishedShares(
            "ericson_1986",
            "ergometer, 120 W at 60 turns a minute, six healthy people",
            "Knee extensors do the largest share.",
            WorkShares(27.0, 4.0, 39.0, 10.0, 20.0, 0.0),
        ),
        "elmer_2011": PublishedShares(
            "elmer_2011",
            "250 to 850 W and maximal, 90 turns a minute, cyclists",
            "Hip extension dominates at every power and keeps its share; knee extension falls and knee flexion rises "
            "with power. Default for trained riders: newer method, higher power.",
            None,
        ),
    }
)
DEFAULT_WORK_SHARES = "elmer_2011"


def work_shares(joints: JointLoads) -> WorkShares:
    """Share each muscle group's joint has in the positive work of a turn.

    Parameters
    ----------
    joints : JointLoads
        Inverse dynamics over a whole turn, evenly sampled on the last axis.

    Returns
    -------
    WorkShares
        Shares. [%]

    Raises
    ------
    OutOfRangeError
        If the joints do no positive work at all.

    Notes
    -----
    *Measured law* on net joint moments: positive work counts for the extensors where the moment extends, for the
    flexors where it flexes. Two-joint muscles carry power between joints, so a joint's share is no muscle's share.

    References
    ----------
    ericson_1986
    elmer_2011

    Examples
    --------
    >>> from pedalwright.dynamics import LegInertia, inverse_dynamics
    >>> from pedalwright.position import Leg, Position
    >>> from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
    >>> from pedalwright.stroke import solve_stroke
    >>> stroke = solve_stroke(
    ...     Leg(428.75, 430.5, 150), Position(730, 200, 170), pedal_angle_deg=recorded_pedal_angle(), cadence_rpm=60
    ... )
    >>> inertia = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
    >>> force = recorded_pedal_force(crank_angle_deg=stroke.crank_angle_deg)
    >>> shares = work_shares(inverse_dynamics(stroke, inertia, *force))
    >>> bool(shares.hip_extension_pct > shares.knee_extension_pct)
    True
    """
    works = []
    for moment, power in (
        (joints.hip_extension_moment_nm, joints.hip_power_w),
        (joints.knee_extension_moment_nm, joints.knee_power_w),
        (joints.ankle_plantar_flexion_moment_nm, joints.ankle_power_w),
    ):
        gained = np.maximum(power, 0)
        works += [np.sum(np.where(moment > 0, gained, 0), axis=-1), np.sum(np.where(moment < 0, gained, 0), axis=-1)]
    whole = checked("positive work", np.sum(works, axis=0), above=0, advice="give a turn in which the joints drive")
    return WorkShares(*(np.asarray(100 * work / whole) for work in works))
