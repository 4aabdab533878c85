"""How well raters agree on categories, ranks or marks, beyond chance."""

from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

LEVELS = ("nominal", "ordinal", "interval", "ratio")


def cohen_kappa(table: Numbers, weights: str = "none") -> float:
    """Agreement of two raters beyond chance.

    Parameters
    ----------
    table : array_like, shape (categories, categories)
        Counts, rows of the first and columns of the second rater, at least 2 categories, not all zero. [1]
    weights : {"none", "linear", "quadratic"}
        How much a disagreement by more than one category weighs; for ordered categories only.

    Returns
    -------
    float
        Kappa, at most 1. [1]

    Raises
    ------
    OutOfRangeError
        If the table is not square, empty, or both raters used one category only.

    Notes
    -----
    *Measured law.* It depends on how common the categories are.

    References
    ----------
    cohen_1960
    cohen_1968

    Examples
    --------
    >>> round(cohen_kappa([[20, 5], [10, 15]]), 3)
    0.4
    """
    counts = checked("table", table, at_least=0)
    if counts.ndim != 2 or counts.shape[0] != counts.shape[1] or counts.shape[0] < 2:
        raise OutOfRangeError(f"table: received shape {counts.shape}; allowed: square, at least 2 × 2; count again")
    total = checked("number of ratings", counts.sum(), above=0, advice="give a table that is not empty")
    steps = np.abs(np.subtract.outer(np.arange(len(counts)), np.arange(len(counts)))).astype(np.float64)
    distance = chosen(
        "weights", weights, {"none": (steps > 0).astype(np.float64), "linear": steps, "quadratic": steps**2}
    )
    expected = np.outer(counts.sum(axis=1), counts.sum(axis=0)) / total
    by_chance = checked(
        "disagreement by chance", (distance * expected).sum(), above=0, advice="kappa needs two categories in use"
    )
    return float(1 - (distance * counts).sum() / by_chance)


def count_table(first: Iterable[Any], second: Iterable[Any], categories: Iterable[Any]) -> Floats:
    """Count how two raters used the same categories.

    Parameters
    ----------
    first, second : iterable
        Ratings of the same subjects by two raters.
    categories : iterable
        The categories, in order.

    Returns
    -------
    numpy.ndarray, shape (categories, categories)
        Counts, rows of the first rater. [1]

    Raises
    ------
    OutOfRangeError
        If the lengths differ or a rating is not a category.

    Notes
    -----
    *Convention.*

    References
    ----------
    cohen_1960

    Examples
    --------
    >>> count_table(["refer", "fit"], ["refer", "refer"], ["fit", "refer"]).tolist()
    [[0.0, 1.0], [0.0, 1.0]]
    """
    one, other, names = list(first), list(second), list(categories)
    unknown = [rating for rating in one + other if rating not in names]
    if len(one) != len(other) or unknown:
        raise OutOfRangeError(
            f"ratings: received {len(one)} and {len(other)}, unknown: {unknown[:1]}; "
            f"allowed: the same number, each one of {names}; mend the ratings"
        )
    counts = np.zeros((len(names), len(names)))
    for row, column in zip(one, other, strict=True):
        counts[names.index(row), names.index(column)] += 1
    return counts


def fleiss_kappa(counts: Numbers) -> float:
    """Agreement of several raters beyond chance, not always the same raters.

    Parameters
    ----------
    counts : array_like, shape (subjects, categories)
        How many raters put each subject in each category; the same number of raters, at least 2, for each. [1]

    Returns
    -------
    float
        Kappa, at most 1. [1]

    Raises
    ------
    OutOfRangeError
        If the numbers of raters differ or only one category was used.

    Notes
    -----
    *Measured law.*

    References
    ----------
    fleiss_1971

    Examples
    --------
    >>> round(fleiss_kappa([[3, 0], [0, 3], [2, 1]]), 2)
    0.55
    """
    table = checked("counts", counts, at_least=0)
    raters = table.sum(axis=-1)
    if table.ndim != 2 or np.ptp(raters) > 0 or raters[0] < 2:
        raise OutOfRangeError(
            "counts: received rows with different or too few raters; allowed: the same number, at least 2, "
            "in each row; use krippendorff_alpha for gaps"
        )
    agreed = ((table**2).sum(axis=-1) - raters) / (raters * (raters - 1))
    chance = ((table.sum(axis=0) / table.sum()) ** 2).sum()
    checked("disagreement by chance", 1 - chance, above=0, advice="kappa needs two categories in use")
    return float((agreed.mean() - chance) / (1 - chance))


def krippendorff_alpha(ratings: Any, level: str = "nominal") -> float:
    """Agreement of any number of raters, gaps allowed.

    Parameters
    ----------
    ratings : array_like, shape (raters, subjects)
        Numbers; NaN where a rater did not rate. [any unit]
    level : {"nominal", "ordinal", "interval", "ratio"}
        What the numbers mean: names, ranks, distances, or distances from a true zero.

    Returns
    -------
    float
        Alpha, at most 1. [1]

    Raises
    ------
    OutOfRangeError
        If no subject has two ratings, nothing varies, the level is not known, or ratios are negative.

    Notes
    -----
    *Measured law*: 1 less observed over expected disagreement.

    References
    ----------
    krippendorff_2019

    Examples
    --------
    >>> round(krippendorff_alpha([[1, 2, 3, 3], [1, 2, 3, 2]]), 3)
    0.667
    """
    table = np.asarray(ratings, dtype=np.float64)
    if table.ndim != 2 or level not in LEVELS or np.any(np.isinf(table)):
        raise OutOfRangeError(
            f"ratings, level: received shape {table.shape} and {level!r}; allowed: raters × subjects and one of "
            f"{', '.join(LEVELS)}; give NaN for a missing rating"
        )
    pairable = table[:, np.sum(~np.isnan(table), axis=0) >= 2]
    values, index = np.unique(pairable[~np.isnan(pairable)], return_inverse=True)
    if values.size < 2:
        raise OutOfRangeError(
            "ratings: received fewer than two different values; allowed: at least two; nothing to compare"
        )
    counts = np.stack([np.sum(pairable == value, axis=0) for value in values], axis=-1).astype(np.float64)
    raters = counts.sum(axis=-1, keepdims=True)
    together = (counts / (raters - 1)).T @ counts - np.diag((counts / (raters - 1)).sum(axis=0))
    sizes = np.bincount(index).astype(np.float64)
    distance = _squared_distance(values, sizes, level)
    observed = (together * distance).sum()
    expected = (np.outer(sizes, sizes) * distance).sum() / (sizes.sum() - 1)
    return float(1 - observed / expected)


def _squared_distance(values: Floats, sizes: Floats, level: str) -> Floats:
    if level == "nominal":
        return 1.0 - np.eye(len(values))
    if level == "ordinal":
        upto = np.cumsum(sizes) - sizes / 2
        return np.asarray(np.subtract.outer(upto, upto) ** 2)
    gap: NDArray[np.float64] = np.subtract.outer(values, values)
    if level == "interval":
        return gap**2
    checked("ratings", values, at_least=0, advice="ratios need a true zero; use the interval level")
    total = np.add.outer(values, values)
    return np.asarray((gap / np.where(total > 0, total, 1.0)) ** 2)
