"""Left against right: several indices for the same pair of numbers, each with its own meaning.

Right and left are never averaged silently: every function takes both and says which way it counts.
Positive means that the right value is larger.
"""

import warnings
from collections.abc import Callable
from types import MappingProxyType

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

_SAME_SIGN = "give two values of the same sign, or compare them by difference_of_sides"


class UnsteadyIndexWarning(UserWarning):
    """The values are so small against their uncertainty that the index is mostly noise.

    Examples
    --------
    >>> issubclass(UnsteadyIndexWarning, UserWarning)
    True
    """


def symmetry_index_pct(right: Numbers, left: Numbers, *, standard_uncertainty: Numbers | None = None) -> Floats:
    """Difference of the sides as a share of their mean.

    Parameters
    ----------
    right, left : array_like
        Values of the two sides, of the same sign and not both 0. [any unit, the same]
    standard_uncertainty : array_like, optional
        Standard uncertainty of one value; if given, a warning tells where the index is noise. [same unit]

    Returns
    -------
    numpy.ndarray
        100·(R − L)/(½(R + L)), −200 to 200. [%]

    Raises
    ------
    OutOfRangeError
        If the sides differ in sign or both are 0: the index would explode.

    Warns
    -----
    UnsteadyIndexWarning
        If the mean of the sides is under five times its uncertainty.

    Notes
    -----
    *Convention.* Near zero it is unsteady, and the common limit of 10 % is arbitrary. It is twice
    the difference of the shares: 52 to 48 gives 8, not 4.

    References
    ----------
    robinson_1987

    Examples
    --------
    >>> symmetry_index_pct(110, 90).item()
    20.0
    """
    first, second = _sides(right, left)
    mean = (first + second) / 2
    _warn_if_noise(mean, standard_uncertainty)
    return np.asarray(100 * (first - second) / mean)


def right_share_pct(right: Numbers, left: Numbers) -> Floats:
    """Share of the right side in the sum of both.

    Parameters
    ----------
    right, left : array_like
        Values of the two sides, of the same sign and not both 0. [any unit, the same]

    Returns
    -------
    numpy.ndarray
        100·R/(R + L); 50 when even. [%]

    Raises
    ------
    OutOfRangeError
        If the sides differ in sign or both are 0.

    Notes
    -----
    *Convention*: what a left/right balance display shows.

    References
    ----------
    robinson_1987

    Examples
    --------
    >>> right_share_pct(110, 90).item()
    55.0
    """
    first, second = _sides(right, left)
    return np.asarray(100 * first / (first + second))


def shortfall_pct(right: Numbers, left: Numbers) -> Floats:
    """Difference of the sides as a share of the larger one.

    Parameters
    ----------
    right, left : array_like
        Values of the two sides, of the same sign and not both 0. [any unit, the same]

    Returns
    -------
    numpy.ndarray
        100·(R − L)/max(|R|, |L|), −100 to 100. [%]

    Raises
    ------
    OutOfRangeError
        If the sides differ in sign or both are 0.

    Notes
    -----
    *Convention*, common in strength testing.

    References
    ----------
    zifchock_2008

    Examples
    --------
    >>> round(shortfall_pct(110, 90).item(), 1)
    18.2
    """
    first, second = _sides(right, left)
    return np.asarray(100 * (first - second) / np.maximum(np.abs(first), np.abs(second)))


def log_ratio_pct(right: Numbers, left: Numbers) -> Floats:
    """Natural logarithm of the ratio of the sides.

    Parameters
    ----------
    right, left : array_like
        Values of the two sides, both above 0. [any unit, the same]

    Returns
    -------
    numpy.ndarray
        100·ln(R/L); swapping sides only changes the sign. [%]

    Raises
    ------
    OutOfRangeError
        If a value is not above 0.

    Notes
    -----
    *Convention*; additive: the ratio over two steps is the sum of both.

    References
    ----------
    plotnik_2007

    Examples
    --------
    >>> round(log_ratio_pct(110, 90).item(), 1)
    20.1
    """
    first = checked("right", right, above=0, advice=_SAME_SIGN)
    second = checked("left", left, above=0, advice=_SAME_SIGN)
    return np.asarray(100 * np.log(first / second))


