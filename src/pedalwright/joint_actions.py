"""What a contraction between two attachments does at each joint it crosses, over the whole range."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.attachments import Attachment, MusclePath, Wrap, path_length_mm, path_moment_arms_mm
from pedalwright.errors import OutOfRangeError
from pedalwright.posture import LegAngles, Posture

PEDALLING_RANGES: Mapping[str, tuple[float, float]] = {
    "hip": (20.0, 110.0),
    "knee": (20.0, 125.0),
    "ankle": (-25.0, 35.0),
}
"""Joint angles in degrees that pedalling legs pass through, with a margin; common practice, no source."""

_WORDS = {"hip": ("flexes", "extends"), "knee": ("flexes", "extends"), "ankle": ("plantar-flexes", "dorsiflexes")}
_NEGLIGIBLE_MM = 0.5


@dataclass(frozen=True)
class JointAction:
    """What pulling on a line does at one joint, over the whole range of all joints it crosses.

    Parameters
    ----------
    joint : str
        The joint.
    action : str
        ``flexes``, ``extends``, ``plantar-flexes``, ``dorsiflexes``, ``hardly acts``, or both where the sign turns.
    least_arm_mm, greatest_arm_mm : float
        Range of the moment arm, flexion and plantar flexion positive. [mm]
    turns_at_deg : tuple of float
        Angles of this joint at which the sign turns, the other joints in mid-range. [°]

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> joint_actions(sketch_of("soleus"))[0].action
    'plantar-flexes'
    """

    joint: str
    action: str
    least_arm_mm: float
    greatest_arm_mm: float
    turns_at_deg: tuple[float, ...]


@dataclass(frozen=True)
class LengthChange:
    """How a line's length goes from one posture to another, and which joint gave how much of it.

    Parameters
    ----------
    total_mm : float
        Change of length, longer positive. [mm]
    hip_mm, knee_mm, ankle_mm : float
        Part of each joint; they add up to the total. [mm]

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> LengthChange(-1.0, 9.0, -10.0, 0.0).in_words()
    'about as long as before: the hip 9 mm longer, the knee 10 mm shorter'
    """

    total_mm: float
    hip_mm: float
    knee_mm: float
    ankle_mm: float

    def in_words(self) -> str:
        """Say the change in one line; changes below 2 mm count as none."""
        whole = "about as long as before" if abs(self.total_mm) < 2 else _longer(self.total_mm)
        parts = [
            f"the {joint} {_longer(part)}"
            for joint, part in (("hip", self.hip_mm), ("knee", self.knee_mm), ("ankle", self.ankle_mm))
            if abs(part) >= 0.5
        ]
        return f"{whole}: {', '.join(parts)}" if len(parts) > 1 else whole


def joint_actions(
    path: MusclePath,
    ranges: Mapping[str, tuple[float, float]] = PEDALLING_RANGES,
    *,
    thigh_length_mm: float = 425.0,
    shank_length_mm: float = 425.0,
) -> tuple[JointAction, ...]:
    """Tell what shortening between two attachments does at each joint crossed, by the sign of the moment arm.

    Parameters
    ----------
    path : MusclePath
        The line.
    ranges : mapping
        Least and greatest angle of hip, knee and ankle. [°]
    thigh_length_mm, shank_length_mm : float
        Lengths between joint centres, above 0. [mm]

    Returns
    -------
    tuple of JointAction
        One entry for each joint that the line crosses, from above; a two-joint muscle has two.

    Raises
    ------
    OutOfRangeError
        If a range is missing or turned round, or an attachment lies inside the circle.

    Notes
    -----
    *Measured law* (geometry) on a *teaching model*. Judged on a grid of every 5° or less of all joints crossed: a line
    whose pull changes sign anywhere on it says so. An arm below half a millimetre counts as none.

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> for one in joint_actions(sketch_of("biceps femoris, long head")):
    ...     print(one.joint, one.action)
    hip extends
    knee flexes
    """
    axes = {joint: _axis(joint, ranges) for joint in path.joints}
    grid = dict(zip(axes, np.meshgrid(*axes.values(), indexing="ij"), strict=True))
    arms = path_moment_arms_mm(path, _posture(grid), thigh_length_mm=thigh_length_mm, shank_length_mm=shank_length_mm)
    found = []
    for joint, axis in axes.items():
        values = getattr(arms, f"{joint}_mm")
        middle: dict[str, Floats] = {other: np.full_like(axis, values_.mean()) for other, values_ in axes.items()}
        line = path_moment_arms_mm(
            path, _posture({**middle, joint: axis}), thigh_length_mm=thigh_length_mm, shank_length_mm=shank_length_mm
        )
        turns = _turns(axis, getattr(line, f"{joint}_mm"))
        found.append(JointAction(joint, _word(joint, values), float(values.min()), float(values.max()), turns))
    return tuple(found)


def length_change_by_joint_mm(
    path: MusclePath,
    from_posture: Posture,
    to_posture: Posture,
    *,
    thigh_length_mm: float = 425.0,
    shank_length_mm: float = 425.0,
) -> LengthChange:
    """How much longer or shorter a line becomes, and which joint gave how much.

    Parameters
    ----------
    path : MusclePath
        The line.
    from_posture, to_posture : Posture
        Joint angles before and after; single numbers. [°]
    thigh_length_mm, shank_length_mm : float
        Lengths between joint centres, above 0. [mm]

    Returns
    -------
    LengthChange
        Change in all and by joint, the joints moving together and evenly. [mm]

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Notes
    -----
    *Measured law* (geometry) on a *teaching model*: a two-joint muscle can keep its length while both joints move, and
    so carry work from one to the other.

    References
    ----------
    zajac_1989

    Examples
    --------
    >>> rising = length_change_by_joint_mm(sketch_of("rectus femoris"), Posture(50, 40), Posture(90, 110))
    >>> bool(rising.hip_mm < 0 < rising.knee_mm)
    True
    """
    sizes = {"thigh_length_mm": thigh_length_mm, "shank_length_mm": shank_length_mm}
    names = {"hip": "hip_flexion_deg", "knee": "knee_flexion_deg", "ankle": "ankle_plantar_flexion_deg"}
    start = {joint: float(np.asarray(getattr(from_posture, name))) for joint, name in names.items()}
    end = {joint: float(np.asarray(getattr(to_posture, name))) for joint, name in names.items()}
    count = 400
    share = (np.arange(count) + 0.5) / count
    arms = path_moment_arms_mm(
        path, _posture({joint: start[joint] + share * (end[joint] - start[joint]) for joint in names}), **sizes
    )
    parts = {
        joint: -float(np.mean(getattr(arms, f"{joint}_mm"))) * np.radians(end[joint] - start[joint]) for joint in names
    }
    lengths = [path_length_mm(path, posture, **sizes) for posture in (from_posture, to_posture)]
    return LengthChange(float(lengths[1] - lengths[0]), parts["hip"], parts["knee"], parts["ankle"])


def sketch_of(muscle: str, *, thigh_length_mm: float = 425.0, shank_length_mm: float = 425.0) -> MusclePath:
    """Line drawing of a pedalling muscle: attachments about where they are in an adult.

    Parameters
    ----------
    muscle : str
        A key of ``pedalwright.muscles.MUSCLES``.
    thigh_length_mm, shank_length_mm : float
        Lengths between joint centres; attachments near the lower end of a segment go with it. [mm]

    Returns
    -------
    MusclePath
        The line.

    Raises
    ------
    OutOfRangeError
        If there is no such muscle.

    Notes
    -----
    *Teaching model* for drawings and for the sign of the action: places rounded by hand from anatomy, no source. For
    numbers use ``pedalwright.muscles``.

    References
    ----------
    rajagopal_2016

    Examples
    --------
    >>> sketch_of("rectus femoris").joints
    ('hip', 'knee')
    """
    knee, ankle = -thigh_length_mm, -shank_length_mm
    kneecap = Wrap("knee", 38, "front")
    shin, heel = Attachment("shank", 35, -60), Attachment("foot", -45, -15)
    sketches = {
        "gluteus maximus": MusclePath(
            Attachment("pelvis", -95, 40), Attachment("thigh", -15, -140), wrap=Wrap("hip", 45, "back")
        ),
        "vasti": MusclePath(Attachment("thigh", 25, -160), shin, wrap=kneecap),
        "rectus femoris": MusclePath(Attachment("pelvis", 35, 25), shin, wrap=kneecap),
        "biceps femoris, long head": MusclePath(Attachment("pelvis", -48, -41), Attachment("shank", -34, -35)),
        "semimembranosus": MusclePath(Attachment("pelvis", -43, -38), Attachment("shank", -30, -42)),
        "biceps femoris, short head": MusclePath(Attachment("thigh", -5, knee / 2), Attachment("shank", -34, -35)),
        "gastrocnemius": MusclePath(Attachment("thigh", -22, knee + 15), heel, wrap=Wrap("knee", 20, "back")),
        "soleus": MusclePath(Attachment("shank", -8, -90), heel),
        "tibialis anterior": MusclePath(
            Attachment("shank", 15, -130), Attachment("foot", 65, -25), via=Attachment("shank", 28, ankle + 35)
        ),
        "iliopsoas": MusclePath(
            Attachment("pelvis", 5, 130), Attachment("thigh", -5, -60), via=Attachment("pelvis", 38, 25)
        ),
    }
    return chosen("muscle", muscle, sketches)


def _axis(joint: str, ranges: Mapping[str, tuple[float, float]]) -> Floats:
    if joint not in ranges or not ranges[joint][0] < ranges[joint][1]:
        received = ranges.get(joint, "nothing")
        raise OutOfRangeError(
            f"ranges: received {received} for the {joint}; allowed: least and greatest angle, the least first; "
            "give both"
        )
    low, high = ranges[joint]
    return np.linspace(low, high, max(2, int(np.ceil((high - low) / 5)) + 1))


def _posture(angles: Mapping[str, Numbers]) -> LegAngles:
    return Posture(angles.get("hip", 0.0), angles.get("knee", 0.0), angles.get("ankle", 0.0))


def _word(joint: str, arms: Floats) -> str:
    positive, negative = _WORDS[joint]
    flexes, extends = bool(np.any(arms > _NEGLIGIBLE_MM)), bool(np.any(arms < -_NEGLIGIBLE_MM))
    if flexes and extends:
        return f"{positive} or {negative}"
    return positive if flexes else negative if extends else "hardly acts"


def _turns(axis: Floats, arms: Floats) -> tuple[float, ...]:
    change = np.flatnonzero(arms[:-1] * arms[1:] < 0)
    share = arms[change] / (arms[change] - arms[change + 1])
    return tuple(float(angle) for angle in axis[change] + share * (axis[change + 1] - axis[change]))


def _longer(change_mm: float) -> str:
    return f"{abs(change_mm):.0f} mm {'longer' if change_mm > 0 else 'shorter'}"
