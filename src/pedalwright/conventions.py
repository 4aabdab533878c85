"""The conventions every other module keeps: frame, crank angle, joint angles, sides.

The sagittal plane is seen from the rider's right: x forward, y up, origin at the bottom bracket.
Crank angle 0° is the top of the circle and grows in the pedalling direction.
"""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from pedalwright._typing import Floats, Numbers, Whole
from pedalwright.errors import OutOfRangeError, checked

CONVENTIONS: Mapping[str, str] = MappingProxyType(
    {
        "frame": "Sagittal plane seen from the rider's right; x forward, y up, origin at the bottom bracket.",
        "crank angle": "0° top, 90° forward horizontal, 180° bottom, 270° backward horizontal, growing as one pedals.",
        "pedal place": "Crank length times (sin θ, cos θ).",
        "tangent": "Direction in which the pedal moves, (cos θ, −sin θ); a force along it is positive.",
        "radial": "From the crank axis outward, (sin θ, cos θ); a force along it is positive.",
        "left crank": "Opposed to the right one: right crank angle plus 180°.",
        "pedal angle": "Tilt of the pedal from level, positive with the toe down.",
        "segment angles": "From forward, counter-clockwise seen from the right; thigh hip to knee, shank knee to "
        "ankle, foot ankle to pedal axle.",
        "flexion": "Closes the angle at a joint; extension opens it.",
        "knee flexion": "180° minus the included angle hip – knee – ankle; 0° is a straight leg.",
        "hip flexion": "Thigh against pelvis; 0° as in upright standing. The angle between trunk and thigh, and the "
        "thigh's angle to the horizontal, are other numbers and carry other names.",
        "ankle plantar flexion": "0° with the sole at a right angle to the shank; positive when the toe points further "
        "down, negative in dorsiflexion.",
        "pedal force": "Force of the foot on the pedal; normal positive into the pedal, shear positive toward the toe.",
        "joint moments": "Extensor and plantar-flexor moments are positive, whatever way the joint turns.",
        "varus": "The inner edge is higher.",
        "sides": "Right and left are never averaged without saying so.",
    }
)


def crank_direction(crank_angle_deg: Numbers) -> Floats:
    """Direction from the crank axis to the pedal.

    Parameters
    ----------
    crank_angle_deg : array_like
        Crank angle, any finite value. [°]

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Unit vector (x, y). [1]

    Raises
    ------
    OutOfRangeError
        If an angle is not a finite number.

    Examples
    --------
    >>> crank_direction(90).round(3).tolist()
    [1.0, 0.0]
    """
    crank = np.radians(checked("crank_angle_deg", crank_angle_deg))
    return np.stack([np.sin(crank), np.cos(crank)], axis=-1)


def tangent_direction(crank_angle_deg: Numbers) -> Floats:
    """Direction in which the pedal moves, in which a force does all its work.

    Parameters
    ----------
    crank_angle_deg : array_like
        Crank angle, any finite value. [°]

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Unit vector (x, y). [1]

    Raises
    ------
    OutOfRangeError
        If an angle is not a finite number.

    Examples
    --------
    >>> tangent_direction(90).round(3).tolist()
    [0.0, -1.0]
    """
    crank = np.radians(checked("crank_angle_deg", crank_angle_deg))
    return np.stack([np.cos(crank), -np.sin(crank)], axis=-1)


def pedal_place_mm(crank_angle_deg: Numbers, crank_length_mm: Numbers) -> Floats:
    """Place of the pedal axle.

    Parameters
    ----------
    crank_angle_deg : array_like
        Crank angle, any finite value. [°]
    crank_length_mm : array_like
        Crank length, above 0. [mm]

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Place (x, y) from the crank axis. [mm]

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Examples
    --------
    >>> pedal_place_mm(180, 170).round(3).tolist()
    [0.0, -170.0]
    """
    length = checked("crank_length_mm", crank_length_mm, above=0)
    return np.asarray(length[..., None] * crank_direction(crank_angle_deg))


def opposite_crank_angle_deg(crank_angle_deg: Numbers) -> Floats:
    """Angle of the other crank of an opposed pair.

    Parameters
    ----------
    crank_angle_deg : array_like
        Angle of one crank, any finite value. [°]

    Returns
    -------
    numpy.ndarray
        Angle of the other, from 0 to below 360. [°]

    Raises
    ------
    OutOfRangeError
        If an angle is not a finite number.

    Examples
    --------
    >>> opposite_crank_angle_deg([90, 200]).tolist()
    [270.0, 20.0]
    """
    return np.asarray(np.mod(checked("crank_angle_deg", crank_angle_deg) + 180, 360))


def sector_of(crank_angle_deg: Numbers, sector_count: int, first_edge_deg: float = 0.0) -> Whole:
    """Tell in which sector a crank angle lies, counted from 1.

    Parameters
    ----------
    crank_angle_deg : array_like
        Crank angle, any finite value. [°]
    sector_count : int
        How many equal sectors the turn is divided into, at least 1.
    first_edge_deg : float
        Where the first sector begins. [°]

    Returns
    -------
    numpy.ndarray of int
        Sector number from 1 to ``sector_count``; an edge belongs to the sector it opens.

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Examples
    --------
    >>> sector_of([0, 67.5, 90, 134.9], 16).tolist()
    [1, 4, 5, 6]
    """
    count = whole_number("sector_count", sector_count)
    place = np.mod(checked("crank_angle_deg", crank_angle_deg) - checked("first_edge_deg", first_edge_deg), 360)
    return np.asarray(np.minimum(np.floor(place * count / 360), count - 1) + 1, dtype=np.int64)


def flexion_from_included_deg(included_angle_deg: Numbers) -> Floats:
    """Flexion of a joint from the included angle between its two segments.

    Parameters
    ----------
    included_angle_deg : array_like
        Angle between the segments on the closing side, 0 to 360; above 180 the joint is overextended. [°]

    Returns
    -------
    numpy.ndarray
        Flexion, 0 for a straight joint. [°]

    Raises
    ------
    OutOfRangeError
        If an angle is out of range.

    Examples
    --------
    >>> flexion_from_included_deg(145).item()
    35.0
    """
    return np.asarray(180 - checked("included_angle_deg", included_angle_deg, at_least=0, at_most=360))


def included_from_flexion_deg(flexion_deg: Numbers) -> Floats:
    """Included angle between the two segments of a joint from its flexion.

    Parameters
    ----------
    flexion_deg : array_like
        Flexion, −180 to 180. [°]

    Returns
    -------
    numpy.ndarray
        Angle between the segments on the closing side. [°]

    Raises
    ------
    OutOfRangeError
        If an angle is out of range.

    Examples
    --------
    >>> included_from_flexion_deg(25).item()
    155.0
    """
    return np.asarray(180 - checked("flexion_deg", flexion_deg, at_least=-180, at_most=180))


def whole_number(name: str, value: int) -> int:
    """Check a count.

    Parameters
    ----------
    name : str
        Name of the count.
    value : int
        The count, a whole number of at least 1.

    Returns
    -------
    int
        The count.

    Raises
    ------
    OutOfRangeError
        If it is not a whole number of at least 1.

    Examples
    --------
    >>> whole_number("sector_count", 16)
    16
    """
    if isinstance(value, bool) or not isinstance(value, int | np.integer) or value < 1:
        raise OutOfRangeError(f"{name}: received {value!r}; allowed: a whole number of at least 1; give a count")
    return int(value)
