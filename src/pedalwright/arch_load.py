"""How much the arch of the foot gives under load."""

from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import STANDARD_GRAVITY_M_S2
from pedalwright.errors import checked

# Drop of the navicular from the neutral to the resting foot that counts as usual, in mm: (from, to).
NAVICULAR_DROP_WINDOWS_MM = MappingProxyType({"nilsson_2012": (6.0, 18.0), "brody_1982": (0.0, 15.0)})


def arch_rigidity_index(standing_index: Numbers, sitting_index: Numbers) -> Floats:
    """How much of the arch's height is left when standing.

    Parameters
    ----------
    standing_index, sitting_index : array_like
        Arch height index standing and sitting, same length, above 0. [1]

    Returns
    -------
    numpy.ndarray
        Standing over sitting; 1 for an arch that does not give. [1]

    Raises
    ------
    OutOfRangeError
        If an index is not above 0.

    Notes
    -----
    *Measured quantity.*

    References
    ----------
    butler_2008

    Examples
    --------
    >>> round(arch_rigidity_index(0.340, 0.363).item(), 3)
    0.937
    """
    standing = checked("standing_index", standing_index, above=0)
    return np.asarray(standing / checked("sitting_index", sitting_index, above=0))


def arch_flexibility_mm_per_kn(
    sitting_height_mm: Numbers, standing_height_mm: Numbers, body_mass_kg: Numbers
) -> Floats:
    """How far the arch gives for each kilonewton of load.

    Parameters
    ----------
    sitting_height_mm, standing_height_mm : array_like
        Height of the top of the foot at half its length, sitting and standing on both feet, above 0. [mm]
    body_mass_kg : array_like
        Body mass, above 0. [kg]

    Returns
    -------
    numpy.ndarray
        Drop over load; negative if the arch seems to rise, which is measurement error. [mm/kN]

    Raises
    ------
    OutOfRangeError
        If a measurement is not above 0.

    Notes
    -----
    *Convention*: a foot carries about a tenth of body weight sitting and half standing, so the load grows by
    0.4 body weight. From memory.

    References
    ----------
    zifchock_2006

    Examples
    --------
    >>> round(arch_flexibility_mm_per_kn(66.0, 62.0, 70.0).item(), 1)
    14.6
    """
    drop = checked("sitting_height_mm", sitting_height_mm, above=0) - checked(
        "standing_height_mm", standing_height_mm, above=0
    )
    load_kn = 0.4 * checked("body_mass_kg", body_mass_kg, above=0) * STANDARD_GRAVITY_M_S2.value / 1000
    return np.asarray(drop / load_kn)


def arch_drop_mm(arch_flexibility_mm_per_kn: Numbers, foot_load_n: Numbers) -> Floats:
    """How far an unsupported arch gives under a load.

    Parameters
    ----------
    arch_flexibility_mm_per_kn : array_like
        Flexibility of the arch, at least 0. [mm/kN]
    foot_load_n : array_like
        Load on the foot, at least 0. [N]

    Returns
    -------
    numpy.ndarray
        Drop. [mm]

    Raises
    ------
    OutOfRangeError
        If an input is negative.

    Notes
    -----
    *Teaching model*: the arch as a linear spring loaded through the heel, as it was measured. On the pedal the
    load goes through the forefoot and muscles hold the arch, so the true drop differs.

    References
    ----------
    zifchock_2006

    Examples
    --------
    >>> arch_drop_mm(14.0, 300.0).item()
    4.2
    """
    flexibility = checked("arch_flexibility_mm_per_kn", arch_flexibility_mm_per_kn, at_least=0)
    return np.asarray(flexibility * checked("foot_load_n", foot_load_n, at_least=0) / 1000)


def navicular_drop_class(navicular_drop_mm: Numbers, norm: str = "nilsson_2012") -> NDArray[Any]:
    """Call a drop of the navicular from the neutral to the resting foot small, usual or large.

    Parameters
    ----------
    navicular_drop_mm : array_like
        Height of the navicular with the rearfoot held neutral less its height at rest. [mm]
    norm : {"nilsson_2012", "brody_1982"}
        Window used. The newer one is the default: it comes from 254 people and its table was read.

    Returns
    -------
    numpy.ndarray of str
        "small", "usual" or "large".

    Raises
    ------
    OutOfRangeError
        If the drop is not finite or the norm is not known.

    Notes
    -----
    *Convention.* The two windows disagree between 15 and 18 mm; the older is from memory. The test repeats badly
    between days (weighted kappa 0.40 in one study of 30 people).

    References
    ----------
    nilsson_2012
    brody_1982
    langley_2016

    Examples
    --------
    >>> navicular_drop_class([3, 10, 17]).tolist(), navicular_drop_class(17, "brody_1982").item()
    (['small', 'usual', 'usual'], 'large')
    """
    low, high = chosen("norm", norm, NAVICULAR_DROP_WINDOWS_MM)
    drop = checked("navicular_drop_mm", navicular_drop_mm)
    return np.where(drop < low, "small", np.where(drop > high, "large", "usual"))
