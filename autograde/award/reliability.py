"""How far marks can be trusted: internal consistency with its interval, standard error of measurement."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import stats

from autograde.award.errors import AwardError
from pedalwright import reliability as _statistics
from pedalwright.errors import PedalwrightError

__all__ = [
    "Estimate",
    "cronbach_alpha",
    "feldt_interval",
    "kr20",
    "standard_error_of_measurement",
]

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Estimate:
    """A statistic with its interval and the confidence of that interval (0 to 1)."""

    value: float
    low: float
    high: float
    confidence: float

    def __str__(self) -> str:
        return f"{self.value:.2f} ({self.confidence:.0%} interval {self.low:.2f} to {self.high:.2f})"


def cronbach_alpha(scores: ArrayLike, confidence: float = 0.95) -> Estimate:
    """Estimate the internal consistency of a set of tasks.

    Parameters
    ----------
    scores : array_like
        Marks without gaps, shape (n, k), n ≥ 2 trainees, k ≥ 2 tasks.
    confidence : float
        Of the interval, between 0 and 1.

    Returns
    -------
    Estimate
        Coefficient alpha with the interval of `feldt_interval`.

    Raises
    ------
    AwardError
        If marks are missing, too few, or all totals are equal.

    Notes
    -----
    α = k/(k − 1) · (1 − Σ s_i²/s_X²). It is a lower bound of reliability when the tasks measure one thing in
    different scales; it does not show that they measure one thing. With few trainees the interval is wide, and it is
    the interval that counts.

    References
    ----------
    cronbach_1951, feldt_1965

    Examples
    --------
    A perfect scale of five tasks and six trainees, each task passed by one trainee more than the next:

    >>> scores = [[1] * passed + [0] * (5 - passed) for passed in range(6)]
    >>> round(cronbach_alpha(scores).value, 4)
    0.8333
    """
    return _with_interval(_statistics.cronbach_alpha, scores, confidence)


def kr20(scores: ArrayLike, confidence: float = 0.95) -> Estimate:
    """Estimate the internal consistency of right-or-wrong tasks.

    Parameters
    ----------
    scores : array_like
        Zeros and ones, shape (n, k).
    confidence : float
        Of the interval, between 0 and 1.

    Returns
    -------
    Estimate
        The Kuder-Richardson coefficient 20, which is alpha for such tasks.

    Raises
    ------
    AwardError
        If another value than 0 or 1 occurs, and as `cronbach_alpha`.

    References
    ----------
    kuder_richardson_1937, feldt_1965

    Examples
    --------
    >>> round(kr20([[1, 1], [0, 0], [1, 1], [0, 1]]).value, 4)
    0.7273
    """
    return _with_interval(_statistics.kr20, scores, confidence)


def feldt_interval(alpha: float, trainees: int, tasks: int, confidence: float = 0.95) -> tuple[float, float]:
    """Find the interval of a coefficient alpha.

    Parameters
    ----------
    alpha : float
        The estimate, at most 1.
    trainees, tasks : int
        At least 2 each.
    confidence : float
        Between 0 and 1.

    Returns
    -------
    tuple of float
        Lower and upper limit.

    Raises
    ------
    AwardError
        If a number is out of range.

    Notes
    -----
    (1 − α)/(1 − α̂) follows an F distribution with n − 1 and (n − 1)(k − 1) degrees of freedom.

    References
    ----------
    feldt_1965, feldt_woodruff_salih_1987

    Examples
    --------
    >>> low, high = feldt_interval(0.85, trainees=89, tasks=7)
    >>> round(low, 4), round(high, 4)
    (0.7971, 0.8931)
    """
    check_confidence(confidence)
    if trainees < 2 or tasks < 2 or not alpha <= 1:
        raise AwardError(f"received alpha {alpha!r}, {trainees} trainees, {tasks} tasks; needed are ≤ 1, ≥ 2 and ≥ 2")
    degrees = (trainees - 1, (trainees - 1) * (tasks - 1))
    tail = (1 - confidence) / 2
    low, high = (float(1 - (1 - alpha) * stats.f.ppf(share, *degrees)) for share in (1 - tail, tail))
    return low, high


def standard_error_of_measurement(sd: float, reliability: float) -> float:
    """Find the standard error of one trainee's total.

    Parameters
    ----------
    sd : float
        Standard deviation of the totals, at least 0.
    reliability : float
        At most 1; a negative estimate counts as 0.

    Returns
    -------
    float
        In the unit of `sd`.

    Raises
    ------
    AwardError
        If a number is out of range.

    Notes
    -----
    SEM = SD·√(1 − reliability).

    Examples
    --------
    >>> round(standard_error_of_measurement(3, 0.90), 3)
    0.949
    """
    if not (math.isfinite(sd) and sd >= 0 and reliability <= 1):
        raise AwardError(f"received standard deviation {sd!r} and reliability {reliability!r}; allowed are ≥ 0 and ≤ 1")
    return sd * math.sqrt(1 - max(0.0, reliability))


def _with_interval(coefficient: Callable[[FloatArray], float], scores: ArrayLike, confidence: float) -> Estimate:
    matrix = complete_scores(scores)
    trainees, tasks = matrix.shape
    totals = matrix.sum(axis=1)
    if np.ptp(totals) <= 1e-9 * max(1.0, float(np.abs(totals).max())):
        raise AwardError("all trainees have the same total, so reliability cannot be estimated; more work is needed")
    try:
        value = coefficient(matrix)
    except PedalwrightError as error:
        raise AwardError(f"reliability cannot be estimated: {error}") from error
    return Estimate(value, *feldt_interval(value, trainees, tasks, confidence), confidence)


def complete_scores(scores: ArrayLike) -> FloatArray:
    """Take marks as a matrix without gaps, or say what is missing."""
    matrix: NDArray[Any] = np.asarray(scores, dtype=float)
    if matrix.ndim != 2 or min(matrix.shape) < 2:
        raise AwardError(f"received marks of shape {matrix.shape}; needed are at least 2 trainees and 2 tasks")
    if not np.isfinite(matrix).all():
        raise AwardError("marks are missing; leave out the trainees that wait for a person's marks")
    return matrix


def check_confidence(confidence: float) -> None:
    """Refuse a confidence that is none."""
    if not 0 < confidence < 1:
        raise AwardError(f"received confidence {confidence!r}; give a number between 0 and 1, such as 0.95")
