"""The pelvis on the saddle, seen from the side: tilt, the width it bears on, how far the hip closes."""

from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.constants import PELVIS_FORWARD_TILT_DEG, TRUNK_ANGLE_DEG
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.pedal_angle import PeriodicCurve
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke

# Forward roll of the pelvis from sitting upright: assumptions to teach with, no source. Measure the rider.
POSTURE_ROLL_DEG = MappingProxyType({"upright": 0.0, "relaxed": 10.0, "sporting": 20.0, "low": 30.0})


@dataclass(frozen=True)
class HipClosure:
    """How far the hip closes over the turn. All arrays broadcast over riders.

    Parameters
    ----------
    top_hip_flexion_deg : numpy.ndarray
        Hip flexion, thigh against pelvis, with the crank at the top. [°]
    greatest_hip_flexion_deg : numpy.ndarray
        Greatest hip flexion of the turn. [°]
    greatest_at_crank_deg : numpy.ndarray
        Crank angle of the greatest hip flexion. [°]
    least_trunk_thigh_deg : numpy.ndarray
        Smallest angle between trunk and thigh. [°]

    Examples
    --------
    >>> hip_closure(Leg(430, 430, 150), Position(720, 150, 170)).greatest_at_crank_deg.item()
    38.0
    """

    top_hip_flexion_deg: Floats
    greatest_hip_flexion_deg: Floats
    greatest_at_crank_deg: Floats
    least_trunk_thigh_deg: Floats


def pelvic_tilt_deg(front_spine_mm: Numbers, back_spine_mm: Numbers) -> Floats:
    """Tilt of the pelvis from the front and the back upper iliac spine.

    Parameters
    ----------
    front_spine_mm, back_spine_mm : array_like, shape (..., 2)
        Anterior and posterior superior iliac spine, forward and up. [mm]

    Returns
    -------
    numpy.ndarray, shape (...)
        Tilt of the line between them, positive forward (front spine lower). [°]

    Raises
    ------
    OutOfRangeError
        If the points are not pairs or the front spine is not ahead of the back one.

    Notes
    -----
    *Measured quantity.* In pelves put into the same pose the line lay at 13 ± 5°, 0 to 23°, and differed by up to 11°
    between sides: the shape of the bone alone. Compare a rider with himself or herself, not with others.

    References
    ----------
    preece_2008

    Examples
    --------
    >>> round(pelvic_tilt_deg([150.0, 0.0], [0.0, 40.0]).item(), 1)
    14.9
    """
    front, back = checked("front_spine_mm", front_spine_mm), checked("back_spine_mm", back_spine_mm)
    if front.shape[-1:] != (2,) or back.shape[-1:] != (2,):
        raise OutOfRangeError(
            f"front_spine_mm, back_spine_mm: received shapes {front.shape} and {back.shape}; "
            "allowed: (forward, up) on the last axis; give two numbers a point"
        )
    ahead = checked(
        "front spine ahead of back spine", front[..., 0] - back[..., 0], above=0, advice="swap the points; x is forward"
    )
    return np.degrees(np.arctan2(back[..., 1] - front[..., 1], ahead))


def bearing_width_mm(
    sit_bone_width_mm: Numbers,
    pelvic_roll_deg: Numbers,
    *,
    rocker_radius_mm: Numbers = 60.0,
    ramus_angle_deg: Numbers = 75.0,
    least_width_mm: Numbers = 30.0,
) -> Floats:
    """Width between the places where the pelvis bears on the saddle, for a forward roll.

    Parameters
    ----------
    sit_bone_width_mm : array_like
        Distance between the sit bones, measured sitting upright, 50 to 220. [mm]
    pelvic_roll_deg : array_like
        Forward roll from sitting upright, 0 to 60. [°]
    rocker_radius_mm : array_like
        Radius on which the pelvis rocks forward, above 0; an assumption. [mm]
    ramus_angle_deg : array_like
        Angle between the bones that run from the sit bones to the front, 0 to below 180. The default lies
        between the means of women (83°) and men (68°) on scans; radiographs give far more, see
        ``pelvis_reports``. [°]
    least_width_mm : array_like
        Width at which the bones meet in front, above 0; an assumption. [mm]

    Returns
    -------
    numpy.ndarray
        Bearing width, never more than the sit-bone width. [mm]

    Raises
    ------
    OutOfRangeError
        If an input is out of range.

    Notes
    -----
    *Teaching model* (geometry): rolling by φ moves the contact R·φ forward along two bones that meet at the angle α:
    width = W − 2·R·φ·tan(α/2). Direction and order of size only.

    References
    ----------
    gundogdu_kebapci_2019
    potter_2008

    Examples
    --------
    >>> bearing_width_mm(120.0, [0.0, 20.0, 40.0]).round(1).tolist()
    [120.0, 87.9, 55.7]
    """
    width = checked(
        "sit_bone_width_mm", sit_bone_width_mm, at_least=50, at_most=220, advice="measure between the bones, in mm"
    )
    roll = np.radians(checked("pelvic_roll_deg", pelvic_roll_deg, at_least=0, at_most=60))
    radius = checked("rocker_radius_mm", rocker_radius_mm, above=0)
    half_angle = np.radians(checked("ramus_angle_deg", ramus_angle_deg, at_least=0, below=180)) / 2
    least = np.minimum(checked("least_width_mm", least_width_mm, above=0), width)
    return np.asarray(np.maximum(width - 2 * radius * roll * np.tan(half_angle), least))


