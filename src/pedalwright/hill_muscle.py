"""What a pedalling muscle can pull at its length and velocity on the bicycle."""

from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked
from pedalwright.hill import (
    DEFAULT_CONSTANTS,
    HILL_CONSTANTS,
    active_force_length,
    force_velocity,
    passive_force,
    tendon_force,
)
from pedalwright.muscle_arms import DEFAULT_MODEL, muscle_strength
from pedalwright.muscle_curves import Strength
from pedalwright.muscle_lengths import lengthening_velocity_mm_s, muscle_length_mm
from pedalwright.posture import LegAngles, LegRates, Rates


@dataclass(frozen=True)
class Fibre:
    """Fibre of a muscle whose tendon is taken as rigid; slack where the cosine is 0.

    Parameters
    ----------
    length_ratio : numpy.ndarray
        Fibre length, of the optimal length. [1]
    velocity_ratio : numpy.ndarray
        Fibre velocity, of the greatest shortening velocity; shortening negative. [1]
    cos_pennation : numpy.ndarray
        Share of the fibre's force that reaches the tendon. [1]

    References
    ----------
    thelen_2003
    zajac_1989

    Examples
    --------
    >>> rigid_tendon_fibre(350, 0, Strength(1000, 100, 250, 0)).length_ratio.item()
    1.0
    """

    length_ratio: Floats
    velocity_ratio: Floats
    cos_pennation: Floats


@dataclass(frozen=True)
class Capacity:
    """Forces a muscle can put on its tendon at a length and velocity.

    Parameters
    ----------
    active_n : numpy.ndarray
        Force of the fully active muscle beyond the passive part. [N]
    passive_n : numpy.ndarray
        Force without any activation. [N]

    References
    ----------
    thelen_2003

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> capacity("soleus", Posture(60, 60)).passive_n.round().item()
    5.0
    """

    active_n: Floats
    passive_n: Floats


def rigid_tendon_fibre(
    muscle_tendon_length_mm: Numbers,
    lengthening_velocity_mm_s: Numbers,
    strength: Strength,
    constants: str = DEFAULT_CONSTANTS,
) -> Fibre:
    """Length and velocity of the fibres of a muscle whose tendon is taken as rigid.

    Parameters
    ----------
    muscle_tendon_length_mm : array_like
        Muscle with tendon, at the size for which ``strength`` holds, above 0. [mm]
    lengthening_velocity_mm_s : array_like
        Its velocity, lengthening positive. [mm/s]
    strength : Strength
        Optimal fibre length, tendon slack length and pennation.
    constants : {"thelen_2003", "gait2392"}
        Set of constants.

    Returns
    -------
    Fibre
        Ratios and the cosine of the pennation; a slack muscle has the cosine 0. [1]

    Raises
    ------
    OutOfRangeError
        If a value is out of range or the name unknown.

    Notes
    -----
    *Teaching model*: fibres keep their distance from the line of the tendon. Taking the tendon as rigid misplaces
    fibre lengths of the calf most, where the tendon is long.

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> fibre = rigid_tendon_fibre(350, -500, Strength(1000, 100, 250, 0))
    >>> fibre.velocity_ratio.item(), fibre.cos_pennation.item()
    (-0.5, 1.0)
    """
    optimal = strength.optimal_fibre_length_mm
    along = np.maximum(
        checked("muscle_tendon_length_mm", muscle_tendon_length_mm, above=0) - strength.tendon_slack_length_mm, 0
    )
    across = optimal * np.sin(np.radians(strength.pennation_deg))
    fibre = np.hypot(along, across)
    cosine = np.divide(along, fibre, out=np.zeros_like(fibre), where=fibre > 0)
    velocity = checked("lengthening_velocity_mm_s", lengthening_velocity_mm_s) * cosine
    fastest = optimal * chosen("constants", constants, HILL_CONSTANTS).max_velocity_per_s
    return Fibre(np.asarray(fibre / optimal), np.asarray(velocity / fastest), cosine)


