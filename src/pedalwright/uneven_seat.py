"""The pelvis seen from behind: a seat that is higher on one side, and what both knees make of it.

Positions across the bicycle grow to the rider's right. A positive obliquity means the right side is
higher; the pelvis then shifts to the left.
"""

from dataclasses import dataclass, replace

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.constants import HIP_JOINT_WIDTH_MM
from pedalwright.errors import UnreachablePositionError, checked
from pedalwright.frontal import SIDES
from pedalwright.pedal_angle import PeriodicCurve
from pedalwright.position import Leg, Position
from pedalwright.stroke import Stroke, solve_stroke


@dataclass(frozen=True)
class UnevenSeat:
    """What an uneven seat does to both legs, each over the turn of its own crank.

    Parameters
    ----------
    pelvis_shift_mm : numpy.ndarray
        Shift of the middle between the hips, positive to the rider's right. [mm]
    crank_angle_deg : numpy.ndarray
        Angle of the side's own crank. [°]
    right_knee_inward_mm, left_knee_inward_mm : numpy.ndarray
        How much further in each knee runs than on an even seat, positive towards the frame. [mm]
    right_knee_flexion_deg, left_knee_flexion_deg : numpy.ndarray
        Knee flexion of each leg. [°]

    Examples
    --------
    >>> uneven_seat(Leg(430, 430, 150), Position(720, 150, 170), 0.0).pelvis_shift_mm.item()
    0.0
    """

    pelvis_shift_mm: Floats
    crank_angle_deg: Floats
    right_knee_inward_mm: Floats
    left_knee_inward_mm: Floats
    right_knee_flexion_deg: Floats
    left_knee_flexion_deg: Floats


def pelvic_obliquity_deg(right_height_mm: Numbers, left_height_mm: Numbers, width_mm: Numbers) -> Floats:
    """Slope of the pelvis seen from behind.

    Parameters
    ----------
    right_height_mm, left_height_mm : array_like
        Height of the same landmark on both sides above a level. [mm]
    width_mm : array_like
        Level distance between the two landmarks, above 0. [mm]

    Returns
    -------
    numpy.ndarray
        Slope, positive if the right side is higher. [°]

    Raises
    ------
    OutOfRangeError
        If the width is not above 0.

    Notes
    -----
    *Measured quantity.* Side-to-side differences of up to 16 mm in height were found in pelves held level: the shape
    of the bone alone. Repeat it on another day before calling a seat uneven.

    References
    ----------
    preece_2008

    Examples
    --------
    >>> round(pelvic_obliquity_deg(6.0, 0.0, 120.0).item(), 2)
    2.86
    """
    rise = checked("right_height_mm", right_height_mm) - checked("left_height_mm", left_height_mm)
    return np.degrees(np.arctan(rise / checked("width_mm", width_mm, above=0)))


def pelvis_shift_mm(
    pelvic_obliquity_deg: Numbers, hip_above_seat_mm: Numbers = 80.0, slide_mm: Numbers = 0.0
) -> Floats:
    """Sideways shift of the hips on a seat that slopes.

    Parameters
    ----------
    pelvic_obliquity_deg : array_like
        Slope, positive right side higher, −20 to 20. [°]
    hip_above_seat_mm : array_like
        Height of the hip joints above the ends of the sit bones, above 0; the default is an assumption, larger
        than the height above the saddle top because the bones sink in. [mm]
    slide_mm : array_like
        How far the sit bones slid on the saddle, positive to the right. [mm]

    Returns
    -------
    numpy.ndarray
        Shift of the middle between the hips, positive to the rider's right: towards the lower side. [mm]

    Raises
    ------
    OutOfRangeError
        If an input is out of range.

    Notes
    -----
    *Teaching model* (geometry): the pelvis leans as one piece with the seat. Riders lean against it, slide, or turn;
    enter what was seen as the slide.

    References
    ----------
    sauer_2007

    Examples
    --------
    >>> round(pelvis_shift_mm(3.0).item(), 2)
    -4.19
    """
    slope = np.radians(checked("pelvic_obliquity_deg", pelvic_obliquity_deg, at_least=-20, at_most=20))
    height = checked("hip_above_seat_mm", hip_above_seat_mm, above=0)
    return np.asarray(checked("slide_mm", slide_mm) - height * np.sin(slope))


