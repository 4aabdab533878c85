"""Hill's muscle: what force a fibre gives at its length and velocity, and what its tendon does.

Forces are fractions of the maximal isometric force, lengths fractions of the optimal fibre length, velocities fractions
of the greatest shortening velocity, shortening negative.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked


@dataclass(frozen=True)
class HillConstants:
    """One set of constants of the muscle model.

    Parameters
    ----------
    source : str
        Bibliography key.
    active_width : float
        Width γ of the active force-length bell. [1]
    passive_shape : float
        Steepness of the passive force. [1]
    passive_strain : float
        Stretch beyond the optimal length at which the passive force reaches the maximal isometric force. [1]
    velocity_shape : float
        Curvature of the force-velocity relation; the smaller, the more curved. [1]
    lengthening_force : float
        Force approached in fast lengthening, of the maximal isometric force. [1]
    max_velocity_per_s : float
        Greatest shortening velocity in optimal fibre lengths a second. [1/s]
    tendon_strain : float
        Strain of the tendon at the maximal isometric force. [1]
    tendon_shape : float
        Steepness of the tendon's toe region. [1]
    activation_ms, deactivation_ms : float
        Time constants. [ms]

    References
    ----------
    thelen_2003
    delp_1990

    Examples
    --------
    >>> HILL_CONSTANTS["thelen_2003"].active_width
    0.45
    """

    source: str
    active_width: float
    passive_shape: float
    passive_strain: float
    velocity_shape: float
    lengthening_force: float
    max_velocity_per_s: float
    tendon_strain: float
    tendon_shape: float
    activation_ms: float
    deactivation_ms: float


HILL_CONSTANTS: Mapping[str, HillConstants] = {
    "thelen_2003": HillConstants("thelen_2003", 0.45, 5.0, 0.6, 0.25, 1.4, 10.0, 0.04, 3.0, 15.0, 50.0),
    "gait2392": HillConstants("delp_1990", 0.5, 4.0, 0.6, 0.3, 1.8, 10.0, 0.033, 3.0, 10.0, 40.0),
}
"""The paper's constants (young adults), the default because they are the published ones, and those of the leg model
that is most often shared. They differ; a result that hangs on the difference is not a result."""
DEFAULT_CONSTANTS = "thelen_2003"

_TOE_FORCE = 0.33


def active_force_length(length_ratio: Numbers, constants: str = DEFAULT_CONSTANTS) -> Floats:
    """Active force of a fully active fibre held at a length.

    Parameters
    ----------
    length_ratio : array_like
        Fibre length, of the optimal length, at least 0. [1]
    constants : {"thelen_2003", "gait2392"}
        Set of constants.

    Returns
    -------
    numpy.ndarray
        Force, of the maximal isometric force, 0 to 1. [1]

    Raises
    ------
    OutOfRangeError
        If a length is negative or the name unknown.

    Notes
    -----
    *Published regression*: a bell, exp(−(l − 1)²/γ).

    References
    ----------
    thelen_2003
    zajac_1989

    Examples
    --------
    >>> active_force_length([0.5, 1.0]).round(4).tolist()
    [0.5738, 1.0]
    """
    length = checked("length_ratio", length_ratio, at_least=0)
    return np.asarray(np.exp(-((length - 1) ** 2) / _set(constants).active_width))


def passive_force(length_ratio: Numbers, constants: str = DEFAULT_CONSTANTS) -> Floats:
    """Force of a stretched fibre that is not active.

    Parameters
    ----------
    length_ratio : array_like
        Fibre length, of the optimal length, at least 0. [1]
    constants : {"thelen_2003", "gait2392"}
        Set of constants.

    Returns
    -------
    numpy.ndarray
        Force, of the maximal isometric force; 0 up to the optimal length. [1]

    Raises
    ------
    OutOfRangeError
        If a length is negative or the name unknown.

    Notes
    -----
    *Published regression*: an exponential.

    References
    ----------
    thelen_2003

    Examples
    --------
    >>> passive_force([0.9, 1.5]).round(4).tolist()
    [0.0, 0.4308]
    """
    chosen_set = _set(constants)
    stretch = np.maximum(checked("length_ratio", length_ratio, at_least=0) - 1, 0)
    rise = np.expm1(chosen_set.passive_shape * stretch / chosen_set.passive_strain)
    return np.asarray(rise / np.expm1(chosen_set.passive_shape))


def force_velocity(velocity_ratio: Numbers, constants: str = DEFAULT_CONSTANTS, *, activation: Numbers = 1.0) -> Floats:
    """Factor by which velocity changes the active force.

    Parameters
    ----------
    velocity_ratio : array_like
        Fibre velocity, of the greatest shortening velocity of a fully active fibre; shortening negative. [1]
    constants : {"thelen_2003", "gait2392"}
        Set of constants.
    activation : array_like
        Activation, 0 to 1; a less active muscle shortens less fast. [1]

    Returns
    -------
    numpy.ndarray
        Factor on the active isometric force: 0 at the greatest shortening velocity, 1 at rest, above 1 lengthening. [1]

    Raises
    ------
    OutOfRangeError
        If a velocity is not finite, the activation out of range or the name unknown.

    Notes
    -----
    *Measured law* in shape (Hill's hyperbola), *published regression* in its constants. The slope doubles from
    shortening to lengthening.

    References
    ----------
    thelen_2003
    zajac_1989

    Examples
    --------
    >>> force_velocity([-1, -0.25, 0, 0.1]).round(4).tolist()
    [0.0, 0.375, 1.0, 1.2857]
    """
    chosen_set = _set(constants)
    active = checked("activation", activation, at_least=0, at_most=1)
    velocity = checked("velocity_ratio", velocity_ratio) / (0.25 + 0.75 * active)
    slow = np.clip(velocity, -1, 0)
    shortening = (1 + slow) / (1 - slow / chosen_set.velocity_shape)
    gain = chosen_set.lengthening_force - 1
    steep = (2 + 2 / chosen_set.velocity_shape) * np.maximum(velocity, 0)
    lengthening = (gain + steep * chosen_set.lengthening_force) / (gain + steep)
    return np.asarray(np.where(velocity < 0, shortening, lengthening))


def tendon_force(tendon_strain: Numbers, constants: str = DEFAULT_CONSTANTS) -> Floats:
    """Force of a stretched tendon.

    Parameters
    ----------
    tendon_strain : array_like
        Stretch beyond the slack length, of the slack length, above −1. [1]
    constants : {"thelen_2003", "gait2392"}
        Set of constants.

    Returns
    -------
    numpy.ndarray
        Force, of the muscle's maximal isometric force; 0 while slack. [1]

    Raises
    ------
    OutOfRangeError
        If a strain is out of range or the name unknown.

    Notes
    -----
    *Published regression*: a curved toe up to a third of the maximal force, straight beyond.

    References
    ----------
    thelen_2003
    zajac_1989

    Examples
    --------
    >>> tendon_force([0, 0.01, 0.04]).round(4).tolist()
    [0.0, 0.042, 0.9994]
    """
    chosen_set = _set(constants)
    strain = np.maximum(checked("tendon_strain", tendon_strain, above=-1), 0)
    end = 0.609 * chosen_set.tendon_strain
    toe = _TOE_FORCE * np.expm1(chosen_set.tendon_shape * np.minimum(strain, end) / end)
    straight = 1.712 / chosen_set.tendon_strain * np.maximum(strain - end, 0)
    return np.asarray(toe / np.expm1(chosen_set.tendon_shape) + straight)


def activation_rate_per_s(excitation: Numbers, activation: Numbers, constants: str = DEFAULT_CONSTANTS) -> Floats:
    """How fast a muscle's activation follows its excitation.

    Parameters
    ----------
    excitation, activation : array_like
        Neural drive and present activation, 0 to 1. [1]
    constants : {"thelen_2003", "gait2392"}
        Set of constants.

    Returns
    -------
    numpy.ndarray
        Rate of activation. [1/s]

    Raises
    ------
    OutOfRangeError
        If a value is out of range or the name unknown.

    Notes
    -----
    *Published regression*: first order; slower the more active when rising, faster when falling. At 90 rpm the fall's
    time constant of 50 ms alone is 27° of crank.

    References
    ----------
    thelen_2003

    Examples
    --------
    >>> activation_rate_per_s(1, 0).round(2).item()
    133.33
    """
    drive = checked("excitation", excitation, at_least=0, at_most=1)
    active = checked("activation", activation, at_least=0, at_most=1)
    chosen_set = _set(constants)
    pace = 0.5 + 1.5 * active
    seconds = np.where(drive > active, chosen_set.activation_ms * pace, chosen_set.deactivation_ms / pace) / 1000
    return np.asarray((drive - active) / seconds)


def _set(constants: str) -> HillConstants:
    return chosen("constants", constants, HILL_CONSTANTS)
