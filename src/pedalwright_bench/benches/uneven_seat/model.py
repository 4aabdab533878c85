"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from pedalwright.constants import HIP_JOINT_WIDTH_MM, STANCE_WIDTH_MM
from pedalwright.force import at_crank_angle
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.stroke import solve_stroke
from pedalwright.uneven_seat import knee_lateral_mm, uneven_seat
from pedalwright_bench.bench import slider
from pedalwright_bench.shapes import Floats

TARGET_MM = (-5.0, 5.0)
HIP_ABOVE_SEAT_MM = 80.0
RIGHT_DEG, LEFT_DEG, BOTTOM_DEG = 90.0, 270.0, 180.0


def seat_in_words(value: float, unit: str) -> str:
    """Say which side of the seat is higher."""
    return "level" if value == 0 else f"{'right' if value > 0 else 'left'} side {abs(value):g}{unit} higher"


def slide_in_words(value: float, unit: str) -> str:
    """Say how far the rider slid."""
    return "not slid" if value == 0 else f"slid {abs(value):g} {unit} to the {'right' if value > 0 else 'left'}"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    obliquity_deg: float = slider("Seat", "°", -4, 4, 1, 3, ("left higher", "right higher"), seat_in_words)
    slide_mm: float = slider("Rider", "mm", -10, 10, 5, 0, ("slid left", "slid right"), slide_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need; places across grow to the rider's right."""

    inputs: Inputs
    pelvis_shift_mm: float
    right_inward_mm: float
    left_inward_mm: float
    right_flexion_deg: float
    left_flexion_deg: float
    right_even_mm: Floats
    left_even_mm: Floats

    @property
    def knees_in_target(self) -> bool:
        """Whether both knees run in the target window."""
        return all(TARGET_MM[0] <= knee <= TARGET_MM[1] for knee in (self.right_inward_mm, self.left_inward_mm))


def results(inputs: Inputs) -> Results:
    """Follow the seat down to both knees."""
    seat = uneven_seat(
        TEACHING_LEG,
        TEACHING_POSITION,
        inputs.obliquity_deg,
        slide_mm=inputs.slide_mm,
        hip_above_seat_mm=HIP_ABOVE_SEAT_MM,
    )
    right, left = (
        float(at_crank_angle(flexion, BOTTOM_DEG))
        for flexion in (seat.right_knee_flexion_deg, seat.left_knee_flexion_deg)
    )
    return Results(
        inputs=inputs,
        pelvis_shift_mm=float(seat.pelvis_shift_mm),
        right_inward_mm=float(seat.right_knee_inward_mm.mean()),
        left_inward_mm=float(seat.left_knee_inward_mm.mean()),
        right_flexion_deg=right,
        left_flexion_deg=left,
        right_even_mm=_even_leg(RIGHT_DEG, 1),
        left_even_mm=_even_leg(LEFT_DEG, -1),
    )


@cache
def _even_leg(crank_deg: float, side: int) -> Floats:
    """Hip, knee and ankle (across, up) of a leg on a level seat; side 1 is the right."""
    stroke = solve_stroke(TEACHING_LEG, TEACHING_POSITION, crank_deg)
    hip, foot = side * HIP_JOINT_WIDTH_MM.value / 2, side * STANCE_WIDTH_MM.value / 2
    knee = float(knee_lateral_mm(stroke, TEACHING_LEG, hip, foot)[0])
    up = (stroke.hip_mm[0, 1], stroke.knee_mm[0, 1], stroke.ankle_mm[0, 1])
    return np.array(list(zip((hip, knee, foot), up, strict=True)))
