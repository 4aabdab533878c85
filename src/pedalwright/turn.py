"""Curves over one crank turn: reading, averaging, integrating, finding the highest point.

A curve is sampled uniformly on the last axis, first sample at the top (crank angle 0), without a repeated end point.
"""

import numpy as np

from pedalwright._typing import Floats, Numbers, Whole
from pedalwright.conventions import whole_number
from pedalwright.errors import OutOfRangeError, checked


def checked_curve(name: str, values: Numbers) -> Floats:
    """Return a curve over one turn as floats.

    Parameters
    ----------
    name : str
        Name of the quantity.
    values : array_like, shape (..., samples)
        Finite numbers, at least 3 on the last axis. [any unit]

    Returns
    -------
    numpy.ndarray
        The curve. [same unit]

    Raises
    ------
    OutOfRangeError
        If there are fewer than 3 samples or a value is not finite.

    Examples
    --------
    >>> checked_curve("torque_nm", [1, 2, 3]).tolist()
    [1.0, 2.0, 3.0]
    """
    curve = checked(name, values)
    if curve.ndim == 0 or curve.shape[-1] < 3:
        count = 1 if curve.ndim == 0 else curve.shape[-1]
        raise OutOfRangeError(
            f"{name}: received {count} samples; allowed: at least 3 on the last axis; give a whole turn, evenly sampled"
        )
    return curve


def sampled_angles_deg(count: int) -> Floats:
    """Crank angles of a curve with so many samples.

    Parameters
    ----------
    count : int
        Number of samples, at least 1.

    Returns
    -------
    numpy.ndarray, shape (count,)
        Crank angles from 0. [°]

    Raises
    ------
    OutOfRangeError
        If the count is not a whole number of at least 1.

    Examples
    --------
    >>> sampled_angles_deg(4).tolist()
    [0.0, 90.0, 180.0, 270.0]
    """
    samples = whole_number("count", count)
    return np.asarray(np.arange(samples) * (360 / samples))


def mean_over_turn(values: Numbers) -> Floats:
    """Mean of a curve over one turn.

    Parameters
    ----------
    values : array_like, shape (..., samples)
        Curve over one turn. [any unit]

    Returns
    -------
    numpy.ndarray, shape (...)
        Mean. [same unit]

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples or a value is not finite.

    Examples
    --------
    >>> mean_over_turn([0, 1, 2, 1]).item()
    1.0
    """
    return np.asarray(np.mean(checked_curve("values", values), axis=-1))


def at_crank_angle(values: Numbers, crank_angle_deg: Numbers) -> Floats:
    """Read a curve at any crank angle, along straight lines between its samples.

    Parameters
    ----------
    values : array_like, shape (..., samples)
        Curve over one turn. [any unit]
    crank_angle_deg : array_like, shape (angles,) or one number
        Crank angles wanted, any finite values. [°]

    Returns
    -------
    numpy.ndarray, shape (..., angles)
        Values there; without the last axis for one number. [same unit]

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples or a value is not finite.

    Examples
    --------
    >>> at_crank_angle([0, 1, 2, 1], [45, 360, -90]).tolist()
    [0.5, 0.0, 1.0]
    """
    curve = checked_curve("values", values)
    before, part = _places(curve.shape[-1], checked("crank_angle_deg", crank_angle_deg))
    after = (before + 1) % curve.shape[-1]
    return np.asarray(curve[..., before] * (1 - part) + curve[..., after] * part)


