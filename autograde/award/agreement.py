"""How far two or more raters agree: kappa with its interval; for numbers the intraclass correlation."""

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
from pedalwright.agreement import intraclass_correlation

__all__ = ["Kappa", "agreement_table", "intraclass_correlation", "weighted_kappa"]

FloatArray = NDArray[np.float64]
Weights: TypeAlias = Literal["none", "linear", "quadratic"]


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
