"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass

import numpy as np

from pedalwright.force import (
    at_crank_angle,
    both_legs_torque_nm,
    opposite_crank_angle_deg,
    pedal_smoothness_pct,
    torque_effectiveness_pct,
)
from pedalwright.lever import TEACHING_POSITION, lever_stroke
from pedalwright.rising_leg import rising_leg_lifted_nm, work_parts_j
from pedalwright_bench.bench import slider
from pedalwright_bench.shapes import Floats

EFFORT_W = 200.0
CADENCE_RPM = 90.0
CRANK_MM = float(np.asarray(TEACHING_POSITION.crank_length_mm))


def lift_in_words(value: float, unit: str) -> str:
    """Say how much of what holds it back the rising leg lifts."""
    return "as recorded" if value == 0 else f"{value:g} {unit} lifted"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    crank_angle_deg: float = slider("Right crank", "°", 0, 345, 15, 90, ("top", "nearly round"))
    lift_pct: float = slider("Rising leg", "%", 0, 100, 25, 0, ("as recorded", "lifts all"), lift_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    right_curve_nm: Floats
    left_curve_nm: Floats
    both_curve_nm: Floats
    left_angle_deg: float
    right_nm: float
    left_nm: float
    both_nm: float
    peak_nm: float
    pushed_j: float
    held_back_j: float
    one_leg_effectiveness_pct: float
    both_legs_effectiveness_pct: float
    one_leg_smoothness_pct: float
    both_legs_smoothness_pct: float


def results(inputs: Inputs) -> Results:
    """Calculate one turn of both legs, and the moment the cranks stand at."""
    recorded = lever_stroke(EFFORT_W, cadence_rpm=CADENCE_RPM).right_torque_nm
    right = rising_leg_lifted_nm(recorded, inputs.lift_pct)
    both = both_legs_torque_nm(right)
    left_angle = opposite_crank_angle_deg(inputs.crank_angle_deg)
    work = work_parts_j(right)
    return Results(
        inputs=inputs,
        right_curve_nm=right,
        left_curve_nm=both - right,
        both_curve_nm=both,
        left_angle_deg=float(left_angle),
        right_nm=float(at_crank_angle(right, inputs.crank_angle_deg)),
        left_nm=float(at_crank_angle(right, left_angle)),
        both_nm=float(at_crank_angle(both, inputs.crank_angle_deg)),
        peak_nm=float(right.max()),
        pushed_j=float(work.propelling_j),
        held_back_j=float(work.holding_back_j),
        one_leg_effectiveness_pct=float(torque_effectiveness_pct(right)),
        both_legs_effectiveness_pct=float(torque_effectiveness_pct(both)),
        one_leg_smoothness_pct=float(pedal_smoothness_pct(right)),
        both_legs_smoothness_pct=float(pedal_smoothness_pct(both)),
    )
