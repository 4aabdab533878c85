"""How well a pedal force is used: several numbers under one name, which do not agree with each other."""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.turn import at_crank_angle, checked_curve, integral_to, sampled_angles_deg

DEFAULT_METER = "each pedal"

METERS: Mapping[str, str] = MappingProxyType(
    {
        "each pedal": "Each leg measured apart. Default: it shows what each leg does, which the sum hides.",
        "crank axle": "Only the sum of both legs reaches the meter; one leg's drag hides behind the other's push.",
    }
)


def index_of_effectiveness(
    tangential_force_n: Numbers, resultant_force_n: Numbers, *, sector_deg: tuple[float, float] = (0.0, 360.0)
) -> Floats:
    """Share of the pedal force that turned the crank, over the turn or one sector of it.

    Parameters
    ----------
    tangential_force_n : array_like, shape (..., samples)
        Force along the pedal's path over one turn. [N]
    resultant_force_n : array_like, shape (..., samples)
        Size of the force over one turn, at least 0. [N]
    sector_deg : tuple of float
        Where the sector begins and ends, the end after the beginning and at most a turn later. [°]

    Returns
    -------
    numpy.ndarray, shape (...)
        Share from −1 to 1; negative where the leg drags. [1]

    Raises
    ------
    OutOfRangeError
        If a curve or the sector is out of range, or the pedal carries no load in the sector.

    Notes
    -----
    *Measured law* by definition, *weak* as advice: it rises with power and falls with cadence, weight and inertia of
    the leg lower it whatever the rider does, and riders told to raise it become less economical.

    References
    ----------
    kautz_hull_1993
    bini_hume_croft_kilding_2013
    korff_2007

    Examples
    --------
    >>> index_of_effectiveness([30, 60, 30, -30], [50, 60, 50, 50]).round(3).item()
    0.429
    """
    edges = checked("sector_deg", sector_deg)
    if edges.shape != (2,) or not 0 < edges[1] - edges[0] <= 360:
        raise OutOfRangeError(
            f"sector_deg: received {sector_deg!r}; allowed: (begin, end) with the end up to 360° after the beginning; "
            "add 360 to an end that lies past the top"
        )
    resultant = checked("resultant_force_n", resultant_force_n, at_least=0)
    useful = integral_to(checked_curve("tangential_force_n", tangential_force_n), edges)
    total = integral_to(checked_curve("resultant_force_n", resultant), edges)
    whole = checked(
        "resultant force over the sector", total[..., 1] - total[..., 0], above=0, advice="choose a sector with load"
    )
    return np.asarray((useful[..., 1] - useful[..., 0]) / whole)


def torque_effectiveness_pct(torque_nm: Numbers) -> Floats:
    """Driving work less braking work, as a share of the driving work.

    Parameters
    ----------
    torque_nm : array_like, shape (..., samples)
        Torque over one turn, of one leg or of both together. [N·m]

    Returns
    -------
    numpy.ndarray, shape (...)
        100 if the torque never brakes; negative if it brakes more than it drives. [%]

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples, a value is not finite, or the torque never drives.

    Notes
    -----
    *Convention* of an open device profile, restated here: sums over the samples of one turn. For the
    same riding the two legs' sum reads higher than either leg.

    References
    ----------
    ant_bicycle_power

    Examples
    --------
    >>> torque_effectiveness_pct([30, 20, -10, 0]).item()
    80.0
    """
    torque = checked_curve("torque_nm", torque_nm)
    driving = np.sum(np.maximum(torque, 0), axis=-1)
    checked("driving torque", driving, above=0, advice="check the sign: torque that turns the crank is positive")
    return np.asarray(100 * np.sum(torque, axis=-1) / driving)


def pedal_smoothness_pct(torque_nm: Numbers) -> Floats:
    """Mean torque as a share of the highest torque of the turn.

    Parameters
    ----------
    torque_nm : array_like, shape (..., samples)
        Torque over one turn, of one leg or of both together. [N·m]

    Returns
    -------
    numpy.ndarray, shape (...)
        100 for an even torque. [%]

    Raises
    ------
    OutOfRangeError
        If the curve has fewer than 3 samples, a value is not finite, or the torque never drives.

    Notes
    -----
    *Convention* of an open device profile, restated here.

    References
    ----------
    ant_bicycle_power

    Examples
    --------
    >>> pedal_smoothness_pct([40, 20, 10, 10]).item()
    50.0
    """
    torque = checked_curve("torque_nm", torque_nm)
    highest = checked("highest torque", np.max(torque, axis=-1), above=0, advice="give a turn that drives the crank")
    return np.asarray(100 * np.mean(torque, axis=-1) / highest)


def torques_seen_by_meter_nm(
    right_torque_nm: Numbers, left_torque_nm: Numbers, meter: str = DEFAULT_METER
) -> tuple[Floats, Floats]:
    """Torque curves from which a meter reads its figures: each leg's own, or the sum for both.

    Parameters
    ----------
    right_torque_nm : array_like, shape (..., samples)
        Torque of the right leg by the right crank's angle. [N·m]
    left_torque_nm : array_like, shape (..., samples)
        Torque of the left leg by the left crank's own angle, as many samples. [N·m]
    meter : str
        A key of ``METERS``.

    Returns
    -------
    tuple of numpy.ndarray
        What stands for the right and for the left leg, each by its own crank's angle. [N·m]

    Raises
    ------
    OutOfRangeError
        If the meter is not known or a curve is out of range.

    Notes
    -----
    *Measured law*: opposed cranks are one rigid body. Figures of two meters of different kinds cannot be compared.

    References
    ----------
    ant_bicycle_power
    hull_jorge_1985

    Examples
    --------
    >>> right, left = torques_seen_by_meter_nm([0, 30, 10, -8], [0, 30, 10, -8], "crank axle")
    >>> right.tolist(), torque_effectiveness_pct(right).item()
    ([10.0, 22.0, 10.0, 22.0], 100.0)
    """
    chosen("meter", meter, METERS)
    right = checked_curve("right_torque_nm", right_torque_nm)
    left = checked_curve("left_torque_nm", left_torque_nm)
    if meter == "each pedal":
        return right, left
    right_opposed = at_crank_angle(right, sampled_angles_deg(left.shape[-1]) + 180)
    left_opposed = at_crank_angle(left, sampled_angles_deg(right.shape[-1]) + 180)
    return np.asarray(right + left_opposed), np.asarray(left + right_opposed)
