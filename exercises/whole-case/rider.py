"""The drawn case: what a rider said, two knees measured before and after support, and what follows from them.

A footbed lifts the foot, which bends the knee more; a level seat lowers the hip that stood higher and lifts the other.
Both effects are drawn about as large as the closed chain of the calculation package gives them for 3 to 5 mm under the
foot and 2 to 4 degrees of seat.
"""

from dataclasses import dataclass

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.conventions import flexion_from_included_deg
from pedalwright.repeatability import KNEE_ANGLE_INSTRUMENTS
from pedalwright.rule_outcomes import DEFAULT_WINDOW, KNEE_FLEXION_WINDOWS

from .history import draw_remarks

WINDOW = KNEE_FLEXION_WINDOWS[DEFAULT_WINDOW]
TARGET_DEG = 30.0
AWAY_FOR_95_PCT = 1.64
SIGN_RATE = 0.45
EMERGENCY_SHARE = 0.35
TOOLS = ("inclinometer", "long goniometer")
OTHER = {"right": "left", "left": "right"}
# Flexion of the asked knee, and how far the other is from it; bands that keep clear of the edges of a verdict.
TOO_BENT_DEG = {"inclinometer": ((35.6, 37.9), (39.3, 42.0)), "long goniometer": ((35.6, 40.2), (41.6, 43.0))}
TOO_STRAIGHT_DEG = {"inclinometer": ((22.1, 24.3), (17.5, 20.6)), "long goniometer": ((19.9, 24.3), (15.5, 18.4))}
APART_DEG = {"inclinometer": ((4.1, 5.1), (7.0, 9.2)), "long goniometer": ((4.1, 9.0), (11.0, 12.4))}
FAR_APART_DEG = {"inclinometer": (8.2, 9.6), "long goniometer": (8.2, 9.0)}
LIFT_DEG_PER_MM, LEVEL_DEG_PER_DEG = 0.37, 0.55


@dataclass(frozen=True)
class Case:
    """What the trainee is given; included angles of three readings by side and stage."""

    rider: str
    remarks: tuple[str, ...]
    stops_fit: bool
    emergency: bool
    tool: str
    side: str
    footbed_mm: float
    seat_deg: float
    found_right_deg: tuple[float, ...]
    found_left_deg: tuple[float, ...]
    supported_right_deg: tuple[float, ...]
    supported_left_deg: tuple[float, ...]
    trial_deg: float


def draw(rng: np.random.Generator) -> Case:
    """Draw one rider whose seat sloped; the asked side is the one that stood higher."""
    said = draw_remarks(rng, SIGN_RATE, EMERGENCY_SHARE)
    tool, side = str(rng.choice(TOOLS)), str(rng.choice(["right", "left"]))
    flexion = dict(zip((side, OTHER[side]), _knees_deg(rng, tool), strict=True))
    small = flexion[side] > flexion[OTHER[side]]
    footbed_mm, seat_deg = (3.0, 2.0) if small else (float(rng.integers(3, 6)), float(rng.integers(2, 5)))
    lift, level = LIFT_DEG_PER_MM * footbed_mm, LEVEL_DEG_PER_DEG * seat_deg
    before = {side: flexion[side] - lift - level, OTHER[side]: flexion[OTHER[side]] - lift + level}
    return Case(
        rider=str(rng.choice(RIDERS)),
        remarks=said.remarks,
        stops_fit=said.stops_fit,
        emergency=said.emergency,
        tool=tool,
        side=side,
        footbed_mm=footbed_mm,
        seat_deg=seat_deg,
        found_right_deg=_readings(rng, before["right"]),
        found_left_deg=_readings(rng, before["left"]),
        supported_right_deg=_readings(rng, flexion["right"]),
        supported_left_deg=_readings(rng, flexion["left"]),
        trial_deg=round(float(rng.uniform(3.6, 4.7)), 1),
    )


