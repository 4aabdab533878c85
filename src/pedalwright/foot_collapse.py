"""From a foot that gives under load to a knee that drifts inward."""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked
from pedalwright.position import Leg


@dataclass(frozen=True)
class Coupling:
    """How much of the rearfoot's inward roll turns the shin.

    Parameters
    ----------
    share, lower, upper : float
        Turn of the shin for one degree of roll, and the range it was found in. [°/°]
    source : str
        Bibliography key.
    known_from : str
        How far the figure can be trusted.

    Examples
    --------
    >>> COUPLINGS["in vitro"].share
    0.68
    """

    share: float
    lower: float
    upper: float
    source: str
    known_from: str


COUPLINGS = MappingProxyType(
    {
        "in vitro": Coupling(0.68, 0.53, 0.83, "fischer_2018", "abstract read: 0.68 ± 0.15 in eight specimens"),
        "runners": Coupling(4 / 7, 1 / 2, 2 / 3, "nawoczenski_1998", "from memory: 1.5 to 2 degrees of roll a degree"),
    }
)
DEFAULT_COUPLING = "in vitro"


@dataclass(frozen=True)
class FootCollapse:
    """What a foot that gives does above it. All arrays broadcast.

    Parameters
    ----------
    eversion_deg : numpy.ndarray
        Inward roll of the rearfoot. [°]
    tibial_rotation_deg : numpy.ndarray
        Inward turn of the shin. [°]
    knee_drift_mm : numpy.ndarray
        Inward drift of the knee. [mm]
    knee_drift_lower_mm, knee_drift_upper_mm : numpy.ndarray
        Range of the drift over the range of the coupling. [mm]

    Examples
    --------
    >>> foot_collapse(0.0, 2.0, Leg(430, 430, 150), 70.0).eversion_deg.item()
    2.0
    """

    eversion_deg: Floats
    tibial_rotation_deg: Floats
    knee_drift_mm: Floats
    knee_drift_lower_mm: Floats
    knee_drift_upper_mm: Floats


def arch_eversion_deg(arch_drop_mm: Numbers, arch_lever_mm: Numbers = 35.0) -> Floats:
    """Inward roll of the rearfoot that lets the arch down by a given drop.

    Parameters
    ----------
    arch_drop_mm : array_like
        Drop of the arch under load, at least 0. [mm]
    arch_lever_mm : array_like
        Level distance of the arch from the axis the rearfoot rolls about, above the drop; the default
        is an assumption. [mm]

    Returns
    -------
    numpy.ndarray
        Roll, positive inward. [°]

    Raises
    ------
    OutOfRangeError
        If the drop is negative or not below the lever.

    Notes
    -----
    *Teaching model* (geometry): the arch hangs on a lever, drop = lever·sin(roll). In joggers the drop and
    the roll from neutral went together (r = 0.84); no source gives the lever.

    References
    ----------
    lee_hertel_2012

    Examples
    --------
    >>> round(arch_eversion_deg(5.0).item(), 2)
    8.21
    """
    drop = checked("arch_drop_mm", arch_drop_mm, at_least=0)
    lever = checked("arch_lever_mm", arch_lever_mm, above=0)
    share = checked("arch_drop_mm / arch_lever_mm", drop / lever, below=1, advice="check drop and lever, both in mm")
    return np.degrees(np.arcsin(share))


def tibial_rotation_deg(eversion_deg: Numbers, coupling: str = DEFAULT_COUPLING) -> Floats:
    """Inward turn of the shin that goes with an inward roll of the rearfoot.

    Parameters
    ----------
    eversion_deg : array_like
        Roll of the rearfoot, positive inward, −45 to 45. [°]
    coupling : {"in vitro", "runners"}
        Published share used. The in-vitro figure is the default because it was read; both ranges overlap.

    Returns
    -------
    numpy.ndarray
        Turn of the shin, positive inward. [°]

    Raises
    ------
    OutOfRangeError
        If the roll is out of range or the coupling not known.

    Notes
    -----
    *Teaching model*: one share for every foot. The share differs between people and with the arch, and
    nobody has measured it on a pedal.

    References
    ----------
    fischer_2018
    nawoczenski_1998

    Examples
    --------
    >>> tibial_rotation_deg(10.0).item()
    6.8
    """
    roll = checked("eversion_deg", eversion_deg, at_least=-45, at_most=45)
    return np.asarray(roll * chosen("coupling", coupling, COUPLINGS).share)


