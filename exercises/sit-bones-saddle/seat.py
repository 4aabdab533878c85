"""The drawn case: imprints of two sit bones, a posture, saddles to choose from, and what follows from them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.pelvis import bearing_width_mm, bone_margin_mm
from pedalwright.seat import sit_bone_forces_n

DENT_MM = 28.0
NARROWS_MM_PER_DEG = 1.6
MARGIN_MM = 5.0
STEP_MM = 12.0
SIGNS = (
    "I am numb between the legs after every ride, and it lasts into the evening",
    "since the spring there is numbness where I sit, and lately something has changed in bed",
    "I am numb where I sit, and for a week I have had trouble starting to pass water",
)
NO_SIGNS = (
    "the sit bones are sore after four hours, and fine the next morning",
    "no pain, no numbness; the saddle came with the bicycle",
    "my saddle squeaks and slides, otherwise nothing",
)


@dataclass(frozen=True)
class Seat:
    """What the trainee is given."""

    rider: str
    answer: str
    has_sign: bool
    left_mm: tuple[float, ...]
    right_mm: tuple[float, ...]
    roll_deg: float
    trunk_deg: float
    treads_mm: tuple[float, ...]
    overall_mm: tuple[float, ...]
    own_tread_mm: float
    own_overall_mm: float
    load_n: float
    load_to: str
    load_across_mm: float


def draw(rng: np.random.Generator) -> Seat:
    """Draw one rider; sit bones 92 to 150 mm apart, unrelated to anything else."""
    width_mm, shift_mm = rng.uniform(92, 150), rng.uniform(4, 11) * rng.choice([-1, 1])
    roll_deg = float(rng.integers(12, 27))
    left = np.round(width_mm / 2 + shift_mm + rng.uniform(-2, 2, 3))
    right = np.round(width_mm / 2 - shift_mm + rng.uniform(-2, 2, 3))
    bearing_mm = float(bearing_width_mm(np.mean(left + right), roll_deg))
    first_mm = bearing_mm + 2 * MARGIN_MM + rng.uniform(2.5, 9.5) - STEP_MM * rng.integers(0, 4)
    treads = np.round(first_mm + STEP_MM * np.arange(4))
    overall = treads + rng.integers(26, 35, 4)
    own_mm = float(round(bearing_mm + rng.uniform(-24, 4)))
    has_sign = bool(rng.random() < 0.5)
    return Seat(
        rider=str(rng.choice(RIDERS)),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        left_mm=tuple(left.tolist()),
        right_mm=tuple(right.tolist()),
        roll_deg=roll_deg,
        trunk_deg=float(rng.integers(36, 56)),
        treads_mm=tuple(treads.tolist()),
        overall_mm=tuple(overall.tolist()),
        own_tread_mm=own_mm,
        own_overall_mm=own_mm + float(rng.integers(26, 35)),
        load_n=float(10 * rng.integers(24, 43)),
        load_to=str(rng.choice(["right", "left"])),
        load_across_mm=float(rng.integers(6, 15)),
    )


def clear(case: Seat) -> list[str]:
    """Reasons against a drawn rider."""
    reasons = []
    needed = tread_needed_mm(bearing_of(case, sit_bone_width_mm(case)))
    if min(case.treads_mm) < 60:
        reasons.append("a saddle too narrow to be one")
    if min(abs(tread - needed) for tread in case.treads_mm) < 2.2:
        reasons.append("the choice of the saddle hangs on the last millimetres")
    if min(abs(width - needed) for width in case.overall_mm) < 2.2:
        reasons.append("the wrong choice of the saddle hangs on the last millimetres")
    if abs(margin_mm(case, needed - 2 * MARGIN_MM)) < 2:
        reasons.append("the bones stand on the edge of the saddle")
    return reasons


def sit_bone_width_mm(case: Seat) -> float:
    """Mean distance between the middles of the dents."""
    return float(np.mean(np.add(case.left_mm, case.right_mm)))


def bearing_of(case: Seat, width_mm: float) -> float:
    """Width the pelvis bears on in the rider's posture."""
    return float(bearing_width_mm(width_mm, case.roll_deg))


def tread_needed_mm(bearing_mm: float) -> float:
    """Bearing width with a margin on each side."""
    return bearing_mm + 2 * MARGIN_MM


def margin_mm(case: Seat, bearing_mm: float) -> float:
    """How far the bones lie inside the edges of the own saddle."""
    return float(bone_margin_mm(case.own_tread_mm, bearing_mm))


def first_that_fits(widths_mm: Sequence[float], needed_mm: float) -> str:
    """Number of the narrowest saddle at least as wide as needed; 5 for none of the four."""
    return str(next((i + 1 for i, width in enumerate(widths_mm) if width >= needed_mm), len(widths_mm) + 1))


def right_load_n(case: Seat, bearing_mm: float) -> float:
    """Load under the right sit bone."""
    across_mm = case.load_across_mm if case.load_to == "right" else -case.load_across_mm
    return float(sit_bone_forces_n(case.load_n, across_mm, bearing_mm)[1])
