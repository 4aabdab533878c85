"""Inputs of the bench and what the calculation package makes of them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pedalwright.joint_actions import sketch_of
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.muscles import moment_arms_mm
from pedalwright.path_drawing import DrawnPath, drawn_path
from pedalwright.posture import Posture
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.stroke import solve_stroke
from pedalwright_bench.bench import slider
from pedalwright_bench.leg import LegPose, pose_of

JOINTS = ("hip", "knee", "ankle")
SHOWN = (
    "gluteus maximus",
    "vasti",
    "rectus femoris",
    "biceps femoris, long head",
    "gastrocnemius",
    "soleus",
    "tibialis anterior",
)
SHORTENING_MM = 10.0
THIGH_MM = float(np.asarray(TEACHING_LEG.thigh_length_mm))
SHANK_MM = float(np.asarray(TEACHING_LEG.shank_length_mm))


def muscle_in_words(value: float, _unit: str) -> str:
    """Name the muscle of a slider value."""
    return SHOWN[round(value) - 1]


def place_in_words(value: float, unit: str) -> str:
    """Name the place of the crank."""
    names = {0: "top", 90: "forward", 180: "bottom"}
    return f"{value:g}{unit}" + (f", {names[round(value)]}" if round(value) in names else "")


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    muscle: float = slider("Muscle", "", 1, len(SHOWN), 1, 2, ("hip", "ankle"), muscle_in_words)
    crank_angle_deg: float = slider("Crank", "°", 0, 180, 45, 90, ("top", "bottom"), place_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    name: str
    pose: LegPose
    path: DrawnPath
    arms_mm: Mapping[str, float]
    turns_deg: Mapping[str, float]

    @property
    def crossed(self) -> tuple[str, ...]:
        """Joints that the muscle crosses, from above."""
        return tuple(self.arms_mm)


def results(inputs: Inputs) -> Results:
    """Place the leg on its crank, draw the muscle on it, and read its moment arms."""
    name = SHOWN[round(inputs.muscle) - 1]
    stroke = solve_stroke(TEACHING_LEG, TEACHING_POSITION, inputs.crank_angle_deg, recorded_pedal_angle())
    posture = Posture(
        float(stroke.hip_flexion_deg[0]),
        float(stroke.knee_flexion_deg[0]),
        float(stroke.ankle_plantar_flexion_deg[0]),
    )
    sketch = sketch_of(name, thigh_length_mm=THIGH_MM, shank_length_mm=SHANK_MM)
    pose = pose_of(stroke)
    arms = moment_arms_mm(name, posture, thigh_length_mm=THIGH_MM, shank_length_mm=SHANK_MM)
    crossed = {joint: float(getattr(arms, f"{joint}_mm")) for joint in sketch.joints}
    return Results(
        inputs=inputs,
        name=name,
        pose=pose,
        path=drawn_path(
            sketch,
            posture,
            thigh_length_mm=THIGH_MM,
            shank_length_mm=SHANK_MM,
            hip_mm=pose.hip_mm,
            pelvis_forward_tilt_deg=pose.pelvis_tilt_deg,
        ),
        arms_mm=crossed,
        turns_deg={joint: float(np.degrees(SHORTENING_MM / arm)) for joint, arm in crossed.items()},
    )
