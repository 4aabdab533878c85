"""Length, moment arms, velocity and strength of the pedalling muscles: one place to import them from.

Sign: an arm above 0 means that the muscle's pull flexes the hip or the knee, or plantar-flexes the ankle; below 0 it
extends or dorsiflexes. It is the change of length with the joint angle, with the sign turned: arm = −dL/dq.
"""

from pedalwright.muscle_arms import MomentArms, moment_arms_by_model, moment_arms_mm, muscle_strength
from pedalwright.muscle_curves import MUSCLES, PATH_MODELS, Strength, models_with
from pedalwright.muscle_lengths import (
    gluteal_lengthening_mm,
    length_change_mm,
    lengthening_velocity_mm_s,
    muscle_length_mm,
)

__all__ = [
    "MUSCLES",
    "PATH_MODELS",
    "MomentArms",
    "Strength",
    "gluteal_lengthening_mm",
    "length_change_mm",
    "lengthening_velocity_mm_s",
    "models_with",
    "moment_arms_by_model",
    "moment_arms_mm",
    "muscle_length_mm",
    "muscle_strength",
]
