"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from pedalwright.arch_load import arch_drop_mm
from pedalwright.constants import HIP_JOINT_WIDTH_MM, STANCE_WIDTH_MM
from pedalwright.foot_collapse import FootCollapse, arch_eversion_deg, foot_collapse
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.stroke import solve_stroke
from pedalwright.uneven_seat import knee_lateral_mm
from pedalwright_bench.bench import slider
from pedalwright_bench.shapes import Floats

ARCH_FLEXIBILITY_MM_PER_KN = 14.0
CRANK_DEG = 90.0
TARGET_MM = (-10.0, 10.0)


def tilt_in_words(value: float, unit: str) -> str:
    """Say how the forefoot is tilted."""
    return "level" if value == 0 else f"inner edge {value:g}{unit} higher"


def footbed_in_words(value: float, unit: str) -> str:
    """Say what the footbed does."""
    return "no footbed" if value == 0 else f"holds {value:g} {unit} of the drop"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    load_n: float = slider("Load on the foot", "N", 100, 500, 100, 300, ("light", "hard"))
    forefoot_tilt_deg: float = slider("Forefoot", "°", 0, 4, 2, 2, ("level", "varus"), tilt_in_words)
    held_pct: float = slider("Footbed under the arch", "%", 0, 80, 40, 40, ("none", "strong"), footbed_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    bare: FootCollapse
    held: FootCollapse
    arch_drop_mm: float
    bare_arch_roll_deg: float
    held_arch_roll_deg: float
    knee_flexion_deg: float
    hip_mm: Floats
    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats

    @property
    def held_knee_in_target(self) -> bool:
        """Whether the knee on the footbed stays in the target window."""
        return TARGET_MM[0] <= float(self.held.knee_drift_mm) <= TARGET_MM[1]


def results(inputs: Inputs) -> Results:
    """Follow the foot up to the knee, with the crank forward."""
    share = inputs.held_pct / 100
    drop = arch_drop_mm(ARCH_FLEXIBILITY_MM_PER_KN, inputs.load_n)
    hip, knee, ankle, pedal, flexion = _right_leg_from_behind()
    bare, held = (
        foot_collapse(drop, inputs.forefoot_tilt_deg, TEACHING_LEG, flexion, held_share=part) for part in (0.0, share)
    )
    return Results(
        inputs=inputs,
        bare=bare,
        held=held,
        arch_drop_mm=float(drop),
        bare_arch_roll_deg=float(arch_eversion_deg(drop)),
        held_arch_roll_deg=float(arch_eversion_deg(drop * (1 - share))),
        knee_flexion_deg=flexion,
        hip_mm=hip,
        knee_mm=knee,
        ankle_mm=ankle,
        pedal_mm=pedal,
    )


@cache
def _right_leg_from_behind() -> tuple[Floats, Floats, Floats, Floats, float]:
    """Hip, knee, ankle and pedal (across to the right, up) of a leg that runs straight, and its knee flexion."""
    stroke = solve_stroke(TEACHING_LEG, TEACHING_POSITION, CRANK_DEG)
    hip, foot = HIP_JOINT_WIDTH_MM.value / 2, STANCE_WIDTH_MM.value / 2
    across = (hip, float(knee_lateral_mm(stroke, TEACHING_LEG, hip, foot)[0]), foot, foot)
    up = (stroke.hip_mm[0, 1], stroke.knee_mm[0, 1], stroke.ankle_mm[0, 1], stroke.pedal_mm[0, 1])
    places = [np.array(point) for point in zip(across, up, strict=True)]
    return (*places, float(stroke.knee_flexion_deg[0]))  # type: ignore[return-value]