def symmetry_angle_pct(right: Numbers, left: Numbers) -> Floats:
    """Angle of the point (left, right) from the line of equal sides, as a share of a right angle.

    Parameters
    ----------
    right, left : array_like
        Values of the two sides, of any sign, not both 0. [any unit, the same]

    Returns
    -------
    numpy.ndarray
        100·(atan2(R, L) − 45°)/90°, brought into −100 to 100. [%]

    Raises
    ------
    OutOfRangeError
        If both sides are 0.

    Notes
    -----
    *Convention.* Bounded and without a reference side, so it does not explode when one side nears zero.
    The sign here is positive for a larger right side.

    References
    ----------
    zifchock_2008

    Examples
    --------
    >>> round(symmetry_angle_pct(110, 90).item(), 2)
    6.34
    >>> symmetry_angle_pct(5, 0).item()
    50.0
    """
    first, second = checked("right", right), checked("left", left)
    if np.any((first == 0) & (second == 0)):
        raise OutOfRangeError("right and left: received 0 and 0; allowed: at least one not 0; leave the pair out")
    away = np.degrees(np.arctan2(first, second)) - 45
    folded = np.where(away > 90, away - 180, np.where(away < -90, away + 180, away))
    return np.asarray(100 * folded / 90)


def difference_of_sides(right: Numbers, left: Numbers) -> Floats:
    """Plain difference of the sides, safe near zero and for signed values.

    Parameters
    ----------
    right, left : array_like
        Values of the two sides. [any unit, the same]

    Returns
    -------
    numpy.ndarray
        R − L. [same unit]

    Raises
    ------
    OutOfRangeError
        If a value is not finite.

    Notes
    -----
    *Convention.* Compare it with the smallest detectable change of the measurement.

    References
    ----------
    weir_2005

    Examples
    --------
    >>> difference_of_sides(2, -1).item()
    3.0
    """
    return np.asarray(checked("right", right) - checked("left", left))


SYMMETRY_INDICES: MappingProxyType[str, Callable[[Numbers, Numbers], Floats]] = MappingProxyType(
    {
        "symmetry index": symmetry_index_pct,
        "right share": right_share_pct,
        "shortfall": shortfall_pct,
        "log ratio": log_ratio_pct,
        "symmetry angle": symmetry_angle_pct,
    }
)


def asymmetry_pct(right: Numbers, left: Numbers, index: str = "symmetry index") -> Floats:
    """Compute one of the named indices.

    Parameters
    ----------
    right, left : array_like
        Values of the two sides. [any unit, the same]
    index : str
        A name of ``SYMMETRY_INDICES``; the symmetry index is the default because most
        of the literature reports it.

    Returns
    -------
    numpy.ndarray
        The index. [%]

    Raises
    ------
    OutOfRangeError
        If the index has no such name or is not defined for the values.

    Notes
    -----
    *Convention.* The same pair gives a different number with each index: always name the index.

    References
    ----------
    robinson_1987
    zifchock_2008

    Examples
    --------
    >>> {name: round(asymmetry_pct(110, 90, name).item(), 1) for name in SYMMETRY_INDICES}
    {'symmetry index': 20.0, 'right share': 55.0, 'shortfall': 18.2, 'log ratio': 20.1, 'symmetry angle': 6.3}
    """
    return chosen("index", index, SYMMETRY_INDICES)(right, left)


def _sides(right: Numbers, left: Numbers) -> tuple[Floats, Floats]:
    first, second = checked("right", right), checked("left", left)
    bad = (first * second < 0) | ((first == 0) & (second == 0))
    if np.any(bad):
        raise OutOfRangeError(
            f"right and left: received {np.broadcast_to(first, bad.shape)[bad][0]:g} and "
            f"{np.broadcast_to(second, bad.shape)[bad][0]:g}; allowed: the same sign and not both 0; {_SAME_SIGN}"
        )
    return first, second


def _warn_if_noise(mean: Floats, standard_uncertainty: Numbers | None) -> None:
    if standard_uncertainty is None:
        return
    spread = checked("standard_uncertainty", standard_uncertainty, at_least=0) / np.sqrt(2)
    noisy = np.abs(mean) < 5 * spread
    if np.any(noisy):
        warnings.warn(
            f"{int(np.sum(noisy))} of {noisy.size} pairs are under five times the uncertainty of their mean: "
            "the index is mostly noise there; report the difference of the sides instead",
            UnsteadyIndexWarning,
            stacklevel=3,
        )