def knee_swing_radius_mm(thigh_length_mm: Numbers, shank_length_mm: Numbers, knee_flexion_deg: Numbers) -> Floats:
    """Distance of the knee from the straight line between hip and ankle.

    Parameters
    ----------
    thigh_length_mm, shank_length_mm : array_like
        Segment lengths, above 0. [mm]
    knee_flexion_deg : array_like
        Knee flexion, 0 to below 180. [°]

    Returns
    -------
    numpy.ndarray
        Distance; 0 for a straight leg. [mm]

    Raises
    ------
    OutOfRangeError
        If an input is out of range.

    Notes
    -----
    *Measured law* (geometry of the triangle hip, knee, ankle).

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> round(knee_swing_radius_mm(300, 400, 90).item(), 6)
    240.0
    """
    thigh = checked("thigh_length_mm", thigh_length_mm, above=0)
    shank = checked("shank_length_mm", shank_length_mm, above=0)
    flexion = np.radians(checked("knee_flexion_deg", knee_flexion_deg, at_least=0, below=180))
    base = np.sqrt(thigh**2 + shank**2 + 2 * thigh * shank * np.cos(flexion))
    return np.asarray(thigh * shank * np.sin(flexion) / base)


def foot_collapse(
    arch_drop_mm: Numbers,
    forefoot_tilt_deg: Numbers,
    leg: Leg,
    knee_flexion_deg: Numbers,
    *,
    wedge_deg: Numbers = 0.0,
    held_share: Numbers = 0.0,
    arch_lever_mm: Numbers = 35.0,
    coupling: str = DEFAULT_COUPLING,
) -> FootCollapse:
    """Follow a foot that gives under load up to the knee.

    Parameters
    ----------
    arch_drop_mm : array_like
        Drop of the unsupported arch under this load, at least 0. [mm]
    forefoot_tilt_deg : array_like
        Tilt of the forefoot, positive varus. [°]
    leg : Leg
        Thigh and shank length. [mm]
    knee_flexion_deg : array_like
        Knee flexion at this crank angle, 0 to below 180. [°]
    wedge_deg : array_like
        Angle of a wedge, positive under the inner edge, negative under the outer. [°]
    held_share : array_like
        Share of the drop that a footbed prevents, 0 to 1. [1]
    arch_lever_mm : array_like
        As for `arch_eversion_deg`. [mm]
    coupling : {"in vitro", "runners"}
        As for `tibial_rotation_deg`.

    Returns
    -------
    FootCollapse
        Roll, turn and drift, with the range of the drift. [°, mm]

    Raises
    ------
    OutOfRangeError
        If an input is out of range.

    Notes
    -----
    *Teaching model.* The forefoot's unfilled tilt and the arch's unheld drop both roll the rearfoot inward and are
    added, which is the most they can do together; the leg's plane then turns about the line from hip to
    ankle, hip and foot staying where they are. It shows direction and order of size. Frontal knee motion is
    not shown to cause pain, and footbeds or wedges have not changed it in studies: never promise the drift.

    References
    ----------
    fischer_2018
    yeo_bonanno_2014
    branco_2023

    Examples
    --------
    >>> result = foot_collapse(4.0, 2.0, Leg(430, 430, 150), 70.0)
    >>> round(result.eversion_deg.item(), 2), round(result.knee_drift_mm.item(), 1)
    (8.56, 25.0)
    """
    held = checked("held_share", held_share, at_least=0, at_most=1)
    drop = checked("arch_drop_mm", arch_drop_mm, at_least=0) * (1 - held)
    unfilled = checked("forefoot_tilt_deg", forefoot_tilt_deg, above=-45, below=45) - checked("wedge_deg", wedge_deg)
    roll = arch_eversion_deg(drop, arch_lever_mm) + unfilled
    turn = tibial_rotation_deg(roll, coupling)
    radius = knee_swing_radius_mm(leg.thigh_length_mm, leg.shank_length_mm, knee_flexion_deg)
    share = COUPLINGS[coupling]
    ends = [radius * np.sin(np.radians(roll * end)) for end in (share.lower, share.upper)]
    return FootCollapse(
        eversion_deg=roll,
        tibial_rotation_deg=turn,
        knee_drift_mm=np.asarray(radius * np.sin(np.radians(turn))),
        knee_drift_lower_mm=np.minimum(*ends),
        knee_drift_upper_mm=np.maximum(*ends),
    )
