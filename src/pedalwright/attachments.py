"""A muscle as a line from origin to insertion: which joints it closes or opens, and how its length goes with them.

Each segment has its own frame: forward and up as in upright standing, the origin at the hip for pelvis and thigh, at
the knee for the shank, at the ankle for the foot. The line may pass one more point fixed to a segment, or bend round
one joint on a circle, in front or behind.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from pedalwright._leg_geometry import JOINTS, SEGMENTS, TURN, Frames, around, cross, norm
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.muscle_arms import MomentArms
from pedalwright.posture import LegAngles

SegmentName = Literal["pelvis", "thigh", "shank", "foot"]
JointName = Literal["hip", "knee", "ankle"]


@dataclass(frozen=True)
class Attachment:
    """A point fixed to a segment.

    Parameters
    ----------
    segment : {"pelvis", "thigh", "shank", "foot"}
        The segment.
    forward_mm, up_mm : float
        Place in the segment's frame, as in upright standing. [mm]

    Examples
    --------
    >>> Attachment("pelvis", -48, -41).segment
    'pelvis'
    """

    segment: SegmentName
    forward_mm: float
    up_mm: float


@dataclass(frozen=True)
class Wrap:
    """A circle about a joint centre that the line may not cut, such as the kneecap in its groove.

    Parameters
    ----------
    joint : {"hip", "knee", "ankle"}
        The joint.
    radius_mm : float
        Radius, above 0. [mm]
    side : {"front", "back"}
        On which side the muscle passes.

    Examples
    --------
    >>> Wrap("knee", 40, "front").side
    'front'
    """

    joint: JointName
    radius_mm: float
    side: Literal["front", "back"]


@dataclass(frozen=True)
class MusclePath:
    """A line from origin to insertion, from the upper segment to the lower one.

    Parameters
    ----------
    origin, insertion : Attachment
        The ends; the origin on a segment above that of the insertion.
    via : Attachment, optional
        A point the line is led through.
    wrap : Wrap, optional
        A joint it bends round.

    Raises
    ------
    OutOfRangeError
        If the line crosses no joint, runs upward, or is to bend round a joint it does not cross.

    Examples
    --------
    >>> MusclePath(Attachment("thigh", 20, -150), Attachment("shank", 35, -60)).joints
    ('knee',)
    """

    origin: Attachment
    insertion: Attachment
    via: Attachment | None = None
    wrap: Wrap | None = None

    def __post_init__(self) -> None:
        order = [_index(point.segment) for point in self._points()]
        if order != sorted(order) or order[0] == order[-1]:
            raise OutOfRangeError(
                f"origin, via and insertion: received {', '.join(point.segment for point in self._points())}; allowed: "
                f"from a segment to one below it, in the order {', '.join(SEGMENTS)}; swap or correct the attachments"
            )
        if self.wrap is not None:
            checked("radius_mm", self.wrap.radius_mm, above=0)
            if self.wrap.joint not in self.joints or self.wrap.side not in ("front", "back"):
                raise OutOfRangeError(
                    f"wrap: received {self.wrap.joint}, {self.wrap.side}; allowed: {', '.join(self.joints)}, front or "
                    "back; choose a joint that the line crosses"
                )

    @property
    def joints(self) -> tuple[str, ...]:
        """Joints that the line crosses."""
        return JOINTS[_index(self.origin.segment) : _index(self.insertion.segment)]

    def _points(self) -> list[Attachment]:
        return [self.origin, *([self.via] if self.via else []), self.insertion]


@dataclass(frozen=True)
class _Span:
    """One straight piece: from a point of an upper segment to a point of a lower one."""

    above: int
    below: int
    start: Floats
    end: Floats


def path_length_mm(
    path: MusclePath, posture: LegAngles, *, thigh_length_mm: Numbers = 425.0, shank_length_mm: Numbers = 425.0
) -> Floats:
    """Length of the line from origin to insertion.

    Parameters
    ----------
    path : MusclePath
        The line.
    posture : Posture or Stroke
        Joint angles. [°]
    thigh_length_mm, shank_length_mm : array_like
        Lengths between joint centres, above 0. [mm]

    Returns
    -------
    numpy.ndarray
        Length with the shape of the posture. [mm]

    Raises
    ------
    OutOfRangeError
        If a value is out of range or an attachment lies inside the circle.

    Notes
    -----
    *Measured law* (geometry) on a *teaching model*: a muscle is no line, and a joint no hinge.

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> hamstring = MusclePath(Attachment("pelvis", -48, -41), Attachment("shank", -34, -35))
    >>> path_length_mm(hamstring, Posture()).round(1).item()
    419.2
    """
    return _trace(path, posture, thigh_length_mm, shank_length_mm)[1]


def path_moment_arms_mm(
    path: MusclePath, posture: LegAngles, *, thigh_length_mm: Numbers = 425.0, shank_length_mm: Numbers = 425.0
) -> MomentArms:
    """Moment arms of the line, as distances from the joint centres.

    Parameters
    ----------
    path : MusclePath
        The line.
    posture : Posture or Stroke
        Joint angles. [°]
    thigh_length_mm, shank_length_mm : array_like
        Lengths between joint centres, above 0. [mm]

    Returns
    -------
    MomentArms
        Arms; above 0 the pull flexes hip or knee or plantar-flexes the ankle, below 0 it does the opposite. [mm]

    Raises
    ------
    OutOfRangeError
        If a value is out of range or an attachment lies inside the circle.

    Notes
    -----
    *Measured law* (geometry) on a *teaching model*. Computed from the line's distance to the joint, not from its
    length; that both agree (arm = −dL/dq) is virtual work.

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> hamstring = MusclePath(Attachment("pelvis", -48, -41), Attachment("shank", -34, -35))
    >>> arms = path_moment_arms_mm(hamstring, Posture(60, 60))
    >>> bool(arms.hip_mm < 0), bool(arms.knee_mm > 0)
    (True, True)
    """
    frames, _, spans = _trace(path, posture, thigh_length_mm, shank_length_mm)
    arms = {joint: np.zeros(frames.turned[0].shape) for joint in JOINTS}
    for span in spans:
        for joint in JOINTS[span.above : span.below]:
            pull = span.start - span.end
            lever = cross(span.end - frames.centres[joint], pull) / norm(pull)
            arms[joint] = TURN[joint] * lever
    return MomentArms(arms["hip"], arms["knee"], arms["ankle"])


def _trace(path: MusclePath, posture: LegAngles, thigh: Numbers, shank: Numbers) -> tuple[Frames, Floats, list[_Span]]:
    angles = {
        "hip": checked("hip_flexion_deg", posture.hip_flexion_deg, at_least=-180, at_most=180),
        "knee": checked("knee_flexion_deg", posture.knee_flexion_deg, at_least=-180, at_most=180),
        "ankle": checked("ankle_plantar_flexion_deg", posture.ankle_plantar_flexion_deg, at_least=-180, at_most=180),
    }
    frames = Frames(angles, checked("thigh_length_mm", thigh, above=0), checked("shank_length_mm", shank, above=0))
    points = path._points()
    places = [frames.place(_index(point.segment), point.forward_mm, point.up_mm) for point in points]
    length = np.zeros(frames.turned[0].shape)
    spans: list[_Span] = []
    for i in range(len(points) - 1):
        above, below = _index(points[i].segment), _index(points[i + 1].segment)
        upper, lower = places[i], places[i + 1]
        wrap = path.wrap
        if wrap is None or wrap.joint not in JOINTS[above:below]:
            length = length + norm(lower - upper)
            spans.append(_Span(above, below, upper, lower))
            continue
        middle = JOINTS.index(wrap.joint)
        piece, leave, meet = around(
            upper, lower, frames.centres[wrap.joint], wrap.radius_mm, 1.0 if wrap.side == "front" else -1.0
        )
        length = length + piece
        spans += [_Span(above, middle + 1, upper, leave), _Span(middle + 1, below, meet, lower)]
    return frames, length, spans


def _index(segment: str) -> int:
    if segment not in SEGMENTS:
        raise OutOfRangeError(
            f"segment: received {segment!r}; allowed: {', '.join(SEGMENTS)}; choose one of these segments"
        )
    return SEGMENTS.index(segment)
