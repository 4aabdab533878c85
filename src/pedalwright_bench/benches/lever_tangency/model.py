"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass

import numpy as np

from pedalwright.force import index_of_effectiveness, torque_effectiveness_pct, work_by_sector_j
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION, LeverStroke, lever_stroke, peak_angle_deg
from pedalwright.position import Position, saddle_point_mm
from pedalwright.stroke import solve_stroke
from pedalwright_bench.bench import slider
from pedalwright_bench.shapes import Floats
from pedalwright_bench.turn import TARGET_DEG

CADENCE_RPM = 90.0
SECTORS = 16
TARGET_SECTORS = (4, 6)
START_BACK_MM = 0.0


def saddle_in_words(value: float, unit: str) -> str:
    """Say how far the saddle was moved."""
    if value == 0:
        return "where it started"
    return f"{abs(value):g} {unit} {'back' if value > 0 else 'forward'}"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    effort_w: float = slider("Effort, both legs", "W", 100, 300, 25, 200, ("easy", "hard"))
    saddle_back_mm: float = slider("Saddle", "mm", -40, 40, 10, START_BACK_MM, ("forward", "back"), saddle_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    stroke: LeverStroke
    unmoved: LeverStroke
    peak_deg: float
    peak_torque_nm: float
    unmoved_peak_deg: float
    sector_work_j: Floats
    best_sector: int
    target_share: float
    effectiveness: float
    one_leg_torque_effectiveness_pct: float
    knee_over_pedal_mm: float
    saddle_mm: Floats
    hip_mm: Floats
    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats

    @property
    def peak_in_target(self) -> bool:
        """Whether the peak lies in the target window."""
        return TARGET_DEG[0] <= self.peak_deg <= TARGET_DEG[1]


def results(inputs: Inputs) -> Results:
    """Calculate one turn at the chosen effort and saddle place."""
    stroke = lever_stroke(inputs.effort_w, inputs.saddle_back_mm, cadence_rpm=CADENCE_RPM)
    unmoved = lever_stroke(inputs.effort_w, START_BACK_MM, cadence_rpm=CADENCE_RPM)
    work = work_by_sector_j(stroke.right_torque_nm, SECTORS)
    first, last = TARGET_SECTORS
    moved = moved_position(inputs.saddle_back_mm)
    leg = solve_stroke(TEACHING_LEG, moved, 90.0, stroke.pedal_angle_deg[90])
    return Results(
        inputs=inputs,
        stroke=stroke,
        unmoved=unmoved,
        peak_deg=float(peak_angle_deg(stroke.right_torque_nm)),
        peak_torque_nm=float(stroke.right_torque_nm.max()),
        unmoved_peak_deg=float(peak_angle_deg(unmoved.right_torque_nm)),
        sector_work_j=work,
        best_sector=int(np.argmax(work)) + 1,
        target_share=float(work[first - 1 : last].sum() / work.sum()),
        effectiveness=float(index_of_effectiveness(stroke.tangential_force_n, stroke.resultant_force_n)),
        one_leg_torque_effectiveness_pct=float(torque_effectiveness_pct(stroke.right_torque_nm)),
        knee_over_pedal_mm=float(stroke.knee_over_pedal_mm),
        saddle_mm=saddle_point_mm(moved),
        hip_mm=leg.hip_mm[0],
        knee_mm=leg.knee_mm[0],
        ankle_mm=leg.ankle_mm[0],
        pedal_mm=leg.pedal_mm[0],
    )


def moved_position(saddle_back_mm: float) -> Position:
    """Give the teaching position with the saddle moved back, its height from the bottom bracket kept."""
    start = TEACHING_POSITION
    return Position(
        saddle_height_mm=start.saddle_height_mm,
        saddle_setback_mm=float(np.asarray(start.saddle_setback_mm)) + saddle_back_mm,
        crank_length_mm=start.crank_length_mm,
        hip_above_saddle_mm=start.hip_above_saddle_mm,
        hip_ahead_of_saddle_mm=start.hip_ahead_of_saddle_mm,
    )
