"""How far the marks of a test can be trusted: internal consistency, item quality, dependability of a cut score."""

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


def cronbach_alpha(scores: Numbers) -> float:
    """Find the internal consistency of a test.

    Parameters
    ----------
    scores : array_like, shape (persons, items)
        Scores without gaps, at least 2 × 2. [marks]

    Returns
    -------
    float
        Alpha, at most 1; can be negative. [1]

    Raises
    ------
    OutOfRangeError
        If the table is too small, has gaps, or the totals do not vary.

    Notes
    -----
    *Measured law*: α = k/(k − 1)·(1 − Σs_i²/s_X²). A lower bound of reliability; it grows with the number of items.

    References
    ----------
    cronbach_1951

    Examples
    --------
    >>> round(cronbach_alpha([[1, 1], [2, 2], [3, 2]]), 3)
    0.857
    """
    table = _score_table(scores)
    count = table.shape[1]
    total = checked("variance of the totals", table.sum(axis=1).var(ddof=1), above=0, advice="give persons who differ")
    return float(count / (count - 1) * (1 - table.var(axis=0, ddof=1).sum() / total))


def kr20(right_or_wrong: Numbers) -> float:
    """Find the internal consistency of items marked right or wrong.

    Parameters
    ----------
    right_or_wrong : array_like, shape (persons, items)
        1 for right, 0 for wrong, at least 2 × 2. [1]

    Returns
    -------
    float
        Kuder-Richardson formula 20; equals alpha for such items. [1]

    Raises
    ------
    OutOfRangeError
        If a score is neither 0 nor 1, or as `cronbach_alpha`.

    Notes
    -----
    *Measured law.*

    References
    ----------
    kuder_richardson_1937

    Examples
    --------
    >>> round(kr20([[1, 1], [1, 0], [0, 0]]), 3)
    0.667
    """
    return cronbach_alpha(_binary(right_or_wrong))


def kr21(right_or_wrong: Numbers) -> float:
    """Find the internal consistency from the mean and the spread of the totals alone.

    Parameters
    ----------
    right_or_wrong : array_like, shape (persons, items)
        1 for right, 0 for wrong, at least 2 × 2. [1]

    Returns
    -------
    float
        Kuder-Richardson formula 21; never above formula 20, equal for equally hard items. [1]

    Raises
    ------
    OutOfRangeError
        As `kr20`.

    Notes
    -----
    *Measured law* for equally hard items. The spread divides by persons less one, the item variances by the same,
    so that both formulas agree in that case.

    References
    ----------
    kuder_richardson_1937

    Examples
    --------
    >>> round(kr21([[1, 1], [1, 0], [0, 0]]), 3)
    0.5
    """
    table = _binary(right_or_wrong)
    persons, count = table.shape
    totals = table.sum(axis=1)
    variance = checked("variance of the totals", totals.var(ddof=1), above=0, advice="give persons who differ")
    mean = totals.mean()
    item_variance = mean * (count - mean) / count * persons / (persons - 1)
    return float(count / (count - 1) * (1 - item_variance / variance))


def item_difficulty(scores: Numbers, most: Numbers = 1.0) -> Floats:
    """Mean share of the marks that each item earned.

    Parameters
    ----------
    scores : array_like, shape (persons, items)
        Scores without gaps, at least 2 × 2, from 0 to the most. [marks]
    most : array_like, shape (items)
        Marks an item can earn, above 0. [marks]

    Returns
    -------
    numpy.ndarray, shape (items)
        Share, 0 (nobody) to 1 (everybody): high for an easy item. [1]

    Raises
    ------
    OutOfRangeError
        If the table is too small or a score is out of range.

    Notes
    -----
    *Measured quantity.*

    References
    ----------
    cronbach_1951

    Examples
    --------
    >>> item_difficulty([[1, 0], [1, 1]]).tolist()
    [1.0, 0.5]
    """
    table = _score_table(scores)
    full = checked("most", most, above=0)
    shares = checked("scores over the most", table / full, at_least=0, at_most=1, advice="check the marks of each item")
    return np.asarray(shares.mean(axis=0))


def item_discrimination(scores: Numbers, *, corrected: bool = True) -> Floats:
    """How well each item separates persons who do well from those who do not.

    Parameters
    ----------
    scores : array_like, shape (persons, items)
        Scores without gaps, at least 2 × 2. [marks]
    corrected : bool
        Compare with the rest of the test; otherwise with the whole, which flatters the item.

    Returns
    -------
    numpy.ndarray, shape (items)
        Point-biserial correlation, −1 to 1; 0 where an item or the rest does not vary. [1]

    Raises
    ------
    OutOfRangeError
        If the table is too small or has gaps.

    Notes
    -----
    *Measured law* (Pearson correlation of the item with the score).

    References
    ----------
    cronbach_1951

    Examples
    --------
    >>> item_discrimination([[1, 1, 1], [1, 0, 1], [0, 0, 0]], corrected=False).round(2).tolist()
    [0.94, 0.76, 0.94]
    """
    table = _score_table(scores)
    against = table.sum(axis=1, keepdims=True) - (table if corrected else 0.0)
    item, score = table - table.mean(axis=0), against - against.mean(axis=0)
    spread = np.sqrt((item**2).sum(axis=0) * (score**2).sum(axis=0))
    varies = spread > 1e-12 * max(1.0, float(np.abs(table).max()) ** 2)
    return np.asarray(np.where(varies, (item * score).sum(axis=0) / np.where(varies, spread, 1.0), 0.0))


def livingston_k2(reliability: Numbers, standard_deviation: Numbers, mean: Numbers, cut: Numbers) -> Floats:
    """Dependability of decisions at a cut score.

    Parameters
    ----------
    reliability : array_like
        Reliability of the totals, 0 to 1. [1]
    standard_deviation : array_like
        Spread of the totals, at least 0. [marks]
    mean : array_like
        Mean of the totals. [marks]
    cut : array_like
        Cut score; with no spread it must differ from the mean. [marks]

    Returns
    -------
    numpy.ndarray
        K², at least the reliability: a cut far from the mean is easier to decide. [1]

    Raises
    ------
    OutOfRangeError
        If an input is out of range, or neither spread nor distance is left.

    Notes
    -----
    *Measured law*: K² = (ρσ² + (μ − C)²)/(σ² + (μ − C)²).

    References
    ----------
    livingston_1972

    Examples
    --------
    >>> round(livingston_k2(0.8, 5.0, 30.0, 25.0).item(), 3)
    0.9
    """
    rho = checked("reliability", reliability, at_least=0, at_most=1)
    variance = checked("standard_deviation", standard_deviation, at_least=0) ** 2
    away = (checked("mean", mean) - checked("cut", cut)) ** 2
    whole = checked("spread and distance of the cut", variance + away, above=0, advice="give persons who differ")
    return np.asarray((rho * variance + away) / whole)


def _score_table(scores: Numbers) -> Floats:
    table = checked("scores", scores, advice="give a complete table; leave out persons with gaps")
    if table.ndim != 2 or min(table.shape) < 2:
        raise OutOfRangeError(f"scores: received shape {table.shape}; allowed: at least 2 persons × 2 items; add some")
    return table


def _binary(scores: Numbers) -> Floats:
    table = _score_table(scores)
    if not np.all((table == 0) | (table == 1)):
        raise OutOfRangeError(
            "scores: received a number other than 0 and 1; allowed: 0 and 1; use cronbach_alpha instead"
        )
    return table
