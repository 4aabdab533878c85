"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.muscles import gluteal_lengthening_mm
from pedalwright.pelvis import hip_closure, rolled_forward
from pedalwright.position import Position, saddle_point_mm
from pedalwright.stroke import Stroke, solve_stroke
from pedalwright_bench.bench import slider
from pedalwright_bench.shapes import Floats
from pedalwright_bench.turn import TURN_DEG

START_TILT_DEG = 20.0
START_CRANK_MM = 170.0
TRUNK_DEG = 45.0
TARGET_DEG = (39.0, 90.0)
MODELS = ("lai_2017", "gait2392")


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    pelvis_forward_tilt_deg: float = slider(
        "Pelvis rolled forward from standing", "°", 5, 35, 5, START_TILT_DEG, ("upright", "far forward")
    )
    crank_length_mm: float = slider("Crank", "mm", 155, 175, 5, START_CRANK_MM, ("short", "long"))

    @property
    def moved(self) -> bool:
        """Whether a slider stands elsewhere than at the start."""
        return (self.pelvis_forward_tilt_deg, self.crank_length_mm) != (START_TILT_DEG, START_CRANK_MM)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    hip_flexion_deg: Floats
    start_hip_flexion_deg: Floats
    top_hip_flexion_deg: float
    greatest_hip_flexion_deg: float
    greatest_at_crank_deg: float
    least_trunk_thigh_deg: float
    start_top_deg: float
    gluteus_longer_mm: tuple[float, ...]
    saddle_mm: Floats
    hip_mm: Floats
    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats

    @property
    def greatest_in_target(self) -> bool:
        """Whether the hip closes no further than the target window."""
        return TARGET_DEG[0] <= self.greatest_hip_flexion_deg <= TARGET_DEG[1]


def results(inputs: Inputs) -> Results:
    """Calculate the hip over one turn, and the gluteus maximus with the crank at the top."""
    position = position_of(inputs)
    closure = hip_closure(
        TEACHING_LEG, position, pelvis_forward_tilt_deg=inputs.pelvis_forward_tilt_deg, trunk_angle_deg=TRUNK_DEG
    )
    stroke, start = _stroke(inputs), _stroke(Inputs())
    start_top, top = float(start.hip_flexion_deg[0]), float(closure.top_hip_flexion_deg)
    return Results(
        inputs=inputs,
        hip_flexion_deg=stroke.hip_flexion_deg,
        start_hip_flexion_deg=start.hip_flexion_deg,
        top_hip_flexion_deg=top,
        greatest_hip_flexion_deg=float(closure.greatest_hip_flexion_deg),
        greatest_at_crank_deg=float(closure.greatest_at_crank_deg),
        least_trunk_thigh_deg=float(closure.least_trunk_thigh_deg),
        start_top_deg=start_top,
        gluteus_longer_mm=tuple(float(gluteal_lengthening_mm(start_top, top, model=model)) for model in MODELS),
        saddle_mm=saddle_point_mm(position),
        hip_mm=stroke.hip_mm[0],
        knee_mm=stroke.knee_mm[0],
        ankle_mm=stroke.ankle_mm[0],
        pedal_mm=stroke.pedal_mm[0],
    )


def position_of(inputs: Inputs) -> Position:
    """Give the contact points; a shorter crank raises the saddle, so that it stays as far from the lowest pedal."""
    start_mm = float(np.asarray(TEACHING_POSITION.saddle_height_mm))
    start = replace(
        TEACHING_POSITION,
        crank_length_mm=inputs.crank_length_mm,
        saddle_height_mm=start_mm + START_CRANK_MM - inputs.crank_length_mm,
    )
    return rolled_forward(start, inputs.pelvis_forward_tilt_deg - START_TILT_DEG)


@cache
def _stroke(inputs: Inputs) -> Stroke:
    return solve_stroke(
        TEACHING_LEG,
        position_of(inputs),
        TURN_DEG,
        pelvis_forward_tilt_deg=inputs.pelvis_forward_tilt_deg,
        trunk_angle_deg=TRUNK_DEG,
    )
