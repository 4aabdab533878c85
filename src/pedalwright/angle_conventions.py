"""The same joint position under the names and zeros in use: conversions, none of them silent.

Each joint has one angle that the package computes with (knee flexion, hip flexion, plantar flexion of the sole); the
others are reached through it. What a conversion needs to know besides the angle must be given.
"""

from collections.abc import Callable

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

KNEE_CONVENTIONS = ("flexion", "included angle", "extension positive")
HIP_CONVENTIONS = ("thigh to pelvis", "trunk to thigh", "thigh below horizontal")
ANKLE_CONVENTIONS = (
    "plantar flexion",
    "dorsiflexion",
    "dorsiflexion from standing",
    "included angle to the sole",
    "included angle to the toe",
)

_Both = tuple[Callable[[Floats], Floats], Callable[[Floats], Floats]]


def convert_knee_angle_deg(angle_deg: Numbers, given_as: str, wanted_as: str) -> Floats:
    """Knee angle under another convention.

    Parameters
    ----------
    angle_deg : array_like
        Knee angle as ``given_as`` counts it, −360 to 360; above 180 an included angle is overextended. [°]
    given_as, wanted_as : {"flexion", "included angle", "extension positive"}
        Flexion from the straight leg; angle included between thigh and shank; or flexion counted negative, as in the
        frame of the biomechanics society and some models.

    Returns
    -------
    numpy.ndarray
        The same knee as ``wanted_as`` counts it. [°]

    Raises
    ------
    OutOfRangeError
        If the angle is out of range or a name unknown.

    Notes
    -----
    *Convention.* A target called "155° of knee flexion" in a paper was the included angle, 25° of flexion.

    References
    ----------
    grood_suntay_1983
    wu_2002

    Examples
    --------
    >>> convert_knee_angle_deg(145, "included angle", "flexion").item()
    35.0
    """
    angle = checked("angle_deg", angle_deg, at_least=-360, at_most=360)
    ways: dict[str, _Both] = {
        "flexion": (lambda value: value, lambda flexion: flexion),
        "included angle": (lambda value: 180 - value, lambda flexion: 180 - flexion),
        "extension positive": (lambda value: -value, lambda flexion: -flexion),
    }
    return _converted(angle, given_as, wanted_as, ways)


def convert_hip_angle_deg(
    angle_deg: Numbers,
    given_as: str,
    wanted_as: str,
    *,
    pelvis_forward_tilt_deg: Numbers | None = None,
    trunk_angle_deg: Numbers | None = None,
) -> Floats:
    """Hip angle under another convention; they differ in what the thigh is compared with.

    Parameters
    ----------
    angle_deg : array_like
        Hip angle as ``given_as`` counts it, −360 to 360. [°]
    given_as, wanted_as : {"thigh to pelvis", "trunk to thigh", "thigh below horizontal"}
        Flexion of the hip joint from standing; angle included between trunk and thigh; thigh below the horizontal.
    pelvis_forward_tilt_deg : array_like, optional
        Needed for "thigh to pelvis": pelvis compared with standing, forward positive, −90 to 90. [°]
    trunk_angle_deg : array_like, optional
        Needed for "trunk to thigh": line from hip to shoulder above the horizontal, −90 to 180. [°]

    Returns
    -------
    numpy.ndarray
        The same hip as ``wanted_as`` counts it. [°]

    Raises
    ------
    OutOfRangeError
        If a value is out of range, a name unknown, or tilt or trunk angle missing.

    Notes
    -----
    *Convention.* Not interchangeable: a rounded back changes the second and not the first.

    References
    ----------
    wu_2002

    Examples
    --------
    >>> convert_hip_angle_deg(110, "thigh to pelvis", "thigh below horizontal", pelvis_forward_tilt_deg=40).item()
    20.0
    """
    angle = checked("angle_deg", angle_deg, at_least=-360, at_most=360)
    ways: dict[str, _Both] = {"thigh below horizontal": (lambda value: -value, lambda thigh: -thigh)}
    if pelvis_forward_tilt_deg is not None:
        tilt = checked("pelvis_forward_tilt_deg", pelvis_forward_tilt_deg, at_least=-90, at_most=90)
        ways["thigh to pelvis"] = (lambda value: value - 90 - tilt, lambda thigh: thigh + 90 + tilt)
    if trunk_angle_deg is not None:
        trunk = checked("trunk_angle_deg", trunk_angle_deg, at_least=-90, at_most=180)
        ways["trunk to thigh"] = (lambda value: trunk - value, lambda thigh: trunk - thigh)
    for name, needed in (("thigh to pelvis", "pelvis_forward_tilt_deg"), ("trunk to thigh", "trunk_angle_deg")):
        if name in (given_as, wanted_as) and name not in ways:
            raise OutOfRangeError(f"{needed}: received nothing; allowed: a value, for {name!r}; give {needed}")
    return _converted(angle, given_as, wanted_as, ways, HIP_CONVENTIONS)


