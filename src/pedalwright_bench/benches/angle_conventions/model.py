"""Inputs of the bench and what the calculation package makes of them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pedalwright.angle_conventions import (
    HIP_CONVENTIONS,
    KNEE_CONVENTIONS,
    convert_ankle_angle_deg,
    convert_hip_angle_deg,
    convert_knee_angle_deg,
)
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.rule_outcomes import DEFAULT_WINDOW, KNEE_FLEXION_WINDOWS
from pedalwright.stroke import solve_stroke
from pedalwright_bench.bench import slider
from pedalwright_bench.leg import LegPose, pose_of
from pedalwright_bench.shapes import Floats

TOE_LINE_DEG = 25.0
"""How far the line to the toe landmark dips below the sole on this rider; assumed, 10° to 30° from memory."""

TRUNK_MM = 470.0
ANKLE_SHOWN = ("plantar flexion", "included angle to the sole", "included angle to the toe")
WINDOW = KNEE_FLEXION_WINDOWS[DEFAULT_WINDOW]
BOTTOM_DEG = 180


def place_in_words(value: float, unit: str) -> str:
    """Name the place of the crank."""
    names = {0: "top", 90: "forward", 180: "bottom", 270: "back"}
    return f"{value:g}{unit}" + (f", {names[round(value)]}" if round(value) in names else "")


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    crank_angle_deg: float = slider("Crank", "°", 0, 315, 45, 180, ("top", "nearly round"), place_in_words)
    trunk_angle_deg: float = slider("Trunk above the horizontal", "°", 20, 60, 10, 50, ("low", "upright"))


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need; one pose, each joint under three names."""

    inputs: Inputs
    pose: LegPose
    shoulder_mm: Floats
    knee_deg: Mapping[str, float]
    hip_deg: Mapping[str, float]
    ankle_deg: Mapping[str, float]
    window_deg: Mapping[str, tuple[float, float]]

    @property
    def at_bottom(self) -> bool:
        """Whether the crank stands at the bottom, where the window of the knee belongs."""
        return round(self.inputs.crank_angle_deg) == BOTTOM_DEG


def results(inputs: Inputs) -> Results:
    """Place the leg and read every joint under each convention."""
    stroke = solve_stroke(
        TEACHING_LEG,
        TEACHING_POSITION,
        inputs.crank_angle_deg,
        recorded_pedal_angle(),
        trunk_angle_deg=inputs.trunk_angle_deg,
    )
    pose = pose_of(stroke)
    trunk = np.radians(inputs.trunk_angle_deg)
    knee, hip, ankle = (
        float(angle[0]) for angle in (stroke.knee_flexion_deg, stroke.hip_flexion_deg, stroke.ankle_plantar_flexion_deg)
    )
    beside = {"pelvis_forward_tilt_deg": pose.pelvis_tilt_deg, "trunk_angle_deg": inputs.trunk_angle_deg}
    return Results(
        inputs=inputs,
        pose=pose,
        shoulder_mm=pose.hip_mm + TRUNK_MM * np.array([np.cos(trunk), np.sin(trunk)]),
        knee_deg={name: float(convert_knee_angle_deg(knee, "flexion", name)) for name in KNEE_CONVENTIONS},
        hip_deg={
            name: float(convert_hip_angle_deg(hip, "thigh to pelvis", name, **beside)) for name in HIP_CONVENTIONS
        },
        ankle_deg={
            name: float(convert_ankle_angle_deg(ankle, "plantar flexion", name, toe_line_below_sole_deg=TOE_LINE_DEG))
            for name in ANKLE_SHOWN
        },
        window_deg={
            name: (float(ends.min()), float(ends.max()))
            for name in KNEE_CONVENTIONS
            for ends in [convert_knee_angle_deg((WINDOW.low_deg, WINDOW.high_deg), "flexion", name)]
        },
    )
