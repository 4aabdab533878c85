"""Inputs of the bench and what the calculation package makes of them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pedalwright.activity import ACTIVITY_WINDOWS, ActivityWindow
from pedalwright.joint_actions import sketch_of
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.muscles import length_change_mm, lengthening_velocity_mm_s
from pedalwright.path_drawing import drawn_path
from pedalwright.posture import Posture
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.stroke import Stroke, solve_stroke
from pedalwright_bench.bench import slider
from pedalwright_bench.leg import LegPose, pose_of
from pedalwright_bench.shapes import Floats

PAIRS = (
    ("biceps femoris, long head", "gluteus maximus"),
    ("rectus femoris", "vasti"),
    ("gastrocnemius", "soleus"),
)
"""Two-joint muscle, and the one-joint muscle that does the same at one of its joints."""

SAMPLES = 360
CADENCE_RPM = 90.0
THIGH_MM = float(np.asarray(TEACHING_LEG.thigh_length_mm))
SHANK_MM = float(np.asarray(TEACHING_LEG.shank_length_mm))
ANGLES = {"hip": "hip_flexion_deg", "knee": "knee_flexion_deg", "ankle": "ankle_plantar_flexion_deg"}


def muscle_in_words(value: float, _unit: str) -> str:
    """Name the two-joint muscle of a slider value."""
    return PAIRS[round(value) - 1][0]


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    muscle: float = slider("Muscle", "", 1, len(PAIRS), 1, 1, ("thigh", "calf"), muscle_in_words)
    crank_angle_deg: float = slider("Crank", "°", 0, 330, 30, 90, ("top", "nearly round"))


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need; curves start at the top, one sample a degree, mean zero."""

    inputs: Inputs
    name: str
    beside: str
    pose: LegPose
    line_mm: Floats
    beside_line_mm: Floats
    whole_mm: Floats
    parts_mm: Mapping[str, Floats]
    beside_mm: Floats
    velocity_mm_s: float
    beside_velocity_mm_s: float
    windows: tuple[ActivityWindow, ...]

    def change_mm(self, curve: Floats) -> float:
        """Greatest less least value of a curve."""
        return float(np.ptp(curve))

    def at_moment(self, curve: Floats) -> float:
        """Value of a curve where the crank stands."""
        return float(curve[round(self.inputs.crank_angle_deg) % SAMPLES])


def results(inputs: Inputs) -> Results:
    """Calculate one turn of both muscles, and the moment the crank stands at."""
    name, beside = PAIRS[round(inputs.muscle) - 1]
    stroke = solve_stroke(
        TEACHING_LEG, TEACHING_POSITION, np.arange(float(SAMPLES)), recorded_pedal_angle(), CADENCE_RPM
    )
    place = round(inputs.crank_angle_deg) % SAMPLES
    joints = sketch_of(name).joints
    parts = {joint: _length_by(name, stroke, (joint,)) for joint in joints}
    pose = pose_of(stroke, place)
    return Results(
        inputs=inputs,
        name=name,
        beside=beside,
        pose=pose,
        line_mm=_line(name, stroke, pose, place),
        beside_line_mm=_line(beside, stroke, pose, place),
        whole_mm=_length_by(name, stroke, joints),
        parts_mm=parts,
        beside_mm=_length_by(beside, stroke, joints),
        velocity_mm_s=_velocity(name, stroke, place),
        beside_velocity_mm_s=_velocity(beside, stroke, place),
        windows=tuple(w for muscle in (name, beside) for w in ACTIVITY_WINDOWS if w.muscle == muscle),
    )


def _length_by(name: str, stroke: Stroke, joints: tuple[str, ...]) -> Floats:
    """Length over the turn, less its mean, if only the given joints moved and the others stood at their mean."""
    mean = {field: float(np.mean(getattr(stroke, field))) for field in ANGLES.values()}
    moving = {**mean, **{ANGLES[joint]: getattr(stroke, ANGLES[joint]) for joint in joints}}
    change = length_change_mm(
        name, Posture(**mean), Posture(**moving), thigh_length_mm=THIGH_MM, shank_length_mm=SHANK_MM
    )
    return np.asarray(np.broadcast_to(change, (SAMPLES,)) - np.mean(change))


def _velocity(name: str, stroke: Stroke, place: int) -> float:
    assert stroke.motion is not None
    return float(
        lengthening_velocity_mm_s(name, stroke, stroke.motion, thigh_length_mm=THIGH_MM, shank_length_mm=SHANK_MM)[
            place
        ]
    )


def _line(name: str, stroke: Stroke, pose: LegPose, place: int) -> Floats:
    posture = Posture(*(float(getattr(stroke, field)[place]) for field in ANGLES.values()))
    return drawn_path(
        sketch_of(name, thigh_length_mm=THIGH_MM, shank_length_mm=SHANK_MM),
        posture,
        thigh_length_mm=THIGH_MM,
        shank_length_mm=SHANK_MM,
        hip_mm=pose.hip_mm,
        pelvis_forward_tilt_deg=pose.pelvis_tilt_deg,
    ).line_mm
