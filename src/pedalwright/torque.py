"""Torque at the crank: lever, power, work by sector, and the sum of both legs.

Curves over the turn are sampled uniformly on the last axis, first sample at the top (crank angle 0), without a
repeated end point.
"""

import numpy as np

from pedalwright._lengths import crank_mm
from pedalwright._typing import Floats, Numbers
from pedalwright.conventions import opposite_crank_angle_deg
from pedalwright.errors import checked
from pedalwright.turn import at_crank_angle, checked_curve, integral_to, sampled_angles_deg, sector_edges_deg


def crank_torque_nm(tangential_force_n: Numbers, crank_length_mm: Numbers) -> Floats:
    """Torque of a tangential force on the crank.

    Parameters
    ----------
    tangential_force_n : array_like
        Force along the pedal's path. [N]
    crank_length_mm : array_like
        Crank length, 50 to 300. [mm]

    Returns
    -------
    numpy.ndarray
        Torque, positive where it drives. [N·m]

    Raises
    ------
    OutOfRangeError
        If a value is not finite or the crank length out of range.

    Notes
    -----
    *Measured law*: lever times force at a right angle to it.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> crank_torque_nm(300, 170).item()
    51.0
    """
    return np.asarray(checked("tangential_force_n", tangential_force_n) * crank_mm(crank_length_mm) / 1000)


def power_w(torque_nm: Numbers, cadence_rpm: Numbers) -> Floats:
    """Power as torque times angular velocity, element by element.

    Parameters
    ----------
    torque_nm : array_like
        Torque at the crank. [N·m]
    cadence_rpm : array_like
        Cadence, 0 to 300. [1/min]

    Returns
    -------
    numpy.ndarray
        Power. [W]

    Raises
    ------
    OutOfRangeError
        If a value is not finite or the cadence out of range.

    Notes
    -----
    *Measured law*.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> round(power_w(21.221, 90).item(), 1)
    200.0
    """
    cadence = checked("cadence_rpm", cadence_rpm, at_least=0, at_most=300)
    return np.asarray(checked("torque_nm", torque_nm) * cadence * (2 * np.pi / 60))


def torque_for_power_nm(power_w: Numbers, cadence_rpm: Numbers) -> Floats:
    """Mean torque that a power needs at a cadence.

    Parameters
    ----------
    power_w : array_like
        Power. [W]
    cadence_rpm : array_like
        Cadence, above 0 and up to 300. [1/min]

    Returns
    -------
    numpy.ndarray
        Torque of both legs together. [N·m]

    Raises
    ------
    OutOfRangeError
        If a value is not finite or the cadence out of range.

    Notes
    -----
    *Measured law*.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> round(torque_for_power_nm(200, 90).item(), 3)
    21.221
    """
    cadence = checked("cadence_rpm", cadence_rpm, above=0, at_most=300)
    return np.asarray(checked("power_w", power_w) / (cadence * (2 * np.pi / 60)))


def work_by_sector_j(torque_nm: Numbers, sector_count: int, first_edge_deg: float = 0.0) -> Floats:
    """Work done in each equal sector of one turn.

    Parameters
    ----------
    torque_nm : array_like, shape (..., samples)
        Torque over one turn. [N·m]
    sector_count : int
        How many sectors, at least 1; their edges need not meet the samples.
    first_edge_deg : float
        Where the first sector begins. [°]

    Returns
    -------
    numpy.ndarray, shape (..., sector_count)
        Work; the sum is the work of the whole turn. [J]

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples, a value is not finite or the count not a whole number of at least 1.

    Notes
    -----
    *Measured law*: torque integrated over the crank angle, exactly for straight lines between the samples.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> (work_by_sector_j([10.0] * 12, 4) / np.pi).round(6).tolist()
    [5.0, 5.0, 5.0, 5.0]
    """
    edges = sector_edges_deg(sector_count, first_edge_deg)
    return np.diff(integral_to(checked_curve("torque_nm", torque_nm), edges), axis=-1)


def both_legs_torque_nm(right_torque_nm: Numbers, left_torque_nm: Numbers | None = None) -> Floats:
    """Torque of both legs on opposed cranks, indexed by the right crank's angle.

    Parameters
    ----------
    right_torque_nm : array_like, shape (..., samples)
        Torque of the right leg by the right crank's angle. [N·m]
    left_torque_nm : array_like, shape (..., samples), or None
        Torque of the left leg by the *left* crank's own angle, 0 where that crank is at the top; None if the left
        leg does the same as the right one half a turn later. [N·m]

    Returns
    -------
    numpy.ndarray, shape (..., samples of the right leg)
        Sum of both legs. [N·m]

    Raises
    ------
    OutOfRangeError
        If a curve has fewer than 3 samples or a value is not finite.

    Notes
    -----
    *Measured law*: opposed cranks are one rigid body. A left curve with another number of samples, or an odd number,
    is read along straight lines.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> both_legs_torque_nm([0, 30, 10, -8]).tolist()
    [10.0, 22.0, 10.0, 22.0]
    """
    right = checked_curve("right_torque_nm", right_torque_nm)
    left = right if left_torque_nm is None else checked_curve("left_torque_nm", left_torque_nm)
    left_angles = opposite_crank_angle_deg(sampled_angles_deg(right.shape[-1]))
    return np.asarray(right + at_crank_angle(left, left_angles))
