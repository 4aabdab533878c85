"""Sharing joint moments among muscles: static optimisation for many instants at once.

At each instant: minimise Σ (F/F_max)^p subject to Σ arm·F = moment at every joint and 0 ≤ F ≤ limit. The problem is
convex and splits into one small problem an instant. An interior-point method solves all instants together; the only
linear systems in it are as small as the number of joints.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from pedalwright._typing import Floats, Numbers, Whole
from pedalwright.errors import OutOfRangeError, PedalwrightError, checked

_BLOCK = 4_000
_ROUNDS = 100
_LEAST = 1e-9
_HOPELESS = 1e14


class InfeasibleMomentError(PedalwrightError):
    """Joint moments that the muscles given cannot produce together.

    Examples
    --------
    >>> issubclass(InfeasibleMomentError, PedalwrightError)
    True
    """


@dataclass(frozen=True)
class LoadShare:
    """Forces that give the moments with the least sum of powers.

    Parameters
    ----------
    force_n : numpy.ndarray, shape (..., muscles)
        Muscle forces. [N]
    activation : numpy.ndarray, shape (..., muscles)
        Forces, of the maximal isometric force. [1]
    reserve_nm : numpy.ndarray, shape (..., joints)
        Part of the moments that the muscles could not give; 0 unless reserves were allowed. [N·m]
    price : numpy.ndarray, shape (..., joints)
        How much the cost rises per N·m asked for at each joint (the multipliers). [1/(N·m)]

    References
    ----------
    crowninshield_brand_1981

    Examples
    --------
    >>> share_load([[40.0]], [[[50.0], [50.0]]], [1000.0, 3000.0]).force_n.round().tolist()
    [[80.0, 720.0]]
    """

    force_n: Floats
    activation: Floats
    reserve_nm: Floats
    price: Floats


def share_load(
    moment_nm: Numbers,
    moment_arm_mm: Numbers,
    max_force_n: Numbers,
    *,
    exponent: float = 2.0,
    upper_activation: Numbers = 1.0,
    reserve_nm: Numbers | None = None,
) -> LoadShare:
    """Share moments among muscles so that the sum of powers of their relative forces is least.

    Parameters
    ----------
    moment_nm : array_like, shape (..., joints)
        Moment at each joint, in the sign of the arms. [N·m]
    moment_arm_mm : array_like, shape (..., muscles, joints)
        Moment arms; a two-joint muscle has two. [mm]
    max_force_n : array_like, shape (..., muscles)
        Maximal isometric forces, above 0. [N]
    exponent : float
        Power p, above 1 and up to 10; 2 or 3 are usual. The higher, the more evenly the load is spread. [1]
    upper_activation : array_like, shape (..., muscles)
        Greatest relative force, such as what length and velocity leave, 0 to 2. [1]
    reserve_nm : array_like, shape (joints,), optional
        Allow a helper moment at each joint and report it; one of this size costs as much as one muscle at full
        activation, so a small size, such as 1, has it used in need only, above 0. Left out: moments must be met. [N·m]

    Returns
    -------
    LoadShare
        Forces, relative forces, reserves and prices.

    Raises
    ------
    OutOfRangeError
        If a value is out of range or shapes do not fit.
    InfeasibleMomentError
        If no forces within the limits give the moments and no reserve was allowed.

    Notes
    -----
    *Teaching model*: that the body shares load this way is a hypothesis that predicts the order in which muscles come
    in, not a measurement. It knows no co-contraction beyond what the joints force on it.

    References
    ----------
    crowninshield_brand_1981
    hull_jorge_1985

    Examples
    --------
    >>> share_load([40.0, 20.0], [[50, 0], [0, 40], [60, -30]], [1000, 800, 500]).force_n.round(1).tolist()
    [729.0, 544.4, 59.2]
    """
    moments, arms, most, limits = _checked(moment_nm, moment_arm_mm, max_force_n, upper_activation)
    power = checked("exponent", exponent, above=1, at_most=10).item()
    joints = moments.shape[-1]
    reserve = np.zeros(joints)
    if reserve_nm is not None:
        reserve = np.broadcast_to(checked("reserve_nm", reserve_nm, above=0), (joints,))
    shape = np.broadcast_shapes(moments.shape[:-1], arms.shape[:-2], most.shape[:-1], limits.shape[:-1])
    count = arms.shape[-2]
    flat_moment = np.broadcast_to(moments, (*shape, joints)).reshape(-1, joints)
    pull = np.broadcast_to(arms / 1000 * most[..., None], (*shape, count, joints)).reshape(-1, count, joints)
    ceiling = np.broadcast_to(limits, (*shape, count)).reshape(-1, count)
    activation, price, gap = np.empty(ceiling.shape), np.empty(flat_moment.shape), np.zeros(flat_moment.shape)
    for start in range(0, len(flat_moment), _BLOCK):
        block = slice(start, start + _BLOCK)
        asked, bars, tops = flat_moment[block], pull[block], ceiling[block]
        if reserve_nm is None:
            _require_feasible(asked, bars, tops, start)
        activation[block], price[block] = _solve(asked, bars, tops, power, reserve)
        left = asked - np.einsum("nmj,nm->nj", bars, activation[block])
        if reserve_nm is None:
            _require_met(left, asked, start)
        else:
            gap[block] = left
    activation = activation.reshape(*shape, count)
    return LoadShare(activation * most, activation, gap.reshape(*shape, joints), price.reshape(*shape, joints))


def _checked(moment: Numbers, arm: Numbers, most: Numbers, limit: Numbers) -> tuple[Floats, Floats, Floats, Floats]:
    moments = np.atleast_1d(checked("moment_nm", moment))
    arms = checked("moment_arm_mm", arm)
    forces = np.atleast_1d(checked("max_force_n", most, above=0))
    limits = np.atleast_1d(checked("upper_activation", limit, at_least=0, at_most=2))
    if arms.ndim < 2 or arms.shape[-1] != moments.shape[-1] or forces.shape[-1] not in (1, arms.shape[-2]):
        raise OutOfRangeError(
            f"moment_arm_mm: received shape {arms.shape} with moments of shape {moments.shape} and forces of shape "
            f"{forces.shape}; allowed: (..., muscles, joints), (..., joints) and (..., muscles); check the axes"
        )
    return moments, arms, forces, limits


@dataclass
class _Iterate:
    """Unknowns of one block: activations, prices of moments, and prices of the two limits of each activation."""

    activation: Floats
    price: Floats
    floor: Floats
    roof: Floats

    def at(self, where: Whole) -> "_Iterate":
        return _Iterate(self.activation[where], self.price[where], self.floor[where], self.roof[where])

    def put(self, where: Whole, other: "_Iterate") -> None:
        self.activation[where], self.price[where] = other.activation, other.price
        self.floor[where], self.roof[where] = other.floor, other.roof


def _solve(moment: Floats, pull: Floats, ceiling: Floats, power: float, reserve: Floats) -> tuple[Floats, Floats]:
    """Primal-dual interior-point method, one step a round for every instant that is still open."""
    tops = np.maximum(ceiling, _LEAST)
    ease = reserve**2 / 2
    state = _Iterate(tops / 2, np.zeros(moment.shape), np.full(tops.shape, 0.1), np.full(tops.shape, 0.1))
    todo = np.arange(len(moment))
    for _ in range(_ROUNDS):
        now, bars, top, asked = state.at(todo), pull[todo], tops[todo], moment[todo]
        missing = asked - np.einsum("nmj,nm->nj", bars, now.activation) - ease * now.price
        slope = power * now.activation ** (power - 1)
        worth = np.einsum("nmj,nj->nm", bars, now.price)
        room = np.stack([now.floor * now.activation, now.roof * (top - now.activation)])
        lost = np.abs(now.price).max(axis=-1) > _HOPELESS
        open_ = ~lost & (
            (np.abs(missing).max(axis=-1) > 1e-10 * np.maximum(np.abs(asked).max(axis=-1), 1))
            | (room.max(axis=(0, 2)) > 1e-9 * (slope * now.activation).max(axis=-1) + 1e-18)
            | (np.abs(slope - worth - now.floor + now.roof).max(axis=-1) > 1e-8 * np.abs(worth).max(axis=-1) + 1e-14)
        )
        todo = todo[open_]
        if not len(todo):
            break
        now = now.at(open_)
        target = 0.1 * room[:, open_].mean(axis=(0, 2))[:, None]
        _advance(now, bars[open_], top[open_], missing[open_], slope[open_], worth[open_], target, power, ease)
        state.put(todo, now)
    return np.where(ceiling < _LEAST, ceiling, state.activation), state.price


def _advance(
    now: _Iterate,
    pull: Floats,
    top: Floats,
    missing: Floats,
    slope: Floats,
    worth: Floats,
    target: Floats,
    power: float,
    ease: Floats,
) -> None:
    low, high = np.maximum(now.activation, 1e-15 * top), np.maximum(top - now.activation, 1e-15 * top)
    bend = (power - 1) * slope / low + now.floor / low + now.roof / high
    drive = worth - slope + target / low - target / high
    eased = pull / bend[..., None]
    matrix = np.einsum("nmj,nmk->njk", eased, pull) + ease * np.eye(pull.shape[-1])
    matrix += 1e-14 * np.trace(matrix, axis1=-2, axis2=-1)[:, None, None] * np.eye(pull.shape[-1])
    right = missing - np.einsum("nmj,nm->nj", eased, drive)
    price = np.linalg.solve(matrix, right[..., None])[..., 0]
    step = (drive + np.einsum("nmj,nj->nm", pull, price)) / bend
    floor = target / low - now.floor - now.floor / low * step
    roof = target / high - now.roof + now.roof / high * step
    inner = np.minimum(_longest(low, step), _longest(high, -step))
    outer = np.minimum(_longest(now.floor, floor), _longest(now.roof, roof))
    now.activation = low + inner * step
    now.price = now.price + outer * price
    now.floor, now.roof = now.floor + outer * floor, now.roof + outer * roof


def _longest(value: Floats, step: Floats) -> Floats:
    """Longest step, up to 1, that keeps positive values positive."""
    ratio = np.where(step < 0, -value / np.where(step < 0, step, -1), np.inf)
    return np.asarray(np.minimum(0.995 * ratio.min(axis=-1, keepdims=True), 1))


def _require_feasible(moment: Floats, pull: Floats, ceiling: Floats, start: int) -> None:
    """Whether the moments lie inside the body that the muscles span: tested against each pair of opposite faces."""
    reach = pull * ceiling[..., None]
    for normal in _face_normals(reach):
        along = np.einsum("nmj,nj->nm", reach, normal)
        asked = np.sum(normal * moment, axis=-1)
        slack = 1e-9 * np.abs(along).sum(axis=-1)
        short = (asked > np.maximum(along, 0).sum(axis=-1) + slack) | (
            asked < np.minimum(along, 0).sum(axis=-1) - slack
        )
        if short.any():
            _refuse(moment, int(np.argmax(short)), int(short.sum()), start)


def _face_normals(reach: Floats) -> Iterator[Floats]:
    count, joints = reach.shape[1:]
    if joints == 1:
        yield np.ones((len(reach), 1))
    elif joints == 2:
        yield from (np.stack([-reach[:, i, 1], reach[:, i, 0]], axis=-1) for i in range(count))
    elif joints == 3:
        yield from (np.cross(reach[:, i], reach[:, k]) for i, k in combinations(range(count), 2))


def _require_met(gap: Floats, moment: Floats, start: int) -> None:
    missed = np.abs(gap).max(axis=-1) > 1e-5 * np.maximum(np.abs(moment).max(axis=-1), 1)
    if missed.any():
        _refuse(moment, int(np.argmax(missed)), int(missed.sum()), start)


def _refuse(moment: Floats, where: int, count: int, start: int) -> None:
    more = f" and at {count - 1} more" if count > 1 else ""
    raise InfeasibleMomentError(
        f"moment_nm: received {np.round(moment[where], 1).tolist()} N·m at instant {start + where}{more}; allowed: "
        "what the muscles can give together within their limits; lower the load, take stronger or more muscles, or "
        "allow reserve_nm and read how much was missing"
    )
