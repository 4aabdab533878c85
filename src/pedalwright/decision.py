"""Is the value inside its window? Inside, outside, or not sure."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

INSIDE = "inside"
OUTSIDE = "outside"
NOT_SURE = "not sure"


@dataclass(frozen=True)
class Decision:
    """A measured value against a window.

    Parameters
    ----------
    probability_inside : numpy.ndarray
        Probability that the value itself lies in the window. [1]
    verdict : numpy.ndarray of str
        "inside", "outside" or "not sure".

    Examples
    --------
    >>> decide(30.0, 1.0, 25.0, 35.0).verdict.item()
    'inside'
    """

    probability_inside: Floats
    verdict: NDArray[Any]


def probability_inside(
    value: Numbers,
    standard_uncertainty: Numbers,
    lower: Numbers = -np.inf,
    upper: Numbers = np.inf,
    degrees_of_freedom: Numbers = np.inf,
) -> Floats:
    """Probability that a measured quantity lies in a window.

    Parameters
    ----------
    value : array_like
        Measured value. [any unit]
    standard_uncertainty : array_like
        Its standard uncertainty, at least 0. [same unit]
    lower, upper : array_like
        Ends of the window, lower not above upper; infinite for an open end. [same unit]
    degrees_of_freedom : array_like
        Degrees of freedom of the uncertainty, above 0. [1]

    Returns
    -------
    numpy.ndarray
        Probability, 0 to 1. [1]

    Raises
    ------
    OutOfRangeError
        If the uncertainty is negative, the window is upside down or not a number.

    Notes
    -----
    *Measured law* (normal or Student distribution around the value). It takes nothing for granted
    about which values are common among riders.

    References
    ----------
    jcgm_106_2012

    Examples
    --------
    >>> round(probability_inside(34.0, 2.2, 25.0, 35.0).item(), 2)
    0.68
    """
    middle = checked("value", value)
    spread = checked("standard_uncertainty", standard_uncertainty, at_least=0)
    low, high = _window(lower, upper)
    freedom = np.asarray(degrees_of_freedom, dtype=np.float64)
    if not np.all(freedom > 0):
        raise OutOfRangeError(
            f"degrees_of_freedom: received {degrees_of_freedom!r}; allowed: above 0; take at least two readings"
        )
    exact = (middle >= low) & (middle <= high)
    width = np.where(spread > 0, spread, 1.0)
    with np.errstate(over="ignore"):  # a window many uncertainties away is infinitely far
        below_high, below_low = (stats.t.cdf((end - middle) / width, freedom) for end in (high, low))
    inside = below_high - below_low
    return np.asarray(np.where(spread > 0, inside, exact.astype(np.float64)))


def decide(
    value: Numbers,
    standard_uncertainty: Numbers,
    lower: Numbers = -np.inf,
    upper: Numbers = np.inf,
    *,
    degrees_of_freedom: Numbers = np.inf,
    confidence: float = 0.95,
) -> Decision:
    """Say inside, outside or not sure, at a stated confidence.

    Parameters
    ----------
    value, standard_uncertainty, lower, upper, degrees_of_freedom : array_like
        As for `probability_inside`. [any unit]
    confidence : float
        Probability from which a verdict is given, from 0.5 up to, not including, 1. [1]

    Returns
    -------
    Decision
        Probability and verdict. [1]

    Raises
    ------
    OutOfRangeError
        As `probability_inside`, and if the confidence is out of range.

    Notes
    -----
    *Measured law* for the probability; the confidence is a *convention*. "Not sure" is an honest
    answer: measure again, measure better, or leave the position alone.

    References
    ----------
    jcgm_106_2012

    Examples
    --------
    >>> decide([30.0, 34.0, 45.0], 2.2, 25.0, 35.0).verdict.tolist()
    ['inside', 'not sure', 'outside']
    """
    needed = checked("confidence", confidence, at_least=0.5, below=1, advice="give a probability such as 0.95")
    inside = probability_inside(value, standard_uncertainty, lower, upper, degrees_of_freedom)
    verdict = np.where(inside >= needed, INSIDE, np.where(1 - inside >= needed, OUTSIDE, NOT_SURE))
    return Decision(inside, verdict)


def uncertainty_needed(lower: Numbers, upper: Numbers, confidence: Numbers = 0.95) -> Floats:
    """Largest standard uncertainty with which a value can ever be called inside.

    Parameters
    ----------
    lower, upper : array_like
        Ends of the window, both finite. [any unit]
    confidence : array_like
        Probability from which a verdict is given, between 0 and 1. [1]

    Returns
    -------
    numpy.ndarray
        Standard uncertainty at which even a value in the middle is only just inside. [same unit]

    Raises
    ------
    OutOfRangeError
        If the window is upside down or open, or the confidence is out of range.

    Notes
    -----
    *Measured law* (normal distribution). An instrument with a larger uncertainty can say "outside" or
    "not sure" of this window, never "inside".

    References
    ----------
    jcgm_106_2012

    Examples
    --------
    >>> round(uncertainty_needed(25.0, 35.0).item(), 2)
    2.55
    """
    low, high = _window(checked("lower", lower), checked("upper", upper))
    share = checked("confidence", confidence, above=0, below=1, advice="give a probability such as 0.95")
    return np.asarray((high - low) / (2 * stats.norm.ppf((1 + share) / 2)))


def _window(lower: Numbers, upper: Numbers) -> tuple[Floats, Floats]:
    low = np.asarray(lower, dtype=np.float64)
    high = np.asarray(upper, dtype=np.float64)
    if not np.all(low <= high):
        raise OutOfRangeError(
            f"window: received {low} to {high}; allowed: lower end not above upper end; swap or mend the ends"
        )
    return low, high
