"""The drawn case: a rider measured with the right crank forward, and what follows from the measures.

A leg with the segment lengths of `drillis_contini_1966` (varied a little) sits on a saddle in the closed chain of the
calculation package; what a plumb line and a tape would read there is rounded to whole millimetres.
"""

from dataclasses import dataclass, replace

import numpy as np

from pedalwright.errors import PedalwrightError
from pedalwright.position import Leg, Position
from pedalwright.stroke import knee_over_pedal_mm, solve_stroke

RIDERS = ("Rowan", "Hazel", "Alder", "Linden", "Willow", "Aspen", "Juniper", "Maple", "Olive", "Laurel")
CRANKS_MM = (165.0, 167.5, 170.0, 172.5, 175.0)
TRIAL_MM = 30.0
SIGNS = (
    "after long rides the right knee is visibly swollen until the next day",
    "the right knee gives way on the stairs now and then",
    "the right knee catches and locks, and has to be shaken free",
)
NO_SIGNS = (
    "no pain, no earlier injury, no illness",
    "tired knees after a day of hills, fresh again the next morning",
    "a bruised shin years ago, and nothing since",
)


@dataclass(frozen=True)
class Measured:
    """What the trainee is given."""

    rider: str
    answer: str
    has_sign: bool
    crank_length_mm: float
    saddle_height_mm: float
    saddle_setback_mm: float
    front_ahead_mm: float
    front_to_centre_mm: float
    knee_height_mm: float
    front_after_trial_mm: float


def draw(rng: np.random.Generator) -> Measured:
    """Draw one rider and measure."""
    while True:
        stature_mm = rng.uniform(1560, 1920)
        leg = Leg(
            thigh_length_mm=0.245 * stature_mm * rng.uniform(0.97, 1.03),
            shank_length_mm=0.246 * stature_mm * rng.uniform(0.97, 1.03),
            ankle_to_pedal_mm=0.086 * stature_mm * rng.uniform(0.95, 1.05),
        )
        height_mm = round(0.883 * 0.47 * stature_mm * rng.uniform(0.975, 1.015))
        setback_mm = round(height_mm * np.cos(np.radians(rng.uniform(71.5, 76.5))) + rng.uniform(-15, 15))
        pedal_deg = rng.uniform(-12, 4)
        crank_mm = float(rng.choice(CRANKS_MM))
        here = Position(float(height_mm), float(setback_mm), crank_mm, hip_ahead_of_saddle_mm=40.0)
        try:
            return _measure(rng, leg, here, pedal_deg)
        except PedalwrightError:
            continue


def _measure(rng: np.random.Generator, leg: Leg, here: Position, pedal_deg: float) -> Measured:
    there = replace(here, saddle_setback_mm=here.saddle_setback_mm + TRIAL_MM)
    to_centre_mm = float(rng.integers(38, 53))
    knee_mm = solve_stroke(leg, here, 90.0, pedal_deg).knee_mm[0]
    before, after = (float(knee_over_pedal_mm(leg, each, pedal_deg)) for each in (here, there))
    has_sign = bool(rng.random() < 0.5)
    return Measured(
        rider=str(rng.choice(RIDERS)),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        crank_length_mm=float(here.crank_length_mm),
        saddle_height_mm=float(here.saddle_height_mm),
        saddle_setback_mm=float(here.saddle_setback_mm),
        front_ahead_mm=float(round(before + to_centre_mm)),
        front_to_centre_mm=to_centre_mm,
        knee_height_mm=float(round(knee_mm[1])),
        front_after_trial_mm=float(round(after + to_centre_mm)),
    )


def clear(case: Measured) -> list[str]:
    """Reasons against a drawn rider."""
    reasons = []
    if not 10 <= abs(knee_offset_mm(case)) <= 45:
        reasons.append("the knee stands too near the axle or too far from it")
    if not 10 <= abs(move_mm(knee_offset_mm(case), travel_mm(case))) <= 60:
        reasons.append("the saddle would have to move too little or too far")
    return reasons


def knee_offset_mm(case: Measured) -> float:
    """How far the knee centre is ahead of the pedal axle."""
    return case.front_ahead_mm - case.front_to_centre_mm


def lean_deg(case: Measured, offset_mm: float) -> float:
    """Angle between the line from knee centre to axle and the tangent, the crank forward."""
    return float(np.degrees(np.arctan2(offset_mm, case.knee_height_mm)))


def share_pct(lean: float) -> float:
    """Share of a push along that line that points along the tangent."""
    return float(100 * np.cos(np.radians(lean)))


def travel_mm(case: Measured) -> float:
    """How far the knee moved back for each 10 mm of the saddle."""
    return (case.front_ahead_mm - case.front_after_trial_mm) / TRIAL_MM * 10


def move_mm(offset_mm: float, travel: float) -> float:
    """Move of the saddle that brings the knee centre over the axle, back positive."""
    return offset_mm / travel * 10


def height_change_mm(case: Measured, back_mm: float) -> float:
    """Change that gives the saddle its old distance after a slide on level rails, up positive."""
    level_mm2 = case.saddle_height_mm**2 - case.saddle_setback_mm**2
    return case.saddle_height_mm - float(np.sqrt(level_mm2 + (case.saddle_setback_mm + back_mm) ** 2))
