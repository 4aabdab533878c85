"""The drawn case: a pelvis seen from behind, two knees seen from the front, a load on either side."""

from dataclasses import dataclass

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.frontal import SIDES, knee_path
from pedalwright.symmetry import difference_of_sides, symmetry_index_pct
from pedalwright.uneven_seat import pelvic_obliquity_deg

ROWS = 8
ANGLES_DEG = np.arange(ROWS) * 360 / ROWS
SIGNS = (
    "my back has hurt for weeks, and now there is tingling down to the calf",
    "one leg has grown weaker from week to week",
    "I wake at night from pain in the hip, whichever way I lie, and I have lost weight",
)
NO_SIGNS = (
    "no pain; my riding friends say that I sit crooked",
    "one side of the shorts wears out first, otherwise nothing",
    "I broke an arm as a child, and nothing since",
)


@dataclass(frozen=True)
class Sides:
    """What the trainee is given; places across the bicycle grow to the rider's right."""

    rider: str
    answer: str
    has_sign: bool
    right_spine_mm: float
    left_spine_mm: float
    spines_apart_mm: float
    pedal_mm: float
    right_knee_mm: tuple[float, ...]
    left_knee_mm: tuple[float, ...]
    right_load_n: float
    left_load_n: float


def draw(rng: np.random.Generator) -> Sides:
    """Draw one rider whose pelvis slopes; the knee of the higher side runs further in."""
    higher = str(rng.choice(["right", "left"]))
    sign = 1 if higher == "right" else -1
    rise_mm, level_mm = float(rng.integers(4, 12)), float(rng.integers(60, 90))
    pedal_mm = float(rng.integers(118, 137))
    knees = {}
    for side, inward in (("right", sign), ("left", -sign)):
        base = inward * rng.uniform(5, 13) + rng.uniform(-2, 2)
        swing = rng.uniform(8, 15) * np.cos(np.radians(ANGLES_DEG - rng.uniform(65, 115)))
        path = base + swing + rng.uniform(-1, 1, ROWS)
        outward = -SIDES[side]
        knees[side] = tuple((outward * (pedal_mm - np.round(path)) + 0.0).tolist())
    load_n, uneven = rng.uniform(240, 420), rng.choice([-1, 1]) * rng.uniform(0.16, 0.34)
    has_sign = bool(rng.random() < 0.5)
    return Sides(
        rider=str(rng.choice(RIDERS)),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        right_spine_mm=level_mm + (rise_mm if higher == "right" else 0.0),
        left_spine_mm=level_mm + (rise_mm if higher == "left" else 0.0),
        spines_apart_mm=float(rng.integers(88, 118)),
        pedal_mm=pedal_mm,
        right_knee_mm=knees["right"],
        left_knee_mm=knees["left"],
        right_load_n=float(round(load_n / 2 * (1 + uneven / 2))),
        left_load_n=float(round(load_n / 2 * (1 - uneven / 2))),
    )


def clear(case: Sides) -> list[str]:
    """Reasons against a drawn rider."""
    right, left = push_inward_mm(case, "right"), push_inward_mm(case, "left")
    return ["the knees do nearly the same"] if abs(right - left) < 9 or abs(right + left) < 4 else []


def slope_deg(case: Sides) -> float:
    """Slope of the pelvis, right side higher positive."""
    return float(pelvic_obliquity_deg(case.right_spine_mm, case.left_spine_mm, case.spines_apart_mm))


def drawn_in(slope: float) -> str:
    """Which knee the model lets run further in: that of the higher side."""
    return "right-in" if slope > 0 else "left-in"


def knee_mm(case: Sides, side: str) -> np.ndarray:
    """Places of one knee over its own crank's turn."""
    return np.array(case.right_knee_mm if side == "right" else case.left_knee_mm)


def inward_mm(case: Sides, side: str) -> np.ndarray:
    """How far one knee is inward of the middle of its pedal."""
    return knee_path(knee_mm(case, side), -SIDES[side] * case.pedal_mm, side).inward_mm


def push_inward_mm(case: Sides, side: str) -> float:
    """Its mean over the way down."""
    return float(knee_path(knee_mm(case, side), -SIDES[side] * case.pedal_mm, side).push_inward_mm)


def apart_mm(right_mm: float, left_mm: float) -> float:
    """Difference of the sides."""
    return float(difference_of_sides(right_mm, left_mm))


def index_pct(case: Sides) -> float:
    """Symmetry index of the loads."""
    return float(symmetry_index_pct(case.right_load_n, case.left_load_n))