def integral_to(values: Numbers, crank_angle_deg: Numbers) -> Floats:
    """Integral of a curve from the top to each crank angle, exact for straight lines between its samples.

    Parameters
    ----------
    values : array_like, shape (..., samples)
        Curve over one turn. [any unit]
    crank_angle_deg : array_like, shape (angles,) or one number
        Where to stop; beyond a turn the curve repeats, below 0 the integral runs backward. [°]

    Returns
    -------
    numpy.ndarray, shape (..., angles)
        Integral over the crank angle in radians. [same unit × rad]

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples or a value is not finite.

    Examples
    --------
    >>> (integral_to([2, 2, 2], [90, 360, -180]) / np.pi).tolist()
    [1.0, 4.0, -2.0]
    """
    curve = checked_curve("values", values)
    angles = checked("crank_angle_deg", crank_angle_deg)
    before, part = _places(curve.shape[-1], angles)
    following = np.roll(curve, -1, axis=-1)
    done = np.cumsum((curve + following) / 2, axis=-1)
    whole = np.concatenate([np.zeros_like(done[..., :1]), done], axis=-1)
    begun = part * (curve[..., before] + part / 2 * (following - curve)[..., before])
    turns = np.floor(angles / 360)
    return np.asarray((2 * np.pi / curve.shape[-1]) * (whole[..., before] + begun + turns * whole[..., -1:]))


def sector_edges_deg(sector_count: int, first_edge_deg: float = 0.0) -> Floats:
    """Edges of equal sectors of the turn.

    Parameters
    ----------
    sector_count : int
        How many sectors, at least 1.
    first_edge_deg : float
        Where the first sector begins. [°]

    Returns
    -------
    numpy.ndarray, shape (sector_count + 1,)
        Edges, the last one turn after the first. [°]

    Raises
    ------
    OutOfRangeError
        If the count is not a whole number of at least 1 or the edge is not finite.

    Examples
    --------
    >>> sector_edges_deg(16)[3:7].tolist()
    [67.5, 90.0, 112.5, 135.0]
    """
    count = whole_number("sector_count", sector_count)
    return np.asarray(checked("first_edge_deg", first_edge_deg) + np.arange(count + 1) * (360 / count))


def highest_point(values: Numbers) -> tuple[Floats, Floats]:
    """Highest value of a curve and where it is, on the parabola through the highest sample and its neighbours.

    Parameters
    ----------
    values : array_like, shape (..., samples)
        Curve over one turn; 72 samples or more place the point of a smooth curve well. [any unit]

    Returns
    -------
    tuple of numpy.ndarray
        Value [same unit] and crank angle from 0 to 360 [°].

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples or a value is not finite.

    Examples
    --------
    >>> value, angle = highest_point(np.cos(np.radians(np.arange(0, 360, 5) - 91)))
    >>> round(value.item(), 3), round(angle.item(), 1)
    (1.0, 91.0)
    """
    curve = checked_curve("values", values)
    count = curve.shape[-1]
    top = np.argmax(curve, axis=-1)[..., None]
    here, before, after = (np.take_along_axis(curve, (top + step) % count, -1)[..., 0] for step in (0, -1, 1))
    bend = before - 2 * here + after
    shift = np.divide(before - after, 2 * bend, out=np.zeros_like(bend), where=bend < 0)
    value = here - (before - after) * shift / 4
    return np.asarray(value), np.asarray(np.mod((top[..., 0] + shift) * 360 / count, 360))


def lowest_point(values: Numbers) -> tuple[Floats, Floats]:
    """Lowest value of a curve and where it is, on the parabola through the lowest sample and its neighbours.

    Parameters
    ----------
    values : array_like, shape (..., samples)
        Curve over one turn; 72 samples or more place the point of a smooth curve well. [any unit]

    Returns
    -------
    tuple of numpy.ndarray
        Value [same unit] and crank angle from 0 to 360 [°].

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples or a value is not finite.

    Examples
    --------
    >>> value, angle = lowest_point(np.cos(np.radians(np.arange(0, 360, 5))))
    >>> round(value.item(), 3), round(angle.item(), 1)
    (-1.0, 180.0)
    """
    value, angle = highest_point(-checked_curve("values", values))
    return -value, angle


def _places(count: int, angles_deg: Floats) -> tuple[Whole, Floats]:
    place = (angles_deg - 360 * np.floor(angles_deg / 360)) * (count / 360)
    before = np.minimum(np.floor(place).astype(np.int64), count - 1)
    return before, place - before
