"""Pedal force: how much of it turns the crank, where in the turn, and what the other leg does meanwhile.

Curves over the turn are sampled uniformly on the last axis, first sample at the top (crank angle 0),
without a repeated end point.
"""

from typing import NamedTuple

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


class CrankForce(NamedTuple):
    """Pedal force seen from the crank."""

    tangential_force_n: Floats
    radial_force_n: Floats
    resultant_force_n: Floats


def crank_force_from_pedal(
    normal_force_n: Numbers, shear_force_n: Numbers, pedal_angle_deg: Numbers
) -> tuple[Floats, Floats]:
    """Turn a force measured in the pedal into forward and upward parts."""
    normal = checked("normal_force_n", normal_force_n)
    shear = checked("shear_force_n", shear_force_n)
    pedal = np.radians(checked("pedal_angle_deg", pedal_angle_deg))
    forward = shear * np.cos(pedal) - normal * np.sin(pedal)
    up = -normal * np.cos(pedal) - shear * np.sin(pedal)
    return forward, up


def resolve_on_crank(forward_force_n: Numbers, up_force_n: Numbers, crank_angle_deg: Numbers) -> CrankForce:
    """Split a pedal force into the part that turns the crank and the part that only loads it."""
    forward = checked("forward_force_n", forward_force_n)
    up = checked("up_force_n", up_force_n)
    crank = np.radians(checked("crank_angle_deg", crank_angle_deg))
    tangential = forward * np.cos(crank) - up * np.sin(crank)
    radial = forward * np.sin(crank) + up * np.cos(crank)
    return CrankForce(tangential, radial, np.hypot(forward, up) + 0 * crank)


def crank_torque_nm(tangential_force_n: Numbers, crank_length_mm: Numbers) -> Floats:
    """Torque of a tangential force on the crank."""
    return (
        checked("tangential_force_n", tangential_force_n) * checked("crank_length_mm", crank_length_mm, above=0) / 1000
    )


def power_w(torque_nm: Numbers, cadence_rpm: Numbers) -> Floats:
    """Power: torque times angular velocity, element by element."""
    return checked("torque_nm", torque_nm) * checked("cadence_rpm", cadence_rpm, at_least=0) * (2 * np.pi / 60)


def mean_over_turn(values: Numbers) -> Floats:
    """Mean of a uniformly sampled curve over one turn."""
    return np.asarray(np.mean(_curve("values", values), axis=-1))


def at_crank_angle(values: Numbers, crank_angle_deg: Numbers) -> Floats:
    """Read a sampled curve at any crank angle, straight lines between the samples."""
    curve = _curve("values", values)
    place = np.mod(checked("crank_angle_deg", crank_angle_deg), 360) * (curve.shape[-1] / 360)
    before = np.floor(place).astype(int) % curve.shape[-1]
    part = place - np.floor(place)
    return np.asarray(curve[..., before] * (1 - part) + curve[..., (before + 1) % curve.shape[-1]] * part)


def sector_edges_deg(sector_count: int, first_edge_deg: float = 0.0) -> Floats:
    """Edges of equal sectors, one more than there are sectors."""
    if sector_count < 1:
        raise OutOfRangeError(f"sector_count: received {sector_count}; allowed: at least 1; choose how many sectors")
    first = checked("first_edge_deg", first_edge_deg)
    return np.asarray(first + np.arange(sector_count + 1) * (360 / sector_count))


def work_by_sector_j(torque_nm: Numbers, sector_count: int, first_edge_deg: float = 0.0) -> Floats:
    """Work done in each equal sector of one turn."""
    edges = sector_edges_deg(sector_count, first_edge_deg)
    return np.diff(_running_integral(_curve("torque_nm", torque_nm), edges), axis=-1)


def index_of_effectiveness(
    tangential_force_n: Numbers, resultant_force_n: Numbers, *, sector_deg: tuple[float, float] = (0.0, 360.0)
) -> Floats:
    """Share of the pedal force that turned the crank, over the turn or one sector of it."""
    edges = checked("sector_deg", sector_deg)
    useful = np.diff(_running_integral(_curve("tangential_force_n", tangential_force_n), edges), axis=-1)[..., 0]
    total = np.diff(_running_integral(_curve("resultant_force_n", resultant_force_n), edges), axis=-1)[..., 0]
    checked("resultant force over the sector", total, above=0, advice="give a sector in which the pedal is loaded")
    return np.asarray(useful / total)


def torque_effectiveness_pct(torque_nm: Numbers) -> Floats:
    """Net work as a share of the propelling work."""
    torque = _curve("torque_nm", torque_nm)
    push = checked("propelling torque", np.sum(np.maximum(torque, 0), axis=-1), above=0)
    return np.asarray(100 * np.sum(torque, axis=-1) / push)


def pedal_smoothness_pct(torque_nm: Numbers) -> Floats:
    """Mean torque as a share of peak torque."""
    torque = _curve("torque_nm", torque_nm)
    peak = checked("peak torque", np.max(torque, axis=-1), above=0)
    return np.asarray(100 * np.mean(torque, axis=-1) / peak)


def opposite_crank_angle_deg(crank_angle_deg: Numbers) -> Floats:
    """Angle of the other crank of an opposed pair."""
    return np.asarray(np.mod(checked("crank_angle_deg", crank_angle_deg) + 180, 360))


def both_legs_torque_nm(right_torque_nm: Numbers, left_torque_nm: Numbers | None = None) -> Floats:
    """Torque of both legs on opposed cranks, indexed by the right crank's angle."""
    right = _curve("right_torque_nm", right_torque_nm)
    left = right if left_torque_nm is None else _curve("left_torque_nm", left_torque_nm)
    angles = np.arange(right.shape[-1]) * (360 / right.shape[-1])
    return right + at_crank_angle(left, angles + 180)


def _curve(name: str, values: Numbers) -> Floats:
    curve = checked(name, values)
    if curve.ndim == 0 or curve.shape[-1] < 3:
        raise OutOfRangeError(
            f"{name}: received {curve.size} samples; allowed: at least 3 on the last axis; give a whole turn of samples"
        )
    return curve


def _running_integral(curve: Floats, edges_deg: Floats) -> Floats:
    """Integral over the crank angle in radians from 0 to each edge, exact for straight lines between samples."""
    count = curve.shape[-1]
    step = 2 * np.pi / count
    following = np.roll(curve, -1, axis=-1)
    whole_steps = np.concatenate([np.zeros_like(curve[..., :1]), np.cumsum((curve + following) / 2, axis=-1)], axis=-1)
    turns = np.floor(edges_deg / 360)
    place = (edges_deg - 360 * turns) * (count / 360)
    before = np.minimum(np.floor(place).astype(int), count - 1)
    part = place - before
    slope = following - curve
    partial = curve[..., before] * part + slope[..., before] * part**2 / 2
    return np.asarray(step * (whole_steps[..., before] + partial + turns * whole_steps[..., -1:]))