def _knees_deg(rng: np.random.Generator, tool: str) -> tuple[float, float]:
    """Flexion of the asked and of the other knee, supported: both too bent or both too straight."""
    bent, asked_is_near = bool(rng.random() < 0.6), bool(rng.random() < 0.7)
    bands = (TOO_BENT_DEG if bent else TOO_STRAIGHT_DEG)[tool]
    asked = rng.uniform(*bands[int(rng.random() < 0.5) if bent else int(not asked_is_near)])
    if asked_is_near == bent:
        return asked, asked + rng.uniform(*APART_DEG[tool][int(rng.random() < 0.45)])
    return asked, asked - rng.uniform(*FAR_APART_DEG[tool])


def _readings(rng: np.random.Generator, flexion_deg: float) -> tuple[float, ...]:
    return tuple(np.round(180 - flexion_deg + rng.uniform(-1.3, 1.3, 3)).tolist())


def clear(case: Case) -> list[str]:
    """Reasons against a drawn rider."""
    reasons = []
    asked, other = flexion_deg(case, case.side), flexion_deg(case, OTHER[case.side])
    if (asked - TARGET_DEG) * (other - TARGET_DEG) <= 0 or min(abs(each - TARGET_DEG) for each in (asked, other)) < 3:
        reasons.append("a knee is too near the wanted flexion")
    if abs(abs(difference_deg(case)) - smallest_change_deg(case)) < 0.4:
        reasons.append("the difference lies on the smallest change")
    needed = needed_deg(case)
    edges = (WINDOW.low_deg, WINDOW.high_deg)
    if min(abs(asked - edge - shift) for edge in edges for shift in (-needed, 0.0, needed)) < 0.4:
        reasons.append("the knee lies on the edge of a verdict")
    return reasons


def included_deg(case: Case, side: str, stage: str = "supported") -> tuple[float, ...]:
    """Three readings of one knee."""
    readings: tuple[float, ...] = getattr(case, f"{stage}_{side}_deg")
    return readings


def flexion_deg(case: Case, side: str, stage: str = "supported") -> float:
    """Mean flexion of one knee at the bottom of the stroke."""
    return float(flexion_from_included_deg(np.mean(included_deg(case, side, stage))))


def difference_deg(case: Case, stage: str = "supported") -> float:
    """Right less left."""
    return flexion_deg(case, "right", stage) - flexion_deg(case, "left", stage)


def smallest_change_deg(case: Case) -> float:
    """Smallest difference of two measurements that the tool tells from its error."""
    return KNEE_ANGLE_INSTRUMENTS[case.tool].smallest_change_deg


def uncertainty_deg(case: Case) -> float:
    """Standard uncertainty of one measurement, as the brief prints it."""
    return round(KNEE_ANGLE_INSTRUMENTS[case.tool].standard_error_deg, 1)


def needed_deg(case: Case) -> float:
    """How far from an edge a reading has to lie for a verdict at 95 %."""
    return AWAY_FOR_95_PCT * uncertainty_deg(case)


def told_apart(case: Case, difference: float) -> str:
    """Whether a difference of the knees is more than the tool's error."""
    return "shown" if abs(difference) >= smallest_change_deg(case) else "open"


def verdict(case: Case, flexion: float) -> str:
    """What can be said of the window at 95 %."""
    inside_by = min(flexion - WINDOW.low_deg, WINDOW.high_deg - flexion)
    if abs(inside_by) < needed_deg(case):
        return "open"
    return "inside" if inside_by > 0 else "outside"


def at_face_value(flexion: float) -> str:
    """What someone says of the window who takes the number as exact."""
    return "inside" if WINDOW.low_deg <= flexion <= WINDOW.high_deg else "outside"


def other_knee_deg(case: Case, flexion: float, difference: float) -> float:
    """Flexion of the knee not asked for, from the asked one and right less left."""
    return flexion - difference if case.side == "right" else flexion + difference


def moves_mm(case: Case, flexion: float, difference: float) -> tuple[float, float]:
    """Move of the saddle that each knee alone asks for, up positive: the asked knee, the other."""
    other = other_knee_deg(case, flexion, difference)
    return (flexion - TARGET_DEG) / case.trial_deg * 10, (other - TARGET_DEG) / case.trial_deg * 10


def smaller_move_mm(case: Case, flexion: float, difference: float) -> float:
    """The smaller of the two moves."""
    return min(moves_mm(case, flexion, difference), key=abs)