def convert_ankle_angle_deg(
    angle_deg: Numbers,
    given_as: str,
    wanted_as: str,
    *,
    toe_line_below_sole_deg: Numbers | None = None,
    standing_plantar_flexion_deg: Numbers | None = None,
) -> Floats:
    """Ankle angle under another convention.

    Parameters
    ----------
    angle_deg : array_like
        Ankle angle as ``given_as`` counts it, −360 to 360. [°]
    given_as, wanted_as : str
        One of ``ANKLE_CONVENTIONS``. The first and second count from the sole at a right angle to the shank, the third
        from standing, the fourth is the angle between shank and sole, the last between shank and the line from
        malleolus to a toe landmark.
    toe_line_below_sole_deg : array_like, optional
        Needed for "included angle to the toe": how far the line from malleolus to toe landmark dips below the sole,
        0 to 60. [°]
    standing_plantar_flexion_deg : array_like, optional
        Needed for "dorsiflexion from standing": plantar flexion of the same landmarks, standing, −60 to 60. [°]

    Returns
    -------
    numpy.ndarray
        The same ankle as ``wanted_as`` counts it. [°]

    Raises
    ------
    OutOfRangeError
        If a value is out of range, a name unknown, or an offset missing.

    Notes
    -----
    *Convention.* The offset between sole and toe line is 10° to 30° (from memory): measure it on the rider.

    References
    ----------
    wu_2002

    Examples
    --------
    >>> convert_ankle_angle_deg(115, "included angle to the toe", "plantar flexion", toe_line_below_sole_deg=25).item()
    0.0
    """
    angle = checked("angle_deg", angle_deg, at_least=-360, at_most=360)
    ways: dict[str, _Both] = {
        "plantar flexion": (lambda value: value, lambda plantar: plantar),
        "dorsiflexion": (lambda value: -value, lambda plantar: -plantar),
        "included angle to the sole": (lambda value: value - 90, lambda plantar: plantar + 90),
    }
    if toe_line_below_sole_deg is not None:
        drop = checked("toe_line_below_sole_deg", toe_line_below_sole_deg, at_least=0, at_most=60)
        ways["included angle to the toe"] = (lambda value: value - 90 - drop, lambda plantar: plantar + 90 + drop)
    if standing_plantar_flexion_deg is not None:
        standing = checked("standing_plantar_flexion_deg", standing_plantar_flexion_deg, at_least=-60, at_most=60)
        ways["dorsiflexion from standing"] = (lambda value: standing - value, lambda plantar: standing - plantar)
    for name, needed in (
        ("included angle to the toe", "toe_line_below_sole_deg"),
        ("dorsiflexion from standing", "standing_plantar_flexion_deg"),
    ):
        if name in (given_as, wanted_as) and name not in ways:
            raise OutOfRangeError(f"{needed}: received nothing; allowed: a value, for {name!r}; give {needed}")
    return _converted(angle, given_as, wanted_as, ways, ANKLE_CONVENTIONS)


def relative_to_standing_deg(angle_deg: Numbers, standing_angle_deg: Numbers) -> Floats:
    """Subtract what the same landmarks give when the rider stands upright.

    Parameters
    ----------
    angle_deg : array_like
        Joint angle on the bicycle. [°]
    standing_angle_deg : array_like
        The same angle by the same landmarks, standing. [°]

    Returns
    -------
    numpy.ndarray
        Angle from standing. [°]

    Raises
    ------
    OutOfRangeError
        If a value is missing or not finite.

    Notes
    -----
    *Convention.* Standing knee flexion is seldom 0, so a saddle set to the same target differs between the two ways of
    counting. Say in the record which one was used.

    References
    ----------
    priego_quesada_2016

    Examples
    --------
    >>> relative_to_standing_deg(35, 4).item()
    31.0
    """
    return np.asarray(checked("angle_deg", angle_deg) - checked("standing_angle_deg", standing_angle_deg))


def _converted(
    angle: Floats, given_as: str, wanted_as: str, ways: dict[str, _Both], names: tuple[str, ...] | None = None
) -> Floats:
    known = {name: ways.get(name) for name in names or ways}
    given, wanted = chosen("given_as", given_as, known), chosen("wanted_as", wanted_as, known)
    assert given is not None
    assert wanted is not None
    return np.asarray(wanted[1](given[0](angle)))
