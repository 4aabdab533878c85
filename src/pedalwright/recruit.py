"""Which muscle carries the load when: the joint moments of a stroke shared among the muscles of the leg."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.hill_muscle import capacity
from pedalwright.load_sharing import InfeasibleMomentError, LoadShare, share_load
from pedalwright.muscle_arms import DEFAULT_MODEL, moment_arms_mm, muscle_strength
from pedalwright.muscle_curves import MUSCLES
from pedalwright.posture import LegAngles, LegRates

__all__ = ["InfeasibleMomentError", "LoadShare", "Recruitment", "recruit", "share_load"]

LIMITS = ("isometric", "length and velocity")


@dataclass(frozen=True)
class Recruitment:
    """Muscle forces around the stroke; muscles on the axis before the last, crank angles on the last.

    Parameters
    ----------
    muscles : tuple of str
        Names, in the order of the axis.
    force_n : numpy.ndarray, shape (..., muscles, crank angles)
        Forces. [N]
    activation : numpy.ndarray, shape (..., muscles, crank angles)
        Forces, of the maximal isometric force. [1]
    hip_extension_moment_nm, knee_extension_moment_nm : numpy.ndarray, shape (..., muscles, crank angles)
        What each muscle adds to the moment at hip and knee, extension positive. [N·m]
    ankle_plantar_flexion_moment_nm : numpy.ndarray, shape (..., muscles, crank angles)
        What each muscle adds to the moment at the ankle, plantar flexion positive. [N·m]
    reserve_nm : numpy.ndarray, shape (..., 3, crank angles)
        Part of hip extension, knee extension and plantar-flexion moment the muscles could not give. [N·m]

    References
    ----------
    crowninshield_brand_1981

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> shared = recruit([60.0], [30.0], [20.0], Posture([60.0], [60.0], [0.0]))
    >>> shared.muscles[int(shared.force_n[:, 0].argmax())]
    'vasti'
    """

    muscles: tuple[str, ...]
    force_n: Floats
    activation: Floats
    hip_extension_moment_nm: Floats
    knee_extension_moment_nm: Floats
    ankle_plantar_flexion_moment_nm: Floats
    reserve_nm: Floats


def recruit(
    hip_extension_moment_nm: Numbers,
    knee_extension_moment_nm: Numbers,
    ankle_plantar_flexion_moment_nm: Numbers,
    posture: LegAngles,
    rates: LegRates | None = None,
    *,
    muscles: Sequence[str] = tuple(MUSCLES),
    model: str = DEFAULT_MODEL,
    exponent: float = 3.0,
    limits: str = "isometric",
    constants: str = "thelen_2003",
    max_force_n: Mapping[str, float] | None = None,
    allow_reserve: bool = False,
    thigh_length_mm: Numbers | None = None,
    shank_length_mm: Numbers | None = None,
) -> Recruitment:
    """Share the joint moments of a stroke among the muscles: static optimisation at each crank angle.

    Parameters
    ----------
    hip_extension_moment_nm, knee_extension_moment_nm : array_like, shape (..., crank angles)
        Net joint moments as ``inverse_dynamics`` gives them, extension positive. [N·m]
    ankle_plantar_flexion_moment_nm : array_like, shape (..., crank angles)
        Net moment at the ankle, plantar flexion positive. [N·m]
    posture : Posture or Stroke
        Joint angles of the same shape, inside the model's range. A stroke counts its ankle from the pedal's surface;
        the foot in a shoe lies toe-down against that (13° in ``park_caldwell_umberger_2022``), and the passive force of
        the calf hangs on it: give a ``Posture`` with the offset added where it matters. [°]
    rates : Rates or Motion, optional
        Rates of the joint angles, for limits by length and velocity; left out: the leg stands still. [°/s]
    muscles : sequence of str
        Keys of ``MUSCLES`` or heads; all ten muscles if left out.
    model : {"lai_2017", "rajagopal_2016", "gait2392"}
        Moment arms and strengths.
    exponent : float
        Power p of the sum that is made least, above 1 and up to 10. The default 3 is the classic value for endurance
        tasks; 2 is the other usual one and lets fewer muscles work at once. [1]
    limits : {"isometric", "length and velocity"}
        What a muscle can give at most: its maximal isometric force; or what its length and velocity leave of that, with
        the passive force of stretched muscles taken along.
    constants : {"thelen_2003", "gait2392"}
        Constants of the muscle model, for limits by length and velocity.
    max_force_n : mapping, optional
        Maximal isometric forces of muscles by name, instead of the model's. [N]
    allow_reserve : bool
        Where the muscles cannot give the moments, let a helper moment give what is missing and report it; if False,
        such moments are an error.
    thigh_length_mm, shank_length_mm : array_like, optional
        The rider's segments; the moment arms grow with them. Left out: the model's own. [mm]

    Returns
    -------
    Recruitment
        Forces, relative forces and what each muscle adds at each joint.

    Raises
    ------
    OutOfRangeError
        If a value is out of range or a name unknown.
    InfeasibleMomentError
        If the muscles cannot give the moments together and no reserve was allowed.

    Notes
    -----
    *Teaching model*: least Σ (F/F_max)^p. It shows why two-joint muscles are worth their place and in which order
    muscles come in; it is not a measurement of a rider's muscles. Published muscle activity agrees in part only, see
    ``compare_with_activity``.

    References
    ----------
    crowninshield_brand_1981
    lai_2017
    thelen_2003
    hug_dorel_2009

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> shared = recruit([60.0], [30.0], [20.0], Posture([60.0], [60.0], [0.0]))
    >>> shared.hip_extension_moment_nm.sum(axis=-2).round(6).tolist()
    [60.0]
    """
    names = _names(muscles)
    asked = np.stack(
        np.broadcast_arrays(
            -checked("hip_extension_moment_nm", hip_extension_moment_nm),
            -checked("knee_extension_moment_nm", knee_extension_moment_nm),
            checked("ankle_plantar_flexion_moment_nm", ankle_plantar_flexion_moment_nm),
        ),
        axis=-1,
    )
    arms = _arms(names, posture, model, thigh_length_mm, shank_length_mm)
    most = _strengths(names, model, max_force_n)
    top, passive = _limits(names, posture, rates, model, chosen("limits", limits, {n: n for n in LIMITS}), constants)
    resting = np.einsum("...mj,...m->...j", arms / 1000, passive * most)
    share = share_load(
        asked - resting, arms, most, exponent=exponent, upper_activation=top, allow_reserve=allow_reserve
    )
    activation = share.activation + passive
    by_muscle = arms / 1000 * (activation * most)[..., None]
    last = np.moveaxis(by_muscle, -2, -3)  # (..., muscles, crank angles, joints)
    return Recruitment(
        names,
        np.swapaxes(activation * most, -1, -2),
        np.swapaxes(activation, -1, -2),
        -last[..., 0],
        -last[..., 1],
        last[..., 2],
        np.swapaxes(share.reserve_nm * [-1, -1, 1], -1, -2),
    )


def _names(muscles: Sequence[str]) -> tuple[str, ...]:
    names = tuple(muscles)
    if not names or len(set(names)) != len(names):
        raise OutOfRangeError(f"muscles: received {list(names)}; allowed: at least one name, each once; check the list")
    return names


def _arms(names: Sequence[str], posture: LegAngles, model: str, thigh: Numbers | None, shank: Numbers | None) -> Floats:
    arms = [moment_arms_mm(name, posture, model=model, thigh_length_mm=thigh, shank_length_mm=shank) for name in names]
    joints = [np.stack(np.broadcast_arrays(arm.hip_mm, arm.knee_mm, arm.ankle_mm), axis=-1) for arm in arms]
    return np.stack(np.broadcast_arrays(*joints), axis=-2)


def _strengths(names: Sequence[str], model: str, given: Mapping[str, float] | None) -> Floats:
    own = dict(given or {})
    unknown = sorted(set(own) - set(names))
    if unknown:
        raise OutOfRangeError(
            f"max_force_n: received {', '.join(unknown)}; allowed: {', '.join(names)}; check the names"
        )
    values = [own[name] if name in own else muscle_strength(name, model).max_isometric_force_n for name in names]
    return checked("max_force_n", values, above=0)


def _limits(
    names: Sequence[str], posture: LegAngles, rates: LegRates | None, model: str, limits: str, constants: str
) -> tuple[Floats, Floats]:
    if limits == "isometric":
        return np.ones(len(names)), np.zeros(len(names))
    active, passive = [], []
    for name in names:
        most = muscle_strength(name, model).max_isometric_force_n
        force = capacity(name, posture, rates, model=model, constants=constants)
        active.append(force.active_n / most)
        passive.append(force.passive_n / most)
    return np.stack(np.broadcast_arrays(*active), axis=-1), np.stack(np.broadcast_arrays(*passive), axis=-1)