def capacity(
    muscle: str,
    posture: LegAngles,
    rates: LegRates | None = None,
    *,
    model: str = DEFAULT_MODEL,
    constants: str = DEFAULT_CONSTANTS,
) -> Capacity:
    """Force a muscle can give in a posture, at rest or at given joint rates.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES``, or one of the heads listed there.
    posture : Posture or Stroke
        Joint angles inside the model's range. [°]
    rates : Rates or Motion, optional
        Rates of the joint angles; left out: the leg stands still. [°/s]
    model : {"lai_2017", "rajagopal_2016", "gait2392"}
        Paths and strengths.
    constants : {"thelen_2003", "gait2392"}
        Constants of the muscle model.

    Returns
    -------
    Capacity
        Active and passive force along the tendon, with the shape of the posture. [N]

    Raises
    ------
    OutOfRangeError
        If an angle is out of range, a name unknown or the model states no strengths.

    Notes
    -----
    *Teaching model*: rigid tendon, the strength of the model's own people. A rider is not that strong or weak; read the
    shape over the stroke, not the newtons.

    References
    ----------
    thelen_2003
    zajac_1989
    lai_2017

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> still = capacity("vasti", Posture(60, 60)).active_n
    >>> moving = capacity("vasti", Posture(60, 60), Rates(knee_flexion_velocity_deg_s=-300)).active_n
    >>> bool(moving < still)
    True
    """
    strength = muscle_strength(muscle, model)
    velocity = lengthening_velocity_mm_s(muscle, posture, rates or Rates(), model=model)
    fibre = rigid_tendon_fibre(muscle_length_mm(muscle, posture, model=model), velocity, strength, constants)
    most = strength.max_isometric_force_n * fibre.cos_pennation
    active = active_force_length(fibre.length_ratio, constants) * force_velocity(fibre.velocity_ratio, constants)
    return Capacity(np.asarray(most * active), np.asarray(most * passive_force(fibre.length_ratio, constants)))


def isometric_force_n(
    muscle_tendon_length_mm: Numbers,
    strength: Strength,
    constants: str = DEFAULT_CONSTANTS,
    *,
    activation: Numbers = 1.0,
) -> Floats:
    """Force of a muscle held at a length, its tendon stretching under the pull.

    Parameters
    ----------
    muscle_tendon_length_mm : array_like
        Muscle with tendon, at the size for which ``strength`` holds, above 0. [mm]
    strength : Strength
        Maximal force, optimal fibre length, tendon slack length and pennation.
    constants : {"thelen_2003", "gait2392"}
        Set of constants.
    activation : array_like
        Activation, 0 to 1. [1]

    Returns
    -------
    numpy.ndarray
        Force in the tendon, equal to the fibre's pull along it. [N]

    Raises
    ------
    OutOfRangeError
        If a value is out of range or the name unknown.

    Notes
    -----
    *Teaching model*: fibre and tendon in equilibrium, found by halving the interval of fibre lengths.

    References
    ----------
    thelen_2003
    zajac_1989

    Examples
    --------
    >>> stretched = isometric_force_n([350, 360], Strength(1000, 100, 250, 0))
    >>> stretched.round().tolist()
    [979.0, 1000.0]
    """
    length = checked("muscle_tendon_length_mm", muscle_tendon_length_mm, above=0)
    active = checked("activation", activation, at_least=0, at_most=1)
    length, active = np.broadcast_arrays(length, active)
    optimal, slack = strength.optimal_fibre_length_mm, strength.tendon_slack_length_mm
    across = optimal * np.sin(np.radians(strength.pennation_deg))

    def pull(along: Floats) -> Floats:
        fibre = np.hypot(along, across) / optimal
        cosine = along / np.maximum(fibre * optimal, 1e-12)
        return np.asarray((active * active_force_length(fibre, constants) + passive_force(fibre, constants)) * cosine)

    def tendon(along: Floats) -> Floats:
        return tendon_force((length - along - slack) / slack, constants)

    short, long = np.zeros_like(length), np.maximum(length - slack, 0.0)
    for _ in range(60):
        middle = (short + long) / 2
        tighter = tendon(middle) > pull(middle)
        short, long = np.where(tighter, middle, short), np.where(tighter, long, middle)
    return np.asarray(strength.max_isometric_force_n * tendon((short + long) / 2))
