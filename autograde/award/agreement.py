"""How far two or more raters agree."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy import stats

from autograde.award.errors import AwardError
from autograde.award.reliability import Estimate, check_confidence

__all__ = ["Kappa", "agreement_table", "intraclass_correlation", "weighted_kappa"]

FloatArray = NDArray[np.float64]
Weights: TypeAlias = Literal["none", "linear", "quadratic"]
Form: TypeAlias = Literal["1,1", "2,1", "3,1", "1,k", "2,k", "3,k"]


@dataclass(frozen=True)
class Kappa:
    """Agreement beyond chance, with its interval and the agreement itself as a share of 1."""

    estimate: Estimate
    standard_error: float
    observed: float
    expected: float


def agreement_table(first: Sequence[object], second: Sequence[object], categories: Sequence[object]) -> FloatArray:
    """Count how two raters judged the same pieces of work.

    Parameters
    ----------
    first, second : sequence
        One judgement a piece, in the same order, equally long.
    categories : sequence
        All possible judgements from lowest to highest, each once.

    Returns
    -------
    ndarray
        Shape (c, c): rows for the first rater, columns for the second.

    Raises
    ------
    AwardError
        If the lengths differ or a judgement is none of the categories.

    Examples
    --------
    >>> agreement_table([0, 1, 2, 2], [0, 2, 2, 2], [0, 1, 2]).tolist()
    [[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 0.0, 2.0]]
    """
    if len(first) != len(second):
        raise AwardError(f"one rater judged {len(first)} pieces, the other {len(second)}; compare the same pieces")
    order = {category: index for index, category in enumerate(categories)}
    unknown = [judgement for judgement in (*first, *second) if judgement not in order]
    if unknown:
        raise AwardError(f"{unknown[0]!r} is none of the judgements {list(categories)}")
    table = np.zeros((len(order), len(order)))
    np.add.at(table, ([order[j] for j in first], [order[j] for j in second]), 1.0)
    return table


def weighted_kappa(table: ArrayLike, weights: Weights | ArrayLike = "quadratic", confidence: float = 0.95) -> Kappa:
    """Find the agreement of two raters beyond chance.

    Parameters
    ----------
    table : array_like
        Counts, shape (c, c), c ≥ 2: rows for the first rater, columns for the second, categories in order.
    weights : {"none", "linear", "quadratic"} or array_like
        How much credit a near miss gets; as an array: agreement weights, shape (c, c), 1 on the diagonal.
    confidence : float
        Of the interval, between 0 and 1.

    Returns
    -------
    Kappa
        With the large-sample standard error; its interval is cut off at 1.

    Raises
    ------
    AwardError
        If the table is not square, holds no counts, or both raters used one category only.

    Notes
    -----
    κ_w = (p_o − p_e)/(1 − p_e). The large-sample standard error is not to be trusted for fewer than some 30 pieces.

    References
    ----------
    cohen_1960, cohen_1968, fleiss_cohen_everitt_1969

    Examples
    --------
    >>> round(weighted_kappa([[20, 5], [10, 15]], "none").estimate.value, 3)
    0.4
    """
    check_confidence(confidence)
    counts = np.asarray(table, dtype=float)
    if counts.ndim != 2 or counts.shape[0] != counts.shape[1] or counts.shape[0] < 2:
        raise AwardError(f"received a table of shape {counts.shape}; it needs as many rows as columns, at least 2")
    total = counts.sum()
    if not (np.isfinite(counts).all() and (counts >= 0).all() and total > 0):
        raise AwardError("the table of agreement needs counts of 0 or more, and at least one piece of work")
    credit, shares = _credit(weights, counts.shape[0]), counts / total
    rows, columns = shares.sum(axis=1), shares.sum(axis=0)
    observed, expected = float((credit * shares).sum()), float(rows @ credit @ columns)
    if math.isclose(expected, 1.0):
        raise AwardError("both raters gave every piece the same judgement, so chance explains their agreement")
    value = (observed - expected) / (1 - expected)
    average = (credit @ columns)[:, None] + (rows @ credit)[None, :]
    spread = float((shares * (credit * (1 - expected) - average * (1 - observed)) ** 2).sum())
    variance = (spread - (observed * expected - 2 * expected + observed) ** 2) / (total * (1 - expected) ** 4)
    error = math.sqrt(max(0.0, float(variance)))
    reach = float(stats.norm.ppf(0.5 + confidence / 2)) * error
    return Kappa(Estimate(value, value - reach, min(1.0, value + reach), confidence), error, observed, expected)


def intraclass_correlation(ratings: ArrayLike, form: Form = "2,1", confidence: float = 0.95) -> Estimate:
    """Find the agreement of raters who gave numbers.

    Parameters
    ----------
    ratings : array_like
        Marks without gaps, shape (n, k): n ≥ 2 pieces of work, k ≥ 2 raters.
    form : {"1,1", "2,1", "3,1", "1,k", "2,k", "3,k"}
        1: every piece has raters of its own; 2: the same raters, taken as a sample, differences in severity count;
        3: these raters only, severity does not count. The second sign: one rater's mark, or the mean of all.
    confidence : float
        Of the interval, between 0 and 1.

    Returns
    -------
    Estimate
        The coefficient with its interval.

    Raises
    ------
    AwardError
        If ratings are missing, too few or do not vary, or the form is unknown.

    References
    ----------
    shrout_fleiss_1979

    Examples
    --------
    >>> ratings = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
    >>> round(intraclass_correlation(ratings, "2,1").value, 2)
    0.29
    """
    check_confidence(confidence)
    matrix = np.asarray(ratings, dtype=float)
    if matrix.ndim != 2 or min(matrix.shape) < 2 or not np.isfinite(matrix).all():
        raise AwardError(f"received ratings of shape {matrix.shape}; needed: 2 pieces, 2 raters or more, and no gaps")
    if form not in ("1,1", "2,1", "3,1", "1,k", "2,k", "3,k"):
        raise AwardError(f"{form!r} is no form of the coefficient; choose 1,1 2,1 3,1 1,k 2,k or 3,k")
    pieces, raters = matrix.shape
    grand = matrix.mean()
    between = raters * ((matrix.mean(axis=1) - grand) ** 2).sum() / (pieces - 1)
    severity = pieces * ((matrix.mean(axis=0) - grand) ** 2).sum() / (raters - 1)
    within = ((matrix - matrix.mean(axis=1, keepdims=True)) ** 2).sum() / (pieces * (raters - 1))
    error = (within * pieces * (raters - 1) - severity * (raters - 1)) / ((pieces - 1) * (raters - 1))
    if not between > 0:
        raise AwardError("all pieces of work have the same mean, so raters cannot be told apart from chance")
    squares = _Squares(float(between), float(severity), float(within), float(max(error, 0.0)), pieces, raters)
    single, low, high = _single(squares, form[0], confidence)
    if form.endswith("k"):
        single, low, high = (raters * r / (1 + (raters - 1) * r) for r in (single, low, high))
    return Estimate(single, low, high, confidence)


@dataclass(frozen=True)
class _Squares:
    """Mean squares of the two-way table."""

    between: float
    severity: float
    within: float
    error: float
    pieces: int
    raters: int


def _single(s: _Squares, model: str, confidence: float) -> tuple[float, float, float]:
    """Coefficient of one rater with its limits."""
    n, k, upper = s.pieces, s.raters, 0.5 + confidence / 2
    if model == "2":
        return _single_two_way_random(s, upper)
    noise, freedom = (s.within, n * (k - 1)) if model == "1" else (s.error, (n - 1) * (k - 1))
    if noise <= 0:
        return 1.0, 1.0, 1.0
    ratio = s.between / noise
    low, high = ratio / stats.f.ppf(upper, n - 1, freedom), ratio * stats.f.ppf(upper, freedom, n - 1)
    value, least, most = ((f - 1) / (f + k - 1) for f in (ratio, float(low), float(high)))
    return value, least, most


def _single_two_way_random(s: _Squares, upper: float) -> tuple[float, float, float]:
    n, k = s.pieces, s.raters
    value = (s.between - s.error) / (s.between + (k - 1) * s.error + k * (s.severity - s.error) / n)
    if s.error <= 0:
        return value, math.nan, math.nan
    ratio = s.severity / s.error
    top = (k - 1) * (n - 1) * (k * value * ratio + n * (1 + (k - 1) * value) - k * value) ** 2
    bottom = (n - 1) * (k * value * ratio) ** 2 + (n * (1 + (k - 1) * value) - k * value) ** 2
    freedom = top / bottom
    f_low, f_high = stats.f.ppf(upper, n - 1, freedom), stats.f.ppf(upper, freedom, n - 1)
    both = k * s.severity + (k * n - k - n) * s.error
    low = n * (s.between - f_low * s.error) / (f_low * both + n * s.between)
    high = n * (f_high * s.between - s.error) / (both + n * f_high * s.between)
    return value, float(low), float(high)


def _credit(weights: Weights | ArrayLike, size: int) -> FloatArray:
    if isinstance(weights, str):
        if weights not in ("none", "linear", "quadratic"):
            raise AwardError(f"{weights!r} is no kind of weights; choose none, linear or quadratic, or give a matrix")
        steps = np.abs(np.subtract.outer(np.arange(size), np.arange(size))) / (size - 1)
        return np.asarray({"none": steps == 0, "linear": 1 - steps, "quadratic": 1 - steps**2}[weights], dtype=float)
    matrix = np.asarray(weights, dtype=float)
    if matrix.shape != (size, size) or not np.allclose(np.diag(matrix), 1.0):
        raise AwardError(f"the weights need the shape {(size, size)} and ones on the diagonal; received {matrix.shape}")
    return matrix
