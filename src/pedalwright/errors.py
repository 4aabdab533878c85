"""Errors a caller can act on: each says what was received, what is allowed and what to do."""

import numpy as np

from pedalwright._typing import Floats, Numbers


class PedalwrightError(ValueError):
    """Any input that a calculation cannot use.

    Examples
    --------
    >>> raise PedalwrightError("received 3 saddles; one is allowed; remove two")
    Traceback (most recent call last):
    pedalwright.errors.PedalwrightError: received 3 saddles; one is allowed; remove two
    """


class OutOfRangeError(PedalwrightError):
    """A value outside the range in which the calculation holds.

    Examples
    --------
    >>> issubclass(OutOfRangeError, ValueError)
    True
    """


class UnreachablePositionError(PedalwrightError):
    """A position in which the leg cannot reach the pedal, or cannot fold enough to let it pass.

    Examples
    --------
    >>> issubclass(UnreachablePositionError, PedalwrightError)
    True
    """


def checked(
    name: str,
    value: Numbers,
    *,
    at_least: float = -np.inf,
    at_most: float = np.inf,
    above: float = -np.inf,
    below: float = np.inf,
    advice: str = "check the value and its unit",
) -> Floats:
    """Return a value as an array of floats, or raise an error that says what is wrong with it.

    Parameters
    ----------
    name : str
        Name of the quantity, with its unit, as the caller knows it.
    value : array_like
        One number or many; each must be a finite number inside the allowed range. [any unit]
    at_least, at_most : float
        Ends of the allowed range, themselves allowed. [same unit]
    above, below : float
        Ends of the allowed range, themselves not allowed. [same unit]
    advice : str
        What the reader of the message should do.

    Returns
    -------
    numpy.ndarray
        The value as floats, same shape. [same unit]

    Raises
    ------
    OutOfRangeError
        If any number is missing, not finite or outside the range.

    Examples
    --------
    >>> checked("crank_length_mm", 170, above=0).item()
    170.0
    >>> checked("crank_length_mm", -170, above=0, advice="give a positive length")
    Traceback (most recent call last):
    pedalwright.errors.OutOfRangeError: crank_length_mm: received -170; allowed: above 0; give a positive length
    """
    try:
        numbers = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        raise OutOfRangeError(f"{name}: received {value!r}; allowed: numbers; {advice}") from None
    good = np.isfinite(numbers) & (numbers >= at_least) & (numbers <= at_most) & (numbers > above) & (numbers < below)
    if not np.all(good):
        worst = float(np.atleast_1d(numbers)[~np.atleast_1d(good)][0])
        raise OutOfRangeError(
            f"{name}: received {worst:g}; allowed: {_range_in_words(at_least, at_most, above, below)}; {advice}"
        )
    return numbers


def _range_in_words(at_least: float, at_most: float, above: float, below: float) -> str:
    limits = [
        words.format(limit)
        for words, limit in (
            ("at least {:g}", at_least),
            ("above {:g}", above),
            ("at most {:g}", at_most),
            ("below {:g}", below),
        )
        if np.isfinite(limit)
    ]
    return " and ".join(limits) or "any finite number"
