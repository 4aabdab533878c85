"""Joint angles from landmarks.

Points are (x, y) on the last axis: x forward, y up, seen from the rider's right. A view from the left has the rider
facing left: say ``facing="left"`` and every angle comes out as if seen from the right.
"""

from typing import Literal

import numpy as np

from pedalwright._planar import side, span, turn, wrapped
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked

Facing = Literal["right", "left"]

__all__ = [
    "ankle_plantar_flexion_deg",
    "hip_flexion_deg",
    "included_angle_deg",
    "knee_flexion_deg",
    "segment_angle_deg",
    "trunk_thigh_angle_deg",
]


def segment_angle_deg(proximal_mm: Numbers, distal_mm: Numbers, *, facing: Facing = "right") -> Floats:
    """Direction of a segment from its proximal to its distal end.

    Parameters
    ----------
    proximal_mm, distal_mm : array_like, shape (..., 2)
        The two ends, apart from each other. [mm]
    facing : {"right", "left"}
        Which way the rider faces in the picture.

    Returns
    -------
    numpy.ndarray, shape (...)
        Angle from straight ahead, upward positive, above −180 and up to 180; a hanging thigh has −90. [°]

    Raises
    ------
    OutOfRangeError
        If the points coincide or have no two coordinates.

    Notes
    -----
    *Convention.*

    References
    ----------
    wu_cavanagh_1995

    Examples
    --------
    >>> segment_angle_deg([0, 0], [300, -300]).item()
    -45.0
    """
    line = span("proximal_mm", proximal_mm, "distal_mm", distal_mm) * [side(facing), 1]
    return np.degrees(np.arctan2(line[..., 1], line[..., 0]))


def included_angle_deg(first_mm: Numbers, vertex_mm: Numbers, last_mm: Numbers) -> Floats:
    """Angle that three landmarks include at the middle one.

    Parameters
    ----------
    first_mm, vertex_mm, last_mm : array_like, shape (..., 2)
        The landmarks in order along the body, such as hip, knee and ankle. [mm]

    Returns
    -------
    numpy.ndarray, shape (...)
        Included angle, 0 to 180; it does not tell to which side the joint bends. [°]

    Raises
    ------
    OutOfRangeError
        If neighbouring points coincide or have no two coordinates.

    Notes
    -----
    *Convention.* Shoulder, hip and knee give the trunk-thigh angle; knee, ankle and toe an ankle angle.

    References
    ----------
    wu_cavanagh_1995

    Examples
    --------
    >>> included_angle_deg([0, 0], [300, -300], [0, -600]).item()
    90.0
    """
    first = span("vertex_mm", vertex_mm, "first_mm", first_mm)
    last = span("vertex_mm", vertex_mm, "last_mm", last_mm)
    return np.degrees(np.abs(turn(first, last)))


def knee_flexion_deg(hip_mm: Numbers, knee_mm: Numbers, ankle_mm: Numbers, *, facing: Facing = "right") -> Floats:
    """Knee flexion from three landmarks: 180° minus the included angle, negative when overextended.

    Parameters
    ----------
    hip_mm, knee_mm, ankle_mm : array_like, shape (..., 2)
        Joint centres (greater trochanter, lateral femoral condyle, lateral malleolus). [mm]
    facing : {"right", "left"}
        Which way the rider faces in the picture.

    Returns
    -------
    numpy.ndarray, shape (...)
        Knee flexion, above −180 and up to 180; 0 for a straight leg. [°]

    Raises
    ------
    OutOfRangeError
        If neighbouring points coincide or have no two coordinates.

    Notes
    -----
    *Convention.* The included angle is its supplement: 145° included is 35° of flexion.

    References
    ----------
    wu_cavanagh_1995
    peveler_2005

    Examples
    --------
    >>> knee_flexion_deg([0, 0], [300, -300], [0, -600]).item()
    90.0
    """
    thigh = span("hip_mm", hip_mm, "knee_mm", knee_mm)
    shank = span("knee_mm", knee_mm, "ankle_mm", ankle_mm)
    return wrapped(np.degrees(-turn(thigh, shank)) * side(facing))


