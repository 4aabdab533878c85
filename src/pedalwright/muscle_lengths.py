"""Length and lengthening velocity of the pedalling muscles."""

import numpy as np

from pedalwright._muscle_inputs import body_scale, model_angles
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.muscle_arms import DEFAULT_MODEL, moment_arms_mm
from pedalwright.muscle_curves import JOINTS, muscle_curve
from pedalwright.posture import LegAngles, LegRates, Posture


def muscle_length_mm(
    muscle: str,
    posture: LegAngles,
    *,
    model: str = DEFAULT_MODEL,
    thigh_length_mm: Numbers | None = None,
    shank_length_mm: Numbers | None = None,
) -> Floats:
    """Length of a muscle with its tendon, from origin to insertion.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES``, or one of the heads listed there.
    posture : Posture or Stroke
        Joint angles; those that the muscle crosses must lie inside the model's range. [°]
    model : str
        A key of ``PATH_MODELS``; ``grieve_1978`` knows changes of length only.
    thigh_length_mm, shank_length_mm : array_like, optional
        The rider's segments, one or one a rider, above 0. Left out: the model's own; a regression needs them. [mm]

    Returns
    -------
    numpy.ndarray
        Length with the shape of the posture. [mm]

    Raises
    ------
    OutOfRangeError
        As for ``moment_arms_mm``, and for a model without lengths.

    Notes
    -----
    *Teaching model* and *published regression*, as for ``moment_arms_mm``. Length and arms belong together exactly:
    arm = −dL/dq, angles in radians.

    References
    ----------
    lai_2017
    hawkins_hull_1990

    Examples
    --------
    >>> muscle_length_mm("soleus", Posture(), model="hawkins_hull_1990", shank_length_mm=1000).item()
    736.7
    """
    curve = muscle_curve(muscle, model)
    if curve.length_mm is None:
        raise OutOfRangeError(
            f"model: received {model!r}, which gives changes of length only; allowed: length_change_mm with this "
            "model, or another model; choose one"
        )
    angles = model_angles(posture, curve, model)
    return np.asarray(
        body_scale(curve, thigh_length_mm, shank_length_mm, angles)
        * (curve.length_mm - sum(curve.shortening_mm(joint, angles[joint]) for joint in JOINTS))
    )


def length_change_mm(
    muscle: str,
    from_posture: LegAngles,
    to_posture: LegAngles,
    *,
    model: str = DEFAULT_MODEL,
    thigh_length_mm: Numbers | None = None,
    shank_length_mm: Numbers | None = None,
) -> Floats:
    """How much longer a muscle with its tendon becomes from one posture to another.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES``, or one of the heads listed there.
    from_posture, to_posture : Posture or Stroke
        Joint angles before and after. [°]
    model : str
        A key of ``PATH_MODELS``.
    thigh_length_mm, shank_length_mm : array_like, optional
        The rider's segments, one or one a rider, above 0. Left out: the model's own; a regression needs them. [mm]

    Returns
    -------
    numpy.ndarray
        Change of length, longer positive. [mm]

    Raises
    ------
    OutOfRangeError
        As for ``moment_arms_mm``.

    Notes
    -----
    *Teaching model* and *published regression*, as for ``moment_arms_mm``.

    References
    ----------
    lai_2017
    grieve_1978

    Examples
    --------
    >>> calf = length_change_mm("gastrocnemius", Posture(0, 90, 0), Posture(0, 0, 0), model="grieve_1978",
    ...                         shank_length_mm=400)
    >>> calf.item()
    25.2
    """
    curve = muscle_curve(muscle, model)
    before, after = model_angles(from_posture, curve, model), model_angles(to_posture, curve, model)
    both = {joint: np.asarray(before[joint] + after[joint]) for joint in JOINTS}
    scale = body_scale(curve, thigh_length_mm, shank_length_mm, both)
    return np.asarray(
        scale
        * sum(curve.shortening_mm(joint, before[joint]) - curve.shortening_mm(joint, after[joint]) for joint in JOINTS)
    )


def lengthening_velocity_mm_s(
    muscle: str,
    posture: LegAngles,
    rates: LegRates,
    *,
    model: str = DEFAULT_MODEL,
    thigh_length_mm: Numbers | None = None,
    shank_length_mm: Numbers | None = None,
) -> Floats:
    """How fast a muscle with its tendon lengthens.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES``, or one of the heads listed there.
    posture : Posture or Stroke
        Joint angles; those that the muscle crosses must lie inside the model's range. [°]
    rates : Rates or Motion
        Rates of the joint angles, such as the ``motion`` of a ``Stroke``. [°/s]
    model : str
        A key of ``PATH_MODELS``.
    thigh_length_mm, shank_length_mm : array_like, optional
        The rider's segments, one or one a rider, above 0. Left out: the model's own; a regression needs them. [mm]

    Returns
    -------
    numpy.ndarray
        Velocity, lengthening positive, shortening negative. [mm/s]

    Raises
    ------
    OutOfRangeError
        As for ``moment_arms_mm``.

    Notes
    -----
    *Teaching model* and *published regression*, as for ``moment_arms_mm``: minus the arms times the joint rates.

    References
    ----------
    lai_2017

    Examples
    --------
    >>> from pedalwright.posture import Rates
    >>> lengthening_velocity_mm_s("vasti", Posture(60, 60), Rates(knee_flexion_velocity_deg_s=-300)).item()
    -180.4
    """
    arms = moment_arms_mm(
        muscle, posture, model=model, thigh_length_mm=thigh_length_mm, shank_length_mm=shank_length_mm
    )
    return np.asarray(
        -sum(
            arm * np.radians(checked(f"{joint}_velocity_deg_s", rate))
            for joint, arm, rate in (
                ("hip_flexion", arms.hip_mm, rates.hip_flexion_velocity_deg_s),
                ("knee_flexion", arms.knee_mm, rates.knee_flexion_velocity_deg_s),
                ("ankle_plantar_flexion", arms.ankle_mm, rates.ankle_plantar_flexion_velocity_deg_s),
            )
        )
    )


def gluteal_lengthening_mm(
    hip_flexion_before_deg: Numbers,
    hip_flexion_after_deg: Numbers,
    *,
    model: str = DEFAULT_MODEL,
    thigh_length_mm: Numbers | None = None,
) -> Floats:
    """How much longer the gluteus maximus becomes when the hip closes.

    Parameters
    ----------
    hip_flexion_before_deg, hip_flexion_after_deg : array_like
        Hip flexion before and after, −20 to 120. [°]
    model : {"lai_2017", "rajagopal_2016", "gait2392"}
        The models that have this muscle.
    thigh_length_mm : array_like, optional
        The rider's thigh; left out: the model's own. [mm]

    Returns
    -------
    numpy.ndarray
        Lengthening of muscle with tendon, mean of its three parts weighed by strength; longer positive. [mm]

    Raises
    ------
    OutOfRangeError
        As for ``moment_arms_mm``.

    Notes
    -----
    *Teaching model.* Rolling the pelvis forward by 10° closes the hip by 10° with the thigh where it was. Whether a
    longer gluteus helps or hinders a rider is not settled by this number.

    References
    ----------
    lai_2017
    rajagopal_2016
    delp_1990

    Examples
    --------
    >>> gluteal_lengthening_mm(90, 100).round(1).item()
    5.5
    """
    return length_change_mm(
        "gluteus maximus",
        Posture(hip_flexion_deg=hip_flexion_before_deg),
        Posture(hip_flexion_deg=hip_flexion_after_deg),
        model=model,
        thigh_length_mm=thigh_length_mm,
    )
