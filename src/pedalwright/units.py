"""Conversions between the units a fitter meets and the ones used here."""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

FACTORS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "length": {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254},
        "area": {"mm2": 1e-6, "cm2": 1e-4, "m2": 1.0},
        "angle": {"deg": np.pi / 180, "rad": 1.0, "turn": 2 * np.pi},
        "angular velocity": {"rad_s": 1.0, "deg_s": np.pi / 180, "rpm": np.pi / 30, "hz": 2 * np.pi},
        "angular acceleration": {"rad_s2": 1.0, "deg_s2": np.pi / 180},
        "mass": {"kg": 1.0, "g": 1e-3, "lb": 0.45359237},
        "force": {"n": 1.0, "kn": 1e3, "kgf": 9.80665, "lbf": 4.4482216152605},
        "torque": {"nm": 1.0, "nmm": 1e-3},
        "pressure": {"pa": 1.0, "kpa": 1e3, "n_cm2": 1e4, "mmhg": 133.322387415, "psi": 6894.757293168361},
        "energy": {"j": 1.0, "kj": 1e3, "kcal": 4184.0},
        "power": {"w": 1.0, "kw": 1e3},
        "time": {"s": 1.0, "ms": 1e-3, "min": 60.0},
        "speed": {"m_s": 1.0, "mm_s": 1e-3, "km_h": 1 / 3.6},
        "share": {"1": 1.0, "pct": 1e-2},
    }
)


def kind_of_unit(unit: str) -> str:
    """Say what a unit measures.

    Parameters
    ----------
    unit : str
        Unit as it ends a parameter name.

    Returns
    -------
    str
        A key of ``FACTORS``.

    Raises
    ------
    OutOfRangeError
        If the unit is not known.

    Examples
    --------
    >>> kind_of_unit("rpm")
    'angular velocity'
    """
    for kind, units in FACTORS.items():
        if unit in units:
            return kind
    known = ", ".join(name for units in FACTORS.values() for name in units)
    raise OutOfRangeError(f"unit: received {unit!r}; allowed: {known}; choose one of them")


def convert(value: Numbers, unit: str, to_unit: str) -> Floats:
    """Convert a value from one unit to another of the same kind.

    Parameters
    ----------
    value : array_like
        The value, any finite number. [unit]
    unit : str
        Unit of the value, as it ends a parameter name: ``mm``, ``deg``, ``rpm``, ``kpa`` …
    to_unit : str
        Unit wanted, of the same kind.

    Returns
    -------
    numpy.ndarray
        The value. [to_unit]

    Raises
    ------
    OutOfRangeError
        If a unit is not known or the two measure different things.

    References
    ----------
    bipm_si_2019

    Notes
    -----
    *Convention*: exact by definition, except the millimetre of mercury, which is rounded.

    Examples
    --------
    >>> round(convert(90, "rpm", "rad_s").item(), 4)
    9.4248
    >>> convert(3.4, "cm", "mm").item()
    34.0
    """
    kind, wanted = kind_of_unit(unit), kind_of_unit(to_unit)
    if kind != wanted:
        raise OutOfRangeError(
            f"to_unit: received {to_unit!r}, a unit of {wanted}; allowed: {', '.join(FACTORS[kind])}; "
            f"convert {kind} to {kind}"
        )
    return np.asarray(checked("value", value) * (FACTORS[kind][unit] / FACTORS[kind][to_unit]))
