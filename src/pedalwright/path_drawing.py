"""A leg and a muscle's line as points to draw: where the line runs, and where its moment arms end."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pedalwright._leg_geometry import JOINTS, norm
from pedalwright._typing import Floats, Numbers
from pedalwright.attachments import MusclePath, _trace
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.posture import LegAngles

_ARC_POINTS = 13


@dataclass(frozen=True)
class DrawnPath:
    """A muscle's line in one posture.

    Parameters
    ----------
    line_mm : numpy.ndarray, shape (points, 2)
        The line from origin to insertion. [mm]
    arm_feet_mm : mapping of numpy.ndarray, shape (2,)
        For each joint that the line crosses, where the perpendicular from the joint centre meets the line of pull; the
        moment arm is the way from the centre to this point. [mm]

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> DrawnPath(np.zeros((2, 2)), {}).line_mm.shape
    (2, 2)
    """

    line_mm: Floats
    arm_feet_mm: Mapping[str, Floats]


def drawn_path(
    path: MusclePath,
    posture: LegAngles,
    *,
    thigh_length_mm: Numbers = 425.0,
    shank_length_mm: Numbers = 425.0,
    hip_mm: Numbers = (0.0, 0.0),
    pelvis_forward_tilt_deg: Numbers = 0.0,
) -> DrawnPath:
    """Points of a muscle's line in one posture, in the frame of the bicycle.

    Parameters
    ----------
    path : MusclePath
        The line.
    posture : Posture
        Joint angles; single numbers. [°]
    thigh_length_mm, shank_length_mm : array_like
        Lengths between joint centres, above 0; single numbers. [mm]
    hip_mm : array_like, shape (2,)
        Place of the hip joint centre. [mm]
    pelvis_forward_tilt_deg : array_like
        Roll of the pelvis forward from upright standing, −60 to 120; a single number. [°]

    Returns
    -------
    DrawnPath
        The line and the feet of its moment arms. [mm]

    Raises
    ------
    OutOfRangeError
        If a value is out of range, an attachment lies inside the circle, or there is more than one posture.

    Notes
    -----
    *Measured law* (geometry) on a *teaching model*: what ``path_length_mm`` and ``path_moment_arms_mm`` measure, as
    points.

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> from pedalwright.attachments import Attachment
    >>> from pedalwright.posture import Posture
    >>> hamstring = MusclePath(Attachment("pelvis", -48, -41), Attachment("shank", -34, -35))
    >>> drawn_path(hamstring, Posture()).line_mm.tolist()
    [[-48.0, -41.0], [-34.0, -460.0]]
    """
    frames, _, spans = _trace(path, posture, np.asarray(thigh_length_mm), np.asarray(shank_length_mm))
    if frames.turned[0].ndim:
        raise OutOfRangeError(
            f"posture: received {frames.turned[0].size} postures; allowed: one; draw them one after the other"
        )
    tilt = float(checked("pelvis_forward_tilt_deg", pelvis_forward_tilt_deg, at_least=-60, at_most=120))
    hip = checked("hip_mm", hip_mm)
    points, feet, before = [spans[0].start], {}, None
    for span in spans:
        if before is None or not np.allclose([span.start, span.end], [before.start, before.end]):
            if path.wrap is not None and norm(span.start - points[-1]) > 1e-6:
                points += _arc(points[-1], span.start, frames.centres[path.wrap.joint], path.wrap.side == "front")
            points.append(span.end)
        for joint in JOINTS[span.above : span.below]:
            pull = (span.end - span.start) / norm(span.end - span.start)
            feet[joint] = span.start + pull * ((frames.centres[joint] - span.start) @ pull)
        before = span
    return DrawnPath(_placed(np.stack(points), tilt, hip), {j: _placed(foot, tilt, hip) for j, foot in feet.items()})


def _arc(leave: Floats, meet: Floats, centre: Floats, in_front: bool) -> list[Floats]:
    side = 1.0 if in_front else -1.0
    start, end = leave - centre, meet - centre
    begin = np.arctan2(start[1], start[0])
    swept = np.mod(side * (begin - np.arctan2(end[1], end[0])), 2 * np.pi)
    angles = begin - side * swept * np.linspace(0, 1, _ARC_POINTS)[1:]
    return [np.asarray(centre + norm(start) * np.array([np.cos(angle), np.sin(angle)])) for angle in angles]


def _placed(points: Floats, tilt_deg: float, hip: Floats) -> Floats:
    cosine, sine = np.cos(np.radians(tilt_deg)), np.sin(np.radians(tilt_deg))
    x, y = points[..., 0], points[..., 1]
    return np.asarray(hip + np.stack([cosine * x + sine * y, cosine * y - sine * x], axis=-1))
