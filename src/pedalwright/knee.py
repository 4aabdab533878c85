"""Load on the front of the knee: quadriceps, patellar tendon and the joint behind the kneecap.

Estimates from the net knee moment. They are lower bounds, since muscles that flex the knee at the same time add to
the load, and they say nothing about pain: pain in a knee is a matter for a physician or physiotherapist.
"""

from dataclasses import dataclass

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.constants import Constant
from pedalwright.errors import checked

DEEPEST_KNEE_FLEXION_DEG = Constant(
    90.0, "°", "end of the range in which the fits hold", "from memory", source="van_eijden_1986"
)
_WHOM = "a model checked on cadaver knees"
QUADRICEPS_ARM_FIT = tuple(
    Constant(
        value,
        f"mm/°^{power}",
        f"quadriceps lever arm: term of degree {power}",
        "from memory",
        source="van_eijden_1986",
        population=_WHOM,
    )
    for power, value in enumerate((46.0, 0.28, -0.013, 8.0e-5))
)
RATIO_ABOVE_FIT = tuple(
    Constant(
        value,
        f"1/°^{power}",
        f"kneecap force over quadriceps force: numerator, degree {power}",
        "from memory",
        source="van_eijden_1986",
        population=_WHOM,
    )
    for power, value in enumerate((0.462, 1.47e-3, -3.84e-5))
)
RATIO_BELOW_FIT = tuple(
    Constant(
        value,
        f"1/°^{power}",
        f"kneecap force over quadriceps force: denominator, degree {power}",
        "from memory",
        source="van_eijden_1986",
        population=_WHOM,
    )
    for power, value in enumerate((1.0, -1.62e-2, 1.55e-4, -6.98e-7))
)
TENDON_ARM_FIT = tuple(
    Constant(
        value,
        f"mm/°^{power}",
        f"patellar tendon lever arm: term of degree {power}",
        "from memory",
        source="herzog_read_1993",
        population="cadaver knees",
    )
    for power, value in enumerate((47.1, 0.420, -8.96e-3, 4.47e-5))
)
_ADVICE = "leave out the crank angles at which the knee is bent further; the pedal load is small there"


@dataclass(frozen=True)
class KneeLoad:
    """Forces at the front of the knee.

    Parameters
    ----------
    quadriceps_force_n : numpy.ndarray
        Force of the quadriceps. [N]
    patellar_tendon_force_n : numpy.ndarray
        Force of the patellar tendon, below the kneecap. [N]
    patellofemoral_force_n : numpy.ndarray
        Force that presses the kneecap on the thigh bone. [N]

    Examples
    --------
    >>> round(knee_load(40, 60).patellofemoral_force_n.item())
    1138
    """

    quadriceps_force_n: Floats
    patellar_tendon_force_n: Floats
    patellofemoral_force_n: Floats


def quadriceps_arm_mm(knee_flexion_deg: Numbers) -> Floats:
    """Effective lever arm of the quadriceps about the knee.

    Parameters
    ----------
    knee_flexion_deg : array_like
        Knee flexion, 0 to 90. [°]

    Returns
    -------
    numpy.ndarray
        Lever arm. [mm]

    Raises
    ------
    OutOfRangeError
        If the flexion is outside 0 to 90°.

    Notes
    -----
    *Published regression*, coefficients from memory of papers that fit the model; moderate evidence. Measured in living
    knees the arm is up to a fifth smaller at 50° of flexion.

    References
    ----------
    van_eijden_1986
    im_2015

    Examples
    --------
    >>> quadriceps_arm_mm([0, 30, 60, 90]).round(2).tolist()
    [46.0, 44.86, 33.28, 24.22]
    """
    return _polynomial(QUADRICEPS_ARM_FIT, _flexion(knee_flexion_deg))


def patellar_tendon_arm_mm(knee_flexion_deg: Numbers) -> Floats:
    """Lever arm of the patellar tendon about the knee.

    Parameters
    ----------
    knee_flexion_deg : array_like
        Knee flexion, 0 to 90. [°]

    Returns
    -------
    numpy.ndarray
        Lever arm. [mm]

    Raises
    ------
    OutOfRangeError
        If the flexion is outside 0 to 90°.

    Notes
    -----
    *Published regression*, coefficients from memory; moderate evidence. Size of the knee explains two thirds of the
    differences between people, which lie within about 10 mm.

    References
    ----------
    herzog_read_1993
    dandridge_2022

    Examples
    --------
    >>> patellar_tendon_arm_mm([0, 60]).round(1).tolist()
    [47.1, 49.7]
    """
    return _polynomial(TENDON_ARM_FIT, _flexion(knee_flexion_deg))


def patellofemoral_ratio(knee_flexion_deg: Numbers) -> Floats:
    """Force on the kneecap for each newton of the quadriceps.

    Parameters
    ----------
    knee_flexion_deg : array_like
        Knee flexion, 0 to 90. [°]

    Returns
    -------
    numpy.ndarray
        Ratio. [1]

    Raises
    ------
    OutOfRangeError
        If the flexion is outside 0 to 90°.

    Notes
    -----
    *Published regression*, coefficients from memory of papers that fit the model; moderate evidence.

    References
    ----------
    van_eijden_1986

    Examples
    --------
    >>> patellofemoral_ratio([0, 30, 60, 90]).round(4).tolist()
    [0.462, 0.743, 0.9465, 0.9813]
    """
    flexion = _flexion(knee_flexion_deg)
    return np.asarray(_polynomial(RATIO_ABOVE_FIT, flexion) / _polynomial(RATIO_BELOW_FIT, flexion))


def knee_load(knee_extension_moment_nm: Numbers, knee_flexion_deg: Numbers) -> KneeLoad:
    """Estimate the least forces of quadriceps, patellar tendon and kneecap that make a net knee moment.

    Parameters
    ----------
    knee_extension_moment_nm : array_like
        Net knee moment, extensor positive; where it is a flexor moment the quadriceps is taken to rest. [N·m]
    knee_flexion_deg : array_like
        Knee flexion, 0 to 90. [°]

    Returns
    -------
    KneeLoad
        The three forces. [N]

    Raises
    ------
    OutOfRangeError
        If the flexion is outside 0 to 90° or a value is not finite.

    Notes
    -----
    *Published regression* of the lever arms on top of inverse dynamics. A lower bound, good for comparing two positions
    of one rider, not for saying what a knee can bear. Studies disagree on whether saddle height changes this load.

    References
    ----------
    van_eijden_1986
    herzog_read_1993
    ericson_nisell_1987

    Examples
    --------
    >>> load = knee_load([40, -10], 60)
    >>> load.quadriceps_force_n.round().tolist()
    [1202.0, 0.0]
    """
    moment = np.maximum(checked("knee_extension_moment_nm", knee_extension_moment_nm), 0.0)
    quadriceps = 1000 * moment / quadriceps_arm_mm(knee_flexion_deg)
    tendon = 1000 * moment / patellar_tendon_arm_mm(knee_flexion_deg)
    return KneeLoad(quadriceps, tendon, quadriceps * patellofemoral_ratio(knee_flexion_deg))


def _flexion(knee_flexion_deg: Numbers) -> Floats:
    deepest = DEEPEST_KNEE_FLEXION_DEG.value
    return checked("knee_flexion_deg", knee_flexion_deg, at_least=0, at_most=deepest, advice=_ADVICE)


def _polynomial(fit: tuple[Constant, ...], flexion: Floats) -> Floats:
    return np.asarray(np.polynomial.polynomial.polyval(flexion, [term.value for term in fit]))
