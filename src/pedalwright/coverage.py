"""From a standard uncertainty to an interval of a stated coverage."""

import numpy as np
from scipy import stats

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


def coverage_factor(coverage: Numbers = 0.95, degrees_of_freedom: Numbers = np.inf) -> Floats:
    """Factor that widens a standard uncertainty to an interval of a stated coverage.

    Parameters
    ----------
    coverage : array_like
        Probability inside the interval, between 0 and 1. [1]
    degrees_of_freedom : array_like
        Degrees of freedom, above 0; infinite for a well-known uncertainty. [1]

    Returns
    -------
    numpy.ndarray
        Factor k of U = k·u. [1]

    Raises
    ------
    OutOfRangeError
        If the coverage or the degrees of freedom are out of range.

    Notes
    -----
    *Measured law* (Student's distribution).

    References
    ----------
    jcgm_100_2008

    Examples
    --------
    >>> round(coverage_factor(0.95).item(), 2)
    1.96
    """
    share = checked("coverage", coverage, above=0, below=1, advice="give a probability such as 0.95")
    freedom = np.asarray(degrees_of_freedom, dtype=np.float64)
    if not np.all(freedom > 0):
        raise OutOfRangeError(
            f"degrees_of_freedom: received {degrees_of_freedom!r}; allowed: above 0; take at least two readings"
        )
    return np.asarray(stats.t.ppf((1 + share) / 2, freedom))


def effective_degrees_of_freedom(contributions: Numbers, degrees_of_freedom: Numbers) -> Floats:
    """Degrees of freedom of a combined uncertainty.

    Parameters
    ----------
    contributions : array_like, shape (inputs, ...)
        Part |c_i|·u_i of each uncorrelated input, at least 0, not all 0. [unit of the output]
    degrees_of_freedom : array_like, shape (inputs,)
        Degrees of freedom of each input's uncertainty, above 0, infinite allowed. [1]

    Returns
    -------
    numpy.ndarray
        Effective degrees of freedom, infinite if every input's are. [1]

    Raises
    ------
    OutOfRangeError
        If a contribution is negative, all are zero, or degrees of freedom are not above 0.

    Notes
    -----
    *Measured law*, approximate (Welch–Satterthwaite); inputs must be uncorrelated.

    References
    ----------
    jcgm_100_2008

    Examples
    --------
    >>> round(effective_degrees_of_freedom([1.0, 1.0], [10, 10]).item(), 1)
    20.0
    """
    parts = checked("contributions", contributions, at_least=0)
    freedom = np.asarray(degrees_of_freedom, dtype=np.float64)
    if parts.ndim == 0 or freedom.shape != parts.shape[:1] or not np.all(freedom > 0):
        raise OutOfRangeError(
            f"degrees_of_freedom: received {degrees_of_freedom!r}; allowed: one number above 0 for each contribution; "
            "give one a contribution"
        )
    total = checked("combined contribution", np.sum(parts**2, axis=0), above=0) ** 2
    share = np.tensordot(1 / freedom, parts**4, axes=1)
    return np.asarray(np.where(share > 0, total / np.where(share > 0, share, 1.0), np.inf))