def bone_margin_mm(saddle_width_mm: Numbers, bearing_width_mm: Numbers) -> Floats:
    """How far the bones lie inside the edges of the saddle.

    Parameters
    ----------
    saddle_width_mm : array_like
        Width of the part of the saddle that can bear load, where the rider sits, above 0. [mm]
    bearing_width_mm : array_like
        Bearing width in the rider's posture, above 0. [mm]

    Returns
    -------
    numpy.ndarray
        Margin on each side, negative if the bones overhang and soft tissue must bear. [mm]

    Raises
    ------
    OutOfRangeError
        If a width is not above 0.

    Notes
    -----
    *Measured law* (geometry). In ten women a saddle 10 mm wider than the bones, 5 mm a side, spread
    the pressure best: one small study. The tread of a saddle is narrower than its greatest width.

    References
    ----------
    lin_2023

    Examples
    --------
    >>> bone_margin_mm(140.0, 130.0).item()
    5.0
    """
    saddle = checked("saddle_width_mm", saddle_width_mm, above=0)
    return np.asarray((saddle - checked("bearing_width_mm", bearing_width_mm, above=0)) / 2)


def rolled_forward(position: Position, pelvic_roll_deg: Numbers) -> Position:
    """Move the hip joint as the pelvis rolls forward about its contact with the saddle.

    Parameters
    ----------
    position : Position
        Contact points, with the hip where it is before the roll. [mm]
    pelvic_roll_deg : array_like
        Forward roll, −60 to 60. [°]

    Returns
    -------
    Position
        The same contact points with the hip moved. [mm]

    Raises
    ------
    OutOfRangeError
        If the roll is out of range.

    Notes
    -----
    *Teaching model* (geometry): a turn about the sitting point; the real contact moves forward too.

    References
    ----------
    sauer_2007

    Examples
    --------
    >>> moved = rolled_forward(Position(720.0, 150.0, 170.0, hip_above_saddle_mm=80.0), 30.0)
    >>> round(float(moved.hip_ahead_of_saddle_mm), 1), round(float(moved.hip_above_saddle_mm), 1)
    (40.0, 69.3)
    """
    roll = np.radians(checked("pelvic_roll_deg", pelvic_roll_deg, at_least=-60, at_most=60))
    above = checked("hip_above_saddle_mm", position.hip_above_saddle_mm)
    ahead = checked("hip_ahead_of_saddle_mm", position.hip_ahead_of_saddle_mm)
    return replace(
        position,
        hip_above_saddle_mm=above * np.cos(roll) - ahead * np.sin(roll),
        hip_ahead_of_saddle_mm=ahead * np.cos(roll) + above * np.sin(roll),
    )


def hip_closure(
    leg: Leg,
    position: Position,
    *,
    pelvis_forward_tilt_deg: Numbers = PELVIS_FORWARD_TILT_DEG.value,
    trunk_angle_deg: Numbers = TRUNK_ANGLE_DEG.value,
    pedal_angle_deg: Numbers | PeriodicCurve = 0.0,
) -> HipClosure:
    """How far the hip closes over the turn in a position and posture.

    Parameters
    ----------
    leg : Leg
        Segment lengths. [mm]
    position : Position
        Contact points. [mm]
    pelvis_forward_tilt_deg : array_like
        Forward tilt of the pelvis from its pose in standing. [°]
    trunk_angle_deg : array_like
        Trunk above the horizontal. [°]
    pedal_angle_deg : array_like or PeriodicCurve
        Pedal angle, positive toe down, as for `stroke.solve_stroke`. [°]

    Returns
    -------
    HipClosure
        Hip flexion at the top, its greatest value and where, and the smallest trunk-thigh angle. [°]

    Raises
    ------
    UnreachablePositionError
        If the leg cannot follow the pedal.

    Notes
    -----
    *Measured law* (closed chain) for a still pelvis; the real one rocks 2 to 3 degrees. A pelvis rolled further
    forward closes the hip degree for degree, besides what the moved hip joint does. The two hip angles
    answer different questions: the trunk can bend without the pelvis.

    References
    ----------
    hull_jorge_1985
    sauer_2007

    Examples
    --------
    >>> result = hip_closure(Leg(430, 430, 150), Position(720, 150, 170))
    >>> result.greatest_hip_flexion_deg > result.top_hip_flexion_deg
    np.True_
    """
    fine = np.arange(0.0, 360.0, 1.0)
    stroke = solve_stroke(
        leg,
        position,
        fine,
        pedal_angle_deg,
        pelvis_forward_tilt_deg=pelvis_forward_tilt_deg,
        trunk_angle_deg=trunk_angle_deg,
    )
    flexion = stroke.hip_flexion_deg
    return HipClosure(
        top_hip_flexion_deg=flexion[..., 0],
        greatest_hip_flexion_deg=flexion.max(axis=-1),
        greatest_at_crank_deg=fine[np.argmax(flexion, axis=-1)],
        least_trunk_thigh_deg=stroke.trunk_thigh_angle_deg.min(axis=-1),
    )
