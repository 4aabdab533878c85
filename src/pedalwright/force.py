"""Pedal force: how much of it turns the crank, what work it does where, and what the other leg does meanwhile.

Curves over the turn are sampled uniformly on the last axis, first sample at the top (crank angle 0), without a
repeated end point.
"""

from typing import NamedTuple

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.conventions import opposite_crank_angle_deg
from pedalwright.effectiveness import index_of_effectiveness, pedal_smoothness_pct, torque_effectiveness_pct
from pedalwright.errors import checked
from pedalwright.torque import both_legs_torque_nm, crank_torque_nm, power_w, torque_for_power_nm, work_by_sector_j
from pedalwright.turn import at_crank_angle, mean_over_turn, sector_edges_deg

__all__ = [
    "CrankForce",
    "at_crank_angle",
    "both_legs_torque_nm",
    "crank_force_from_pedal",
    "crank_torque_nm",
    "index_of_effectiveness",
    "mean_over_turn",
    "opposite_crank_angle_deg",
    "pedal_force_from_crank",
    "pedal_smoothness_pct",
    "power_w",
    "resolve_on_crank",
    "sector_edges_deg",
    "torque_effectiveness_pct",
    "torque_for_power_nm",
    "work_by_sector_j",
]


class CrankForce(NamedTuple):
    """Pedal force seen from the crank.

    Parameters
    ----------
    tangential_force_n : numpy.ndarray
        Part along the pedal's path, positive where it drives. [N]
    radial_force_n : numpy.ndarray
        Part along the crank, positive outward; it does no work. [N]
    resultant_force_n : numpy.ndarray
        Size of the whole force. [N]

    Examples
    --------
    >>> resolve_on_crank(0, -300, 90).tangential_force_n.item()
    300.0
    """

    tangential_force_n: Floats
    radial_force_n: Floats
    resultant_force_n: Floats


def crank_force_from_pedal(
    normal_force_n: Numbers, shear_force_n: Numbers, pedal_angle_deg: Numbers
) -> tuple[Floats, Floats]:
    """Turn the force of the foot, measured in the tilting pedal, into its forward and upward parts.

    Parameters
    ----------
    normal_force_n : array_like
        Force at right angles to the pedal, positive into the pedal. [N]
    shear_force_n : array_like
        Force along the pedal, positive toward the toe. [N]
    pedal_angle_deg : array_like
        Pedal angle, toe down positive, −180 to 180. [°]

    Returns
    -------
    tuple of numpy.ndarray
        Forward and upward force of the foot on the pedal. [N]

    Raises
    ------
    OutOfRangeError
        If a value is not finite or the angle out of range.

    Notes
    -----
    *Measured law* (turning a vector): forward = S·cos β − N·sin β, up = −N·cos β − S·sin β.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> forward, up = crank_force_from_pedal(300, 50, -10)
    >>> round(forward.item(), 2), round(up.item(), 2)
    (101.33, -286.76)
    """
    normal = checked("normal_force_n", normal_force_n)
    shear = checked("shear_force_n", shear_force_n)
    pedal = np.radians(checked("pedal_angle_deg", pedal_angle_deg, at_least=-180, at_most=180))
    forward = shear * np.cos(pedal) - normal * np.sin(pedal)
    up = -normal * np.cos(pedal) - shear * np.sin(pedal)
    return np.asarray(forward), np.asarray(up)


def pedal_force_from_crank(
    forward_force_n: Numbers, up_force_n: Numbers, pedal_angle_deg: Numbers
) -> tuple[Floats, Floats]:
    """Turn a force of the foot given forward and upward into the parts a pedal would measure.

    Parameters
    ----------
    forward_force_n, up_force_n : array_like
        Force of the foot on the pedal. [N]
    pedal_angle_deg : array_like
        Pedal angle, toe down positive, −180 to 180. [°]

    Returns
    -------
    tuple of numpy.ndarray
        Normal force, positive into the pedal, and shear force, positive toward the toe. [N]

    Raises
    ------
    OutOfRangeError
        If a value is not finite or the angle out of range.

    Notes
    -----
    *Measured law*: ``crank_force_from_pedal`` turned back.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> normal, shear = pedal_force_from_crank(0, -300, 0)
    >>> normal.item(), shear.item()
    (300.0, 0.0)
    """
    forward = checked("forward_force_n", forward_force_n)
    up = checked("up_force_n", up_force_n)
    pedal = np.radians(checked("pedal_angle_deg", pedal_angle_deg, at_least=-180, at_most=180))
    normal = -forward * np.sin(pedal) - up * np.cos(pedal)
    shear = forward * np.cos(pedal) - up * np.sin(pedal)
    return np.asarray(normal), np.asarray(shear)


def resolve_on_crank(forward_force_n: Numbers, up_force_n: Numbers, crank_angle_deg: Numbers) -> CrankForce:
    """Split a pedal force into the part that turns the crank and the part that only loads it.

    Parameters
    ----------
    forward_force_n, up_force_n : array_like
        Force of the foot on the pedal. [N]
    crank_angle_deg : array_like
        Angle of the crank it acts on, any finite value. [°]

    Returns
    -------
    CrankForce
        Tangential, radial (outward positive) and resultant force. [N]

    Raises
    ------
    OutOfRangeError
        If a value is not a finite number.

    Notes
    -----
    *Measured law* (turning a vector): a force is used best at a right angle to the lever.

    References
    ----------
    kautz_hull_1993
    hull_jorge_1985

    Examples
    --------
    >>> force = resolve_on_crank(101.34, -286.76, 90)
    >>> round(force.tangential_force_n.item(), 2), round(force.radial_force_n.item(), 2)
    (286.76, 101.34)
    """
    forward = checked("forward_force_n", forward_force_n)
    up = checked("up_force_n", up_force_n)
    crank = np.radians(checked("crank_angle_deg", crank_angle_deg))
    tangential = forward * np.cos(crank) - up * np.sin(crank)
    radial = forward * np.sin(crank) + up * np.cos(crank)
    resultant = np.broadcast_to(np.hypot(forward, up), np.shape(tangential))
    return CrankForce(np.asarray(tangential), np.asarray(radial), resultant)
