"""How far two values of one task lie apart, in tolerances."""

from __future__ import annotations

import math

from autograde.marking.tasks import DirectedChange, Kind, Quantity, Value

EDGE = 1e-9
"""Rounding allowance, so that an answer exactly on the edge of the band is inside."""


def distance(kind: Kind, answer: Value, target: Value) -> float:
    """Distance of an answer from a target value.

    Parameters
    ----------
    kind : Quantity, Choice, ChoiceSet, Ordering or DirectedChange
        The task's kind.
    answer, target : float, str, frozenset or tuple
        Values of that kind.

    Returns
    -------
    float
        Half widths of the target's tolerance band for numbers; 0 or infinity for wordings.

    Raises
    ------
    ValueError
        When a number is not finite.

    Examples
    --------
    >>> from autograde.marking import Quantity, Tolerance
    >>> distance(Quantity("N m", (0, 100), Tolerance(0.5)), 41.0, 40.0)
    2.0
    """
    if isinstance(kind, Quantity | DirectedChange):
        given, wanted = _number(answer), _number(target)
        return abs(given - wanted) / kind.tolerance.half_width(wanted)
    return 0.0 if answer == target else math.inf


def fits(kind: Kind, answer: Value, target: Value) -> bool:
    """Whether an answer lies in the tolerance band of a target value."""
    return distance(kind, answer, target) <= 1.0 + EDGE


def apart(kind: Kind, first: Value, second: Value) -> float:
    """Gap between two values in the sum of both bands; more than 1 means no answer fits both.

    Examples
    --------
    >>> from autograde.marking import Quantity, Tolerance
    >>> apart(Quantity("N m", (0, 100), Tolerance(0.5)), 41.0, 40.0)
    1.0
    """
    if isinstance(kind, Quantity | DirectedChange):
        one, other = _number(first), _number(second)
        return abs(one - other) / (kind.tolerance.half_width(one) + kind.tolerance.half_width(other))
    return 0.0 if first == second else math.inf


def _number(value: Value) -> float:
    if isinstance(value, bool) or not isinstance(value, float | int) or not math.isfinite(value):
        raise ValueError("not a finite number")
    return float(value)
