"""The drawn case: a hip at the top of the stroke, a lower trunk, a shorter crank, and what follows.

A leg with the segment lengths of `drillis_contini_1966` (varied a little) in the closed chain of the calculation
package gives the thigh at the top with either crank; readings are rounded as an inclinometer shows them.
"""

from dataclasses import dataclass, replace

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.angle_conventions import convert_hip_angle_deg
from pedalwright.errors import PedalwrightError
from pedalwright.position import Leg, Position, raised
from pedalwright.stroke import solve_stroke

CRANKS_MM = (170.0, 172.5, 175.0)
TRIAL_MM = 20.0
SIGNS = (
    "I am fifteen, and for ten days I have limped because of the groin",
    "low on the bars I go numb between the legs, and it lasts into the evening",
    "on hard climbs the left thigh aches and loses its power, and recovers within minutes of rest, always the same",
)
NO_SIGNS = (
    "no pain; low on the bars my knees nearly touch my ribs",
    "the neck is tired after long rides, and fine the next morning",
    "I want to be low for a time trial, otherwise nothing",
)


@dataclass(frozen=True)
class Hip:
    """What the trainee is given."""

    rider: str
    answer: str
    has_sign: bool
    crank_length_mm: float
    standing_tilt_deg: float
    tilt_deg: float
    low_tilt_deg: float
    trunk_deg: float
    low_trunk_deg: float
    thigh_deg: float
    thigh_short_crank_deg: float


def draw(rng: np.random.Generator) -> Hip:
    """Draw one rider and measure."""
    while True:
        stature_mm = rng.uniform(1560, 1920)
        leg = Leg(
            thigh_length_mm=0.245 * stature_mm * rng.uniform(0.97, 1.03),
            shank_length_mm=0.246 * stature_mm * rng.uniform(0.97, 1.03),
            ankle_to_pedal_mm=0.086 * stature_mm * rng.uniform(0.95, 1.05),
        )
        height_mm = 0.883 * 0.47 * stature_mm * rng.uniform(0.975, 1.01)
        crank_mm = float(rng.choice(CRANKS_MM))
        here = Position(height_mm, height_mm * np.cos(np.radians(rng.uniform(71.5, 76.5))), crank_mm)
        short = replace(raised(here, TRIAL_MM), crank_length_mm=crank_mm - TRIAL_MM)
        pedal_deg = rng.uniform(2, 16)
        try:
            thigh, thigh_short = (-solve_stroke(leg, each, 0.0, pedal_deg).thigh_angle_deg[0] for each in (here, short))
        except PedalwrightError:
            continue
        return _measured(rng, crank_mm, float(thigh), float(thigh_short))


def _measured(rng: np.random.Generator, crank_mm: float, thigh_deg: float, thigh_short_deg: float) -> Hip:
    standing, roll = float(rng.integers(3, 18)), float(rng.integers(12, 25))
    trunk, rolls_on = float(rng.integers(38, 52)), float(rng.integers(4, 10))
    has_sign = bool(rng.random() < 0.5)
    return Hip(
        rider=str(rng.choice(RIDERS)),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        crank_length_mm=crank_mm,
        standing_tilt_deg=standing,
        tilt_deg=standing + roll,
        low_tilt_deg=standing + roll + rolls_on,
        trunk_deg=trunk,
        low_trunk_deg=trunk - rolls_on - float(rng.integers(5, 13)),
        thigh_deg=round(2 * thigh_deg) / 2,
        thigh_short_crank_deg=round(2 * thigh_short_deg) / 2,
    )


def clear(case: Hip) -> list[str]:
    """Reasons against a drawn rider."""
    reasons = []
    if not 4 <= case.thigh_deg <= 32:
        reasons.append("the thigh at the top is level or too steep")
    if not 1.6 <= opens_deg(case) <= 5.5:
        reasons.append("the crank does too little or too much")
    return reasons


def roll_deg(case: Hip) -> float:
    """How far the pelvis is rolled forward from standing."""
    return case.tilt_deg - case.standing_tilt_deg


def flexion_deg(case: Hip, roll: float) -> float:
    """Hip flexion at the top, thigh against pelvis."""
    return float(
        convert_hip_angle_deg(
            case.thigh_deg, "thigh below horizontal", "thigh to pelvis", pelvis_forward_tilt_deg=float(roll)
        )
    )


def opens_deg(case: Hip) -> float:
    """Degrees that the hip opens at the top for each 10 mm of shorter crank and higher saddle."""
    return (case.thigh_short_crank_deg - case.thigh_deg) / TRIAL_MM * 10


def closes_deg(case: Hip) -> float:
    """Degrees that the hip closes when the trunk goes down."""
    return case.low_tilt_deg - case.tilt_deg


def shorter_mm(closes: float, opens: float) -> float:
    """How much shorter a crank makes up for it."""
    return closes / opens * 10
