"""Moment arms and strength of the pedalling muscles.

Sign: an arm above 0 means that the muscle's pull flexes the hip or the knee, or plantar-flexes the ankle; below 0 it
extends or dorsiflexes. It is the change of length with the joint angle, with the sign turned: arm = −dL/dq.
"""

from dataclasses import dataclass

from pedalwright._muscle_inputs import body_scale, model_angles
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError
from pedalwright.muscle_curves import JOINTS, Strength, models_with, muscle_curve
from pedalwright.posture import LegAngles

DEFAULT_MODEL = "lai_2017"


@dataclass(frozen=True)
class MomentArms:
    """Moment arms of one muscle at the three joints; flexion and plantar flexion positive, 0 where it does not cross.

    Parameters
    ----------
    hip_mm, knee_mm, ankle_mm : numpy.ndarray
        Moment arms. [mm]

    References
    ----------
    lai_2017

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> moment_arms_mm("rectus femoris", Posture(60, 60)).hip_mm.item()
    50.6
    """

    hip_mm: Floats
    knee_mm: Floats
    ankle_mm: Floats


def moment_arms_mm(
    muscle: str,
    posture: LegAngles,
    *,
    model: str = DEFAULT_MODEL,
    thigh_length_mm: Numbers | None = None,
    shank_length_mm: Numbers | None = None,
) -> MomentArms:
    """Moment arms of a muscle at hip, knee and ankle.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES``, or one of the heads listed there.
    posture : Posture or Stroke
        Joint angles; those that the muscle crosses must lie inside the model's range. [°]
    model : str
        A key of ``PATH_MODELS``. The default was made for deeply bent hips and knees; ``rajagopal_2016`` and
        ``gait2392`` were made for gait and differ most where a pedalling leg is most bent; the two regressions have no
        gluteus maximus.
    thigh_length_mm, shank_length_mm : array_like, optional
        The rider's segments, one value or one a rider; numbers grow in proportion (thigh for the muscles of hip and
        thigh, shank for those of the calf). Left out: the size of the model's own leg; a regression needs them. [mm]

    Returns
    -------
    MomentArms
        Arms with the shape of the posture. [mm]

    Raises
    ------
    OutOfRangeError
        If an angle lies outside the model's range, a length is missing or a name unknown.

    Notes
    -----
    *Published regression* for ``hawkins_hull_1990`` and ``grieve_1978``; *teaching model* for the others: arms read
    from a published leg model at single angles, smooth between them, each joint on its own.

    References
    ----------
    lai_2017
    rajagopal_2016
    delp_1990
    hawkins_hull_1990
    grieve_1978

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> arms = moment_arms_mm("biceps femoris, long head", Posture(60, 60), model="rajagopal_2016")
    >>> arms.hip_mm.item(), arms.knee_mm.item()
    (-57.8, 36.7)
    """
    curve = muscle_curve(muscle, model)
    angles = model_angles(posture, curve, model)
    scale = body_scale(curve, thigh_length_mm, shank_length_mm, angles)
    return MomentArms(*(scale * curve.arm_mm(joint, angles[joint]) for joint in JOINTS))


def moment_arms_by_model(
    muscle: str, posture: LegAngles, *, thigh_length_mm: Numbers = 425.0, shank_length_mm: Numbers = 425.0
) -> dict[str, MomentArms]:
    """Put the moment arms of every model that has a muscle side by side, so that their disagreement can be seen.

    Parameters
    ----------
    muscle, posture
        As for ``moment_arms_mm``; angles inside the range of every model. [°]
    thigh_length_mm, shank_length_mm : array_like
        The rider's segments, the same for all models. [mm]

    Returns
    -------
    dict of MomentArms
        Arms by model. [mm]

    Raises
    ------
    OutOfRangeError
        As for ``moment_arms_mm``.

    Notes
    -----
    *Teaching model* and *published regression*, as for ``moment_arms_mm``. With a deeply bent hip the models disagree
    even about the sign of the upper gluteus maximus: one of them lets it turn into a flexor, an artefact of its path.

    References
    ----------
    lai_2017
    rajagopal_2016
    delp_1990
    hawkins_hull_1990
    grieve_1978

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> for model, arms in moment_arms_by_model("soleus", Posture(), shank_length_mm=400).items():
    ...     print(model, arms.ankle_mm.round(1))
    lai_2017 41.4
    rajagopal_2016 41.4
    gait2392 42.1
    hawkins_hull_1990 44.2
    grieve_1978 43.9
    """
    return {
        model: moment_arms_mm(
            muscle, posture, model=model, thigh_length_mm=thigh_length_mm, shank_length_mm=shank_length_mm
        )
        for model in models_with(muscle)
    }


def muscle_strength(muscle: str, model: str = DEFAULT_MODEL) -> Strength:
    """Maximal isometric force, optimal fibre length, tendon slack length and pennation of a muscle.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES``, or one of the heads listed there; forces of heads add up, the rest is their mean
        weighed by strength.
    model : {"lai_2017", "rajagopal_2016", "gait2392"}
        The models that state strengths.

    Returns
    -------
    Strength
        Force, lengths and pennation of the model's own leg. [N, mm, °]

    Raises
    ------
    OutOfRangeError
        If the model does not have the muscle or states no strength.

    Notes
    -----
    *Teaching model.* The two newer models have the strength of young, trained adults, nearly twice that of the older.

    References
    ----------
    lai_2017
    rajagopal_2016
    delp_1990

    Examples
    --------
    >>> muscle_strength("soleus", "rajagopal_2016").max_isometric_force_n
    6195
    """
    strength = muscle_curve(muscle, model).strength
    if strength is None:
        raise OutOfRangeError(
            f"model: received {model!r}, which states no strengths; allowed: lai_2017, rajagopal_2016, gait2392; "
            "choose one"
        )
    return strength