def trunk_thigh_angle_deg(shoulder_mm: Numbers, hip_mm: Numbers, knee_mm: Numbers) -> Floats:
    """Angle included between trunk and thigh: the smaller, the more closed the hip.

    Parameters
    ----------
    shoulder_mm, hip_mm, knee_mm : array_like, shape (..., 2)
        Acromion, greater trochanter and lateral femoral condyle. [mm]

    Returns
    -------
    numpy.ndarray, shape (...)
        Included angle, 0 to 180; 180 standing upright. [°]

    Raises
    ------
    OutOfRangeError
        If neighbouring points coincide or have no two coordinates.

    Notes
    -----
    *Convention.* A bent back closes this angle without closing the hip joint itself: compare ``hip_flexion_deg``.

    References
    ----------
    wu_cavanagh_1995

    Examples
    --------
    >>> trunk_thigh_angle_deg([500, 500], [0, 0], [400, 0]).item()
    45.0
    """
    return included_angle_deg(shoulder_mm, hip_mm, knee_mm)


def hip_flexion_deg(
    hip_mm: Numbers, knee_mm: Numbers, pelvis_forward_tilt_deg: Numbers, *, facing: Facing = "right"
) -> Floats:
    """Hip flexion: thigh against pelvis, 0 standing upright.

    Parameters
    ----------
    hip_mm, knee_mm : array_like, shape (..., 2)
        Joint centres (greater trochanter, lateral femoral condyle). [mm]
    pelvis_forward_tilt_deg : array_like
        Tilt of the pelvis compared with standing (two readings of ``pelvic_tilt_deg``, one less the other), forward
        positive, −90 to 90. [°]
    facing : {"right", "left"}
        Which way the rider faces in the picture.

    Returns
    -------
    numpy.ndarray, shape (...)
        Hip flexion, above −180 and up to 180. No hip closes further; where landmarks say so, the angle is read from
        the other side: 190 comes out as −170. [°]

    Raises
    ------
    OutOfRangeError
        If the points coincide or the tilt is out of range.

    Notes
    -----
    *Convention.* Rolling the pelvis forward closes the hip by as much, with the thigh where it was.

    References
    ----------
    wu_cavanagh_1995

    Examples
    --------
    >>> hip_flexion_deg([0, 0], [400, 0], 20).item()
    110.0
    """
    tilt = checked("pelvis_forward_tilt_deg", pelvis_forward_tilt_deg, at_least=-90, at_most=90)
    return wrapped(segment_angle_deg(hip_mm, knee_mm, facing=facing) + 90 + tilt)


def ankle_plantar_flexion_deg(
    knee_mm: Numbers, ankle_mm: Numbers, heel_mm: Numbers, toe_mm: Numbers, *, facing: Facing = "right"
) -> Floats:
    """Plantar flexion: sole against shank, 0 with the sole at a right angle to the shank.

    Parameters
    ----------
    knee_mm, ankle_mm : array_like, shape (..., 2)
        Joint centres (lateral femoral condyle, lateral malleolus). [mm]
    heel_mm, toe_mm : array_like, shape (..., 2)
        Two points along the sole or the pedal, from back to front. [mm]
    facing : {"right", "left"}
        Which way the rider faces in the picture.

    Returns
    -------
    numpy.ndarray, shape (...)
        Plantar flexion (toe down), above −180 and up to 180; dorsiflexion negative. [°]

    Raises
    ------
    OutOfRangeError
        If two points of a segment coincide.

    Notes
    -----
    *Convention.* An angle taken to a toe landmark instead of the sole differs by 10° to 30° (from memory):
    see ``convert_ankle_angle_deg``.

    References
    ----------
    wu_2002

    Examples
    --------
    >>> ankle_plantar_flexion_deg([0, 400], [0, 0], [-50, -70], [150, -70]).item()
    0.0
    """
    shank = segment_angle_deg(knee_mm, ankle_mm, facing=facing)
    sole = segment_angle_deg(heel_mm, toe_mm, facing=facing)
    return wrapped(90 + shank - sole)