def knee_lateral_mm(stroke: Stroke, leg: Leg, hip_lateral_mm: Numbers, pedal_lateral_mm: Numbers) -> Floats:
    """Place of the knee across the bicycle, for a leg that runs straight from hip to pedal.

    Parameters
    ----------
    stroke : Stroke
        The leg around the crank circle, seen from the side. [mm]
    leg : Leg
        Its segment lengths. [mm]
    hip_lateral_mm, pedal_lateral_mm : array_like, shape (riders)
        Hip joint and middle of the foot across the bicycle, positive to the rider's right. [mm]

    Returns
    -------
    numpy.ndarray, shape (..., crank angles)
        Place of the knee. [mm]

    Raises
    ------
    UnreachablePositionError
        If the leg is too short for the distance once the sideways part is counted.

    Notes
    -----
    *Measured law* (geometry) for a leg whose plane holds the line hip-ankle and the direction square to
    it in the side view; turning of the thigh, as in `foot_collapse`, comes on top. The side view is taken as solved
    without the sideways part, which changes the knee flexion by a degree at most.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> leg = Leg(430, 430, 150)
    >>> knee_lateral_mm(solve_stroke(leg, Position(720, 150, 170), 90.0), leg, 85.0, 125.0).round(1).tolist()
    [105.0]
    """
    hip = checked("hip_lateral_mm", hip_lateral_mm)[..., None]
    foot = checked("pedal_lateral_mm", pedal_lateral_mm)[..., None]
    thigh = checked("thigh_length_mm", leg.thigh_length_mm, above=0)[..., None]
    shank = checked("shank_length_mm", leg.shank_length_mm, above=0)[..., None]
    span = stroke.hip_mm - stroke.ankle_mm
    distance_squared = span[..., 0] ** 2 + span[..., 1] ** 2 + (hip - foot) ** 2
    if np.any(distance_squared > (thigh + shank) ** 2):
        raise UnreachablePositionError(
            f"the leg cannot reach sideways: received hip {float(hip.max()):g} and pedal {float(foot.max()):g} mm "
            "from the midline; allowed: a distance thigh and shank can span; lower the saddle or bring them together"
        )
    from_ankle = (shank**2 + distance_squared - thigh**2) / (2 * distance_squared)
    return np.asarray(foot + from_ankle * (hip - foot))


def uneven_seat(
    leg: Leg,
    position: Position,
    pelvic_obliquity_deg: Numbers,
    *,
    slide_mm: Numbers = 0.0,
    hip_joint_width_mm: Numbers = HIP_JOINT_WIDTH_MM.value,
    hip_above_seat_mm: Numbers = 80.0,
    pedal_angle_deg: Numbers | PeriodicCurve = 0.0,
) -> UnevenSeat:
    """Follow an uneven seat down to both knees.

    Parameters
    ----------
    leg : Leg
        Segment lengths, the same for both legs. [mm]
    position : Position
        Contact points, stance width included. [mm]
    pelvic_obliquity_deg, slide_mm : array_like
        As for `pelvis_shift_mm`. [°, mm]
    hip_joint_width_mm : array_like
        Distance between the hip joints, above 0; the default is an assumption. [mm]
    hip_above_seat_mm : array_like
        As for `pelvis_shift_mm`. [mm]
    pedal_angle_deg : array_like or PeriodicCurve
        As for `stroke.solve_stroke`. [°]

    Returns
    -------
    UnevenSeat
        Shift, knees against those of an even seat, knee flexion of both legs. [mm, °]

    Raises
    ------
    UnreachablePositionError
        If a leg cannot follow its pedal.

    Notes
    -----
    *Teaching model* (geometry): the pelvis leans towards the lower side; there the knee runs further
    out, on the higher side it is drawn to the frame, and the higher hip reaches further down.
    Whether that hurts anybody is not shown.

    References
    ----------
    hull_jorge_1985
    branco_2023

    Examples
    --------
    >>> seat = uneven_seat(Leg(430, 430, 150), Position(720, 150, 170), 3.0)
    >>> bool(seat.right_knee_inward_mm.min() > 0), bool(seat.left_knee_inward_mm.max() < 0)
    (True, True)
    """
    shift = pelvis_shift_mm(pelvic_obliquity_deg, hip_above_seat_mm, slide_mm)
    slope = np.radians(np.asarray(pelvic_obliquity_deg, dtype=np.float64))
    half_hips = checked("hip_joint_width_mm", hip_joint_width_mm, above=0) / 2
    half_stance = checked("stance_width_mm", position.stance_width_mm, above=0) / 2
    level = solve_stroke(leg, position, None, pedal_angle_deg)
    inward, flexion = {}, {}
    for side, toward in SIDES.items():
        outward = -toward
        raised = checked("hip_above_saddle_mm", position.hip_above_saddle_mm) + outward * half_hips * np.sin(slope)
        stroke = solve_stroke(leg, replace(position, hip_above_saddle_mm=raised), None, pedal_angle_deg)
        even = knee_lateral_mm(level, leg, outward * half_hips, outward * half_stance)
        shifted = knee_lateral_mm(stroke, leg, shift + outward * half_hips * np.cos(slope), outward * half_stance)
        inward[side], flexion[side] = outward * (even - shifted), stroke.knee_flexion_deg
    return UnevenSeat(
        pelvis_shift_mm=shift,
        crank_angle_deg=level.crank_angle_deg,
        right_knee_inward_mm=inward["right"],
        left_knee_inward_mm=inward["left"],
        right_knee_flexion_deg=flexion["right"],
        left_knee_flexion_deg=flexion["left"],
    )
