"""How well raters or instruments agree on a measured quantity: intraclass correlation."""

from dataclasses import dataclass

import numpy as np
from scipy import stats

from pedalwright._choices import chosen
from pedalwright._typing import Numbers
from pedalwright.errors import OutOfRangeError, checked

ICC_FORMS = {
    "1,1": "each subject rated by other raters, one rating used",
    "2,1": "same raters, taken as a sample, one rating used, absolute agreement",
    "3,1": "same raters, only these, one rating used, consistency",
    "1,k": "as 1,1, mean of the ratings used",
    "2,k": "as 2,1, mean of the ratings used",
    "3,k": "as 3,1, mean of the ratings used",
}


@dataclass(frozen=True)
class Correlation:
    """An intraclass correlation with its interval.

    Parameters
    ----------
    value : float
        The estimate; can be negative. [1]
    lower, upper : float
        Ends of the confidence interval. [1]
    form : str
        A name of ``ICC_FORMS``.

    Examples
    --------
    >>> intraclass_correlation([[1, 2], [3, 4], [5, 6]], "3,1").form
    '3,1'
    """

    value: float
    lower: float
    upper: float
    form: str


def intraclass_correlation(ratings: Numbers, form: str = "2,1", confidence: float = 0.95) -> Correlation:
    """Intraclass correlation of complete ratings.

    Parameters
    ----------
    ratings : array_like, shape (subjects, raters)
        Ratings without gaps, at least 2 × 2, not all equal. [any unit]
    form : str
        A name of ``ICC_FORMS``. The default takes raters as a sample and asks for absolute agreement, which is what
        matters when another fitter measures next time.
    confidence : float
        Confidence of the interval, between 0 and 1. [1]

    Returns
    -------
    Correlation
        Estimate and interval. [1]

    Raises
    ------
    OutOfRangeError
        If the table is too small, has gaps, or nothing varies.

    Notes
    -----
    *Measured law* (analysis of variance). The six forms give six numbers for the same data: always name the form.

    References
    ----------
    shrout_fleiss_1979
    mcgraw_wong_1996

    Examples
    --------
    >>> ratings = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
    >>> [round(intraclass_correlation(ratings, form).value, 2) for form in ("1,1", "2,1", "3,1")]
    [0.17, 0.29, 0.71]
    """
    table = checked("ratings", ratings, advice="give a complete table; leave out subjects with gaps")
    if table.ndim != 2 or min(table.shape) < 2:
        raise OutOfRangeError(
            f"ratings: received shape {table.shape}; allowed: at least 2 subjects × 2 raters; add some"
        )
    chosen("form", form, ICC_FORMS)
    share = checked("confidence", confidence, above=0, below=1).item()
    n, k = table.shape
    total = table.mean()
    between_subjects = k * np.sum((table.mean(axis=1) - total) ** 2) / (n - 1)
    between_raters = n * np.sum((table.mean(axis=0) - total) ** 2) / (k - 1)
    within = np.sum((table - table.mean(axis=1, keepdims=True)) ** 2) / (n * (k - 1))
    error = (within * n * (k - 1) - between_raters * (k - 1)) / ((n - 1) * (k - 1))
    checked("variation of the ratings", between_subjects + within, above=0, advice="give ratings that differ")
    tail = (1 + share) / 2
    if form.startswith("2"):
        single, low, high = _two_way_random(between_subjects, between_raters, error, n, k, tail)
    else:
        rest, freedom = (within, n * (k - 1)) if form.startswith("1") else (error, (n - 1) * (k - 1))
        single = (between_subjects - rest) / (between_subjects + (k - 1) * rest)
        ratio = between_subjects / rest if rest > 0 else np.inf
        f_low, f_high = ratio / stats.f.ppf(tail, n - 1, freedom), ratio * stats.f.ppf(tail, freedom, n - 1)
        low, high = (_single_from_ratio(f, k) for f in (f_low, f_high))
    if form.endswith("k"):
        single, low, high = (k * r / (1 + (k - 1) * r) for r in (single, low, high))
    return Correlation(float(single), float(low), float(high), form)


def _single_from_ratio(ratio: float, k: int) -> float:
    return 1.0 if np.isinf(ratio) else (ratio - 1) / (ratio + k - 1)


def _two_way_random(
    subjects: float, raters: float, error: float, n: int, k: int, tail: float
) -> tuple[float, float, float]:
    """Estimate and interval of form 2,1; the interval as Shrout and Fleiss approximate it."""
    single = (subjects - error) / (subjects + (k - 1) * error + k * (raters - error) / n)
    if error <= 0 and raters <= 0:
        return single, 1.0, 1.0
    a = k * single / (n * (1 - single))
    b = 1 + k * single * (n - 1) / (n * (1 - single))
    freedom = (a * raters + b * error) ** 2 / ((a * raters) ** 2 / (k - 1) + (b * error) ** 2 / ((n - 1) * (k - 1)))
    f_low, f_high = stats.f.ppf(tail, n - 1, freedom), stats.f.ppf(tail, freedom, n - 1)
    spread = k * raters + (n * k - k - n) * error
    low = n * (subjects - f_low * error) / (f_low * spread + n * subjects)
    high = n * (f_high * subjects - error) / (spread + n * f_high * subjects)
    return single, low, high
