"""How each task did: how hard it was, and whether it tells those who can from those who cannot."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from autograde.award.errors import AwardError
from autograde.award.reliability import check_confidence, complete_scores
from pedalwright.reliability import item_discrimination

__all__ = ["discrimination_interval", "item_difficulty", "item_discrimination"]

FloatArray = NDArray[np.float64]


def item_difficulty(scores: ArrayLike, max_marks: ArrayLike) -> FloatArray:
    """Find the share of its marks that each task gave on average.

    Parameters
    ----------
    scores : array_like
        Marks, shape (n, k); NaN is left out.
    max_marks : array_like
        Full marks, shape (k,), greater than 0.

    Returns
    -------
    ndarray
        Shape (k,), 0 (nobody earned any) to 1; NaN where no mark is known.

    Examples
    --------
    >>> item_difficulty([[2, 1], [4, 0]], [4, 1]).tolist()
    [0.75, 0.5]
    """
    matrix = np.asarray(scores, dtype=float)
    known = ~np.isnan(matrix)
    counts = known.sum(axis=0)
    sums = np.where(known, matrix, 0.0).sum(axis=0)
    means = np.divide(sums, counts, out=np.full(sums.shape, np.nan), where=counts > 0)
    return np.asarray(means / np.asarray(max_marks, dtype=float))


def discrimination_interval(
    scores: ArrayLike, confidence: float = 0.95, draws: int = 2000, seed: int = 1
) -> tuple[FloatArray, FloatArray]:
    """Find the interval of each task's discrimination by drawing trainees again.

    Parameters
    ----------
    scores : array_like
        Marks without gaps, shape (n, k).
    confidence : float
        Between 0 and 1.
    draws : int
        Bootstrap samples, at least 100.
    seed : int
        Makes the answer repeatable.

    Returns
    -------
    tuple of ndarray
        Lower and upper limit, shape (k,) each: percentiles of the resampled values. NaN where a task never varies.

    Raises
    ------
    AwardError
        If marks are missing or a number is out of range.

    Notes
    -----
    Percentile bootstrap over trainees, all samples at once by their counts.

    References
    ----------
    efron_tibshirani_1993

    Examples
    --------
    >>> low, high = discrimination_interval([[1, 1, 1], [0, 0, 1], [1, 1, 0], [0, 0, 0]] * 20)
    >>> bool(low[0] > 0.5 > high[2])
    True
    """
    matrix = complete_scores(scores)
    check_confidence(confidence)
    if draws < 100:
        raise AwardError(f"{draws} bootstrap samples are too few for an interval; draw at least 100")
    count = matrix.shape[0]
    weights = np.random.default_rng(seed).multinomial(count, np.full(count, 1 / count), size=draws) / count
    values = _weighted_discrimination(matrix, weights)
    tail = 100 * (1 - confidence) / 2
    low, high = np.full((2, matrix.shape[1]), np.nan)
    varies = np.isfinite(values).any(axis=0)
    if varies.any():
        low[varies], high[varies] = np.nanpercentile(values[:, varies], (tail, 100 - tail), axis=0)
    return low, high


def _weighted_discrimination(matrix: FloatArray, weights: FloatArray) -> FloatArray:
    """Correlate tasks with the rest for each row of weights; shape (draws, k)."""
    item = matrix - matrix.mean(axis=0)
    rest = item.sum(axis=1, keepdims=True) - item
    item_mean, rest_mean = weights @ item, weights @ rest
    covariance = weights @ (item * rest) - item_mean * rest_mean
    product = (weights @ item**2 - item_mean**2) * (weights @ rest**2 - rest_mean**2)
    floor = 1e-20 * np.maximum((item**2).mean(axis=0) * (rest**2).mean(axis=0), 1e-300)
    values = np.full(covariance.shape, np.nan)
    np.divide(covariance, np.sqrt(np.maximum(product, floor)), out=values, where=product > floor)
    return values
