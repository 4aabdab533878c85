"""Checked inputs shared by the functions on muscles."""

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.muscle_curves import MuscleCurve
from pedalwright.posture import LegAngles


def model_angles(posture: LegAngles, curve: MuscleCurve, model: str) -> dict[str, Floats]:
    """Joint angles of one shape, checked against the ranges of the model."""
    given = {
        "hip": checked("hip_flexion_deg", posture.hip_flexion_deg),
        "knee": checked("knee_flexion_deg", posture.knee_flexion_deg),
        "ankle": checked("ankle_plantar_flexion_deg", posture.ankle_plantar_flexion_deg),
    }
    for joint, arms in curve.arms.items():
        name = "ankle_plantar_flexion_deg" if joint == "ankle" else f"{joint}_flexion_deg"
        checked(
            name,
            given[joint],
            at_least=arms.x[0],
            at_most=arms.x[-1],
            advice=f"the muscle paths of {model} go no further; check the position, or choose another model",
        )
    shape = np.broadcast_shapes(*(angle.shape for angle in given.values()))
    return {joint: np.broadcast_to(angle, shape) for joint, angle in given.items()}


def body_scale(
    curve: MuscleCurve, thigh_length_mm: Numbers | None, shank_length_mm: Numbers | None, angles: dict[str, Floats]
) -> Floats:
    """Size of the rider's segment against the model's."""
    name = f"{curve.scales_with}_length_mm"
    given = thigh_length_mm if curve.scales_with == "thigh" else shank_length_mm
    if given is None:
        if curve.segment_length_mm is None:
            raise OutOfRangeError(f"{name}: received nothing; allowed: a length, for a regression; give {name}")
        return np.asarray(1.0)
    length = checked(name, given, above=0)
    if length.ndim and angles["hip"].ndim:
        length = length[..., None]
    return np.asarray(length / (curve.segment_length_mm or 1.0))
