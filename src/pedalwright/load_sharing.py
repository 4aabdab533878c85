"""Sharing joint moments among muscles: static optimisation, one small problem an instant, by scipy's solvers."""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import orth
from scipy.optimize import Bounds, LinearConstraint, lsq_linear, minimize

from pedalwright._typing import Floats, Numbers, Truths
from pedalwright.errors import OutOfRangeError, PedalwrightError, checked

_PRECISION = 1e-12
_STEPS = 1000
_TINY = 1e-12
_MET = 1e-9
_OPEN = 1e-7


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

    References
    ----------
    crowninshield_brand_1981

    Examples
    --------
    >>> share_load([40.0], [[[50.0], [50.0]]], [1000.0, 3000.0]).force_n.round().tolist()
    [[80.0, 720.0]]
    """

    force_n: Floats
    activation: Floats
    reserve_nm: Floats


def share_load(
    moment_nm: Numbers,
    moment_arm_mm: Numbers,
    max_force_n: Numbers,
    *,
    exponent: float = 2.0,
    upper_activation: Numbers = 1.0,
    allow_reserve: bool = False,
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
    allow_reserve : bool
        Where the muscles cannot give the moments, let a helper moment at the joints give what is missing, as little as
        can be (in the sum of squares over the joints), and report it. If False, such moments are an error.

    Returns
    -------
    LoadShare
        Forces, relative forces and reserves.

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

    Each instant is solved by sequential quadratic programming (``scipy.optimize.minimize``), what the muscles can give
    at most by bounded least squares (``scipy.optimize.lsq_linear``). Moments are met to a billionth; relative forces
    are good to about 1e-4 for powers from 1.5 to 3. At higher powers, and near 1, the sum hardly changes about its
    least value, and single forces are less certain than the sum: by about 0.01 at 5 and 0.1 at 10.

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
    joints, muscles = moments.shape[-1], arms.shape[-2]
    shape = np.broadcast_shapes(moments.shape[:-1], arms.shape[:-2], most.shape[:-1], limits.shape[:-1])
    asked = np.broadcast_to(moments, (*shape, joints)).reshape(-1, joints)
    pull = np.broadcast_to(arms / 1000 * most[..., None], (*shape, muscles, joints)).reshape(-1, muscles, joints)
    ceiling = np.broadcast_to(limits, (*shape, muscles)).reshape(-1, muscles)
    activation, reserve = _solved(asked, pull, ceiling, power, allow_reserve)
    activation = activation.reshape(*shape, muscles)
    return LoadShare(activation * most, activation, reserve.reshape(*shape, joints))


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


def _solved(asked: Floats, pull: Floats, ceiling: Floats, power: float, allow_reserve: bool) -> tuple[Floats, Floats]:
    """Relative forces and missing moments, instant by instant; the instants do not depend on each other."""
    activation, missing = np.zeros(ceiling.shape), np.zeros(asked.shape)
    for instant, (moment, bars, top) in enumerate(zip(asked, pull, ceiling, strict=True)):
        nearest, missing[instant] = _reach(moment, bars.T, top)
        if missing[instant].any() and not allow_reserve:
            continue
        free = _free(bars, top, missing[instant])
        left = moment - missing[instant] - nearest[~free] @ bars[~free]
        forces = _least(left, bars[free].T, top[free], power)
        if forces is None:
            raise PedalwrightError(
                f"moment_nm: received {np.round(moment, 1).tolist()} N·m at instant {instant}, for which the solver "
                f"found no forces with exponent {power:g}; allowed: moments it can share; try exponent 2 or 3"
            )
        nearest[free] = forces
        activation[instant] = nearest
    if missing.any() and not allow_reserve:
        _refuse(asked, missing)
    return activation, missing


def _least(moment: Floats, pull: Floats, ceiling: Floats, power: float) -> Floats | None:
    """Relative forces with the least sum of powers, or None if the solver fails; the moment is within reach.

    The moment is met along the directions in which the muscles pull at all, so that no condition is given twice.
    Unknowns and moments are scaled to about 1. Above a power of 2 the sum is taken to the power 2/p: the same forces
    make it least, and it bends like the squares that the solver's steps are made for.
    """
    span = orth(pull)
    if not span.size or np.abs(moment).max() < _TINY:
        return np.zeros(len(ceiling))
    largest = np.abs(pull).max()
    size = min(np.abs(moment).max() / largest, 1.0)
    matrix, right, root = span.T @ pull / largest, span.T @ moment / (largest * size), min(1.0, 2 / power)

    def cost(forces: Floats) -> float:
        return float(np.sum(forces**power) ** root)

    def slope(forces: Floats) -> Floats:
        total = np.sum(forces**power)
        return root * total ** (root - 1) * power * forces ** (power - 1) if total > 0 else np.zeros(len(forces))

    found = minimize(
        cost,
        np.zeros(len(ceiling)),
        jac=slope,
        method="SLSQP",
        bounds=Bounds(0, ceiling / size),
        constraints=LinearConstraint(matrix, right, right),
        options={"ftol": _PRECISION, "maxiter": _STEPS},
    )
    return np.clip(found.x * size, 0, ceiling) if found.success else None


def _reach(moment: Floats, pull: Floats, ceiling: Floats) -> tuple[Floats, Floats]:
    """Relative forces that come nearest to the moment, and what is missing even then."""
    bounds = (0, np.maximum(ceiling, _TINY))
    nearest = np.minimum(lsq_linear(pull, moment, bounds, method="bvls", tol=_PRECISION).x, ceiling)
    missing = moment - pull @ nearest
    met = np.abs(missing).max() <= _MET * max(np.abs(moment).max(), 1)
    return nearest, np.zeros(len(moment)) if met else missing


def _free(bars: Floats, ceiling: Floats, missing: Floats) -> Truths:
    """Muscles whose force is still open: one that could lessen or add to what is missing stands at its limit."""
    useful = np.abs(bars @ missing)
    return np.asarray((ceiling > 0) & (useful <= _OPEN * np.abs(bars).max(axis=-1) * np.abs(missing).max()))


def _refuse(moment: Floats, missing: Floats) -> None:
    short = np.flatnonzero(missing.any(axis=-1))
    more = f" and at {len(short) - 1} more" if len(short) > 1 else ""
    raise InfeasibleMomentError(
        f"moment_nm: received {np.round(moment[short[0]], 1).tolist()} N·m at instant {short[0]}{more}; allowed: "
        "what the muscles can give together within their limits; lower the load, take stronger or more muscles, or "
        "set allow_reserve and read how much was missing"
    )
