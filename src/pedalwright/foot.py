"""The arch of the foot: height index, and class against stated norms."""

from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked

ARCH_CLASSES = ("low", "medium", "high")


@dataclass(frozen=True)
class ArchNorm:
    """Mean and spread of the arch height index in one sample.

    Parameters
    ----------
    mean, standard_deviation : float
        Of the index. [1]
    population : str
        Who was measured, and how.
    source : str
        Bibliography key.
    weakness : str
        What to hold against it.

    Examples
    --------
    >>> ARCH_NORMS["standing"].mean
    0.34
    """

    mean: float
    standard_deviation: float
    population: str
    source: str
    weakness: str


_ARCH_WEAKNESS = (
    "Values from memory; one sample of healthy adults. The index differs with sex and load, so one cut-off "
    "for everybody is wrong for some; a band of one standard deviation calls about a third of healthy feet low or high."
)
# Values from memory, not read in the paper.
ARCH_NORMS = MappingProxyType(
    {
        "standing": ArchNorm(0.340, 0.030, "healthy adults, standing, truncated length", "butler_2008", _ARCH_WEAKNESS),
        "sitting": ArchNorm(0.363, 0.030, "healthy adults, sitting, truncated length", "butler_2008", _ARCH_WEAKNESS),
    }
)

# Allowed index by the length it is divided by: wide enough for any foot, too narrow for a mix of cm and mm.
_PLAUSIBLE_INDEX = {"truncated": (0.15, 0.60), "total": (0.10, 0.45)}


def arch_height_index(dorsum_height_mm: Numbers, foot_length_mm: Numbers, length: str = "truncated") -> Floats:
    """Height of the top of the foot at half its length, as a share of a foot length.

    Parameters
    ----------
    dorsum_height_mm : array_like
        Height of the top of the foot at half the total foot length, above 0. [mm]
    foot_length_mm : array_like
        The length divided by, above 0. [mm]
    length : {"truncated", "total"}
        Which length that is: heel to the first metatarsophalangeal joint, or heel to the longest toe. The
        truncated one is the default because toe deformities leave it alone and the norms here use it.

    Returns
    -------
    numpy.ndarray
        Arch height index. [1]

    Raises
    ------
    OutOfRangeError
        If a measurement is not above 0, or the index is not that of a foot (often a mix of cm and mm).

    Notes
    -----
    *Measured quantity.* The two divisors give different numbers for the same foot; an index of one must not
    be held against norms of the other.

    References
    ----------
    williams_mcclay_2000
    mcpoil_2008

    Examples
    --------
    >>> round(arch_height_index(62.0, 182.0).item(), 3)
    0.341
    """
    height = checked("dorsum_height_mm", dorsum_height_mm, above=0)
    divisor = checked("foot_length_mm", foot_length_mm, above=0)
    low, high = chosen("length", length, _PLAUSIBLE_INDEX)
    return checked(
        f"arch height index by the {length} length",
        height / divisor,
        at_least=low,
        at_most=high,
        advice="check that height and length are both in mm and that it is this length",
    )


def arch_z(index: Numbers, norm: str = "standing") -> Floats:
    """How many standard deviations an arch lies above the mean of a norm.

    Parameters
    ----------
    index : array_like
        Arch height index by truncated length, measured in the norm's posture. [1]
    norm : {"standing", "sitting"}
        Posture of the measurement; standing is the default because a footbed works under load.

    Returns
    -------
    numpy.ndarray
        Distance from the mean in standard deviations. [1]

    Raises
    ------
    OutOfRangeError
        If the index is not that of a foot or the norm is not known.

    Notes
    -----
    *Measured quantity* against a norm from memory; see ``ARCH_NORMS`` for its weakness.

    References
    ----------
    butler_2008

    Examples
    --------
    >>> arch_z(0.31).item()
    -1.0
    """
    reference = chosen("norm", norm, ARCH_NORMS)
    low, high = _PLAUSIBLE_INDEX["truncated"]
    value = checked("index", index, at_least=low, at_most=high, advice="give the index by truncated length")
    return np.asarray((value - reference.mean) / reference.standard_deviation)


def arch_class(index: Numbers, norm: str = "standing", *, cut_sd: Numbers = 1.0) -> NDArray[Any]:
    """Call an arch low, medium or high.

    Parameters
    ----------
    index : array_like
        Arch height index by truncated length, measured in the norm's posture. [1]
    norm : {"standing", "sitting"}
        Norm used.
    cut_sd : array_like
        Where low and high begin, above 0. [standard deviations]

    Returns
    -------
    numpy.ndarray of str
        "low", "medium" or "high". An arch exactly on a limit is medium.

    Raises
    ------
    OutOfRangeError
        If the index, the norm or the cut is out of range.

    Notes
    -----
    *Convention*: limits one standard deviation from the mean, from memory. A class is a word for a place on a
    smooth scale: see `arch_class_probability`.

    References
    ----------
    butler_2008

    Examples
    --------
    >>> arch_class([0.30, 0.34, 0.38]).tolist()
    ['low', 'medium', 'high']
    """
    z = arch_z(index, norm)
    cut = checked("cut_sd", cut_sd, above=0)
    edge = 1e-9  # an arch on the limit is medium, rounding or not
    return np.where(z < -cut - edge, "low", np.where(z > cut + edge, "high", "medium"))


def arch_class_probability(
    index: Numbers, standard_uncertainty: Numbers, norm: str = "standing", *, cut_sd: Numbers = 1.0
) -> Floats:
    """How sure the arch class is, given how well the index repeats.

    Parameters
    ----------
    index : array_like
        Arch height index by truncated length. [1]
    standard_uncertainty : array_like
        Its standard uncertainty, above 0. [1]
    norm : {"standing", "sitting"}
        Norm used.
    cut_sd : array_like
        Where low and high begin, above 0. [standard deviations]

    Returns
    -------
    numpy.ndarray, shape (..., 3)
        Probability of low, medium, high, in the order of ``ARCH_CLASSES``. [1]

    Raises
    ------
    OutOfRangeError
        If an input is out of range.

    Notes
    -----
    *Measured law* (normal distribution around the index). The uncertainty of the norm itself is left out.

    References
    ----------
    butler_2008
    jcgm_106_2012

    Examples
    --------
    >>> arch_class_probability(0.31, 0.01).round(2).tolist()
    [0.5, 0.5, 0.0]
    """
    reference = chosen("norm", norm, ARCH_NORMS)
    spread = checked("standard_uncertainty", standard_uncertainty, above=0) / reference.standard_deviation
    z = arch_z(index, norm)
    cut = checked("cut_sd", cut_sd, above=0)
    low = np.asarray(stats.norm.cdf((-cut - z) / spread))
    high = np.asarray(stats.norm.sf((cut - z) / spread))
    return np.stack(np.broadcast_arrays(low, 1 - low - high, high), axis=-1)
