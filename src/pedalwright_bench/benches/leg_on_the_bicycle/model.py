"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass, replace

import numpy as np

from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.position import Position, raised, saddle_point_mm, slid_back
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.rule_outcomes import KNEE_FLEXION_WINDOWS, FlexionWindow
from pedalwright.stroke import knee_over_pedal_mm, solve_stroke
from pedalwright_bench.bench import slider
from pedalwright_bench.leg import LegPose, pose_of
from pedalwright_bench.shapes import Floats

STILL = KNEE_FLEXION_WINDOWS["static 25–35"]
MOVING = KNEE_FLEXION_WINDOWS["dynamic 33–43"]
LEVEL_FOOT_DEG = 0.0


def height_in_words(value: float, unit: str) -> str:
    """Say how far the saddle was raised."""
    return "where it started" if value == 0 else f"{abs(value):g} {unit} {'higher' if value > 0 else 'lower'}"


def setback_in_words(value: float, unit: str) -> str:
    """Say how far the saddle was slid."""
    return "where it started" if value == 0 else f"{abs(value):g} {unit} {'back' if value > 0 else 'forward'}"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    raised_mm: float = slider("Saddle height", "mm", -20, 20, 10, 0, ("lower", "higher"), height_in_words)
    back_mm: float = slider("Saddle on its rails", "mm", -20, 20, 20, 0, ("forward", "back"), setback_in_words)
    crank_length_mm: float = slider("Crank length", "mm", 165, 175, 5, 170, ("short", "long"))


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need; curves start at the top, one sample a degree."""

    inputs: Inputs
    bottom: LegPose
    saddle_mm: Floats
    knee_deg: Floats
    hip_deg: Floats
    start_knee_deg: Floats
    start_hip_deg: Floats
    least_knee_deg: float
    least_at_deg: float
    still_knee_deg: float
    knee_ahead_mm: float

    @property
    def knee_at_bottom_deg(self) -> float:
        """Knee flexion while pedalling, crank at the bottom."""
        return float(self.knee_deg[180])

    @property
    def still_inside(self) -> bool:
        """Whether the reading held still lies in its window."""
        return _inside(self.still_knee_deg, STILL)

    @property
    def moving_inside(self) -> bool:
        """Whether the least flexion while pedalling lies in its window."""
        return _inside(self.least_knee_deg, MOVING)


def results(inputs: Inputs) -> Results:
    """Follow the leg around the turn in the chosen position and in the one at the start."""
    turn = np.arange(360.0)
    moved = moved_position(inputs)
    stroke = solve_stroke(TEACHING_LEG, moved, turn, recorded_pedal_angle())
    start = solve_stroke(TEACHING_LEG, TEACHING_POSITION, turn, recorded_pedal_angle())
    still = solve_stroke(TEACHING_LEG, moved, 180.0, LEVEL_FOOT_DEG)
    return Results(
        inputs=inputs,
        bottom=pose_of(stroke, 180),
        saddle_mm=saddle_point_mm(moved),
        knee_deg=stroke.knee_flexion_deg,
        hip_deg=stroke.hip_flexion_deg,
        start_knee_deg=start.knee_flexion_deg,
        start_hip_deg=start.hip_flexion_deg,
        least_knee_deg=float(stroke.knee_flexion_deg.min()),
        least_at_deg=float(turn[np.argmin(stroke.knee_flexion_deg)]),
        still_knee_deg=float(still.knee_flexion_deg[0]),
        knee_ahead_mm=float(knee_over_pedal_mm(TEACHING_LEG, moved, recorded_pedal_angle())),
    )


def moved_position(inputs: Inputs) -> Position:
    """Give the teaching position, its saddle raised along the post, then slid on level rails, with another crank."""
    moved = slid_back(raised(TEACHING_POSITION, inputs.raised_mm), inputs.back_mm)
    return replace(moved, crank_length_mm=inputs.crank_length_mm)


def _inside(value_deg: float, window: FlexionWindow) -> bool:
    return window.low_deg <= value_deg <= window.high_deg
