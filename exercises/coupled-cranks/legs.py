"""The drawn case: torques of both legs, each over its own crank's angle, and what the cranks make of them.

Records are drawn around published mean profiles. The torque of the leg's weight alone is that of the calculation
package's teaching leg, scaled to the rider's mass and crank.
"""

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from autograde.cases.pedal_records import draw_pedal_record, own_manner
from pedalwright.force import (
    both_legs_torque_nm,
    crank_torque_nm,
    mean_over_turn,
    resolve_on_crank,
    torque_effectiveness_pct,
)
from pedalwright.leg_weight import leg_weight_torque_nm
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION, TEACHING_SEGMENTS
from pedalwright.recorded import recorded_pedal_angle

ROWS = 12
STEP_DEG = 360 / ROWS
ANGLES_DEG = np.arange(ROWS) * STEP_DEG
HALF = ROWS // 2

RIDERS = ("Rowan", "Hazel", "Alder", "Linden", "Willow", "Aspen", "Juniper", "Maple", "Olive", "Laurel")
WISHES = (
    "wants to learn to pull up, because the numbers on the way up have a minus sign",
    "rides with a meter on the axle and is worried, because it shows one leg weaker than the pedals do",
    "was told that a perfect rider has an effectiveness of 100 % at every pedal",
)
CRANKS_MM = (165.0, 167.5, 170.0, 172.5, 175.0)
TEACHING_MASS_KG = 70.0
ASKED_ROWS = (2, 3, 4, 8, 9, 10)
RISING_ROWS = (7, 8, 9, 10)
OTHER_LEG = ((0.80, 0.92), (1.08, 1.20))
MUSCLES_NM = 1.0


@dataclass(frozen=True)
class Torques:
    """What the trainee is given."""

    rider: str
    wish: str
    crank_length_mm: float
    mass_kg: float
    right_nm: tuple[float, ...]
    left_nm: tuple[float, ...]
    asked_row: int
    rising_row: int
    weight_nm: float

    @cached_property
    def at_axle_nm(self) -> np.ndarray:
        """Torque at the axle by the right crank's angle."""
        return both_legs_torque_nm(self.right_nm, self.left_nm)


def draw(rng: np.random.Generator) -> Torques:
    """Draw both legs of one rider."""
    crank_mm, mass_kg = float(rng.choice(CRANKS_MM)), float(rng.integers(54, 91))
    forward_n, down_n = draw_pedal_record(rng, ANGLES_DEG)
    right = crank_torque_nm(resolve_on_crank(forward_n, -down_n, ANGLES_DEG).tangential_force_n, crank_mm)
    left = right * rng.uniform(*rng.choice(OTHER_LEG)) + own_manner(rng, ANGLES_DEG, 1.2)
    scale = mass_kg / TEACHING_MASS_KG * crank_mm / float(TEACHING_POSITION.crank_length_mm)
    weight = scale * weight_at_rising_rows_nm()
    rising = pick(rng, np.abs(right[list(RISING_ROWS)] - weight) > MUSCLES_NM + 0.1)
    # Opposite the asked row the legs differ by more than the pedal's repeatability, so that columns cannot be mixed up.
    opposite = (np.array(ASKED_ROWS) + HALF) % ROWS
    asked = pick(rng, np.abs(right - left)[opposite] > 0.5 + 0.021 * np.abs(left)[opposite])
    return Torques(
        rider=str(rng.choice(RIDERS)),
        wish=str(rng.choice(WISHES)),
        crank_length_mm=crank_mm,
        mass_kg=mass_kg,
        right_nm=tuple(np.round(right, 1).tolist()),
        left_nm=tuple(np.round(left, 1).tolist()),
        asked_row=ASKED_ROWS[asked],
        rising_row=RISING_ROWS[rising],
        weight_nm=round(float(weight[rising]), 1),
    )


def pick(rng: np.random.Generator, fair: np.ndarray) -> int:
    """One of the fair places; any place when none is fair."""
    places = np.flatnonzero(fair)
    return int(rng.choice(places if places.size else len(fair)))


@cache
def weight_at_rising_rows_nm() -> np.ndarray:
    """Torque of the teaching leg's weight on the way up."""
    return leg_weight_torque_nm(
        TEACHING_LEG, TEACHING_POSITION, recorded_pedal_angle(), TEACHING_SEGMENTS, ANGLES_DEG[list(RISING_ROWS)]
    )


def clear(case: Torques) -> list[str]:
    """Reasons against a drawn rider."""
    reasons = []
    if min(mean_nm(case.right_nm), mean_nm(case.left_nm)) < 3:
        reasons.append("the effort is too small to tell the legs apart")
    if min(min(case.right_nm), min(case.left_nm)) > -1.0:
        reasons.append("no leg holds back on the way up")
    if abs(muscle_nm(case)) < MUSCLES_NM:
        reasons.append("the muscles do too little either way")
    if abs(share_pct(case) - 50) < 1.5:
        reasons.append("the legs do nearly the same")
    return reasons


def mean_nm(curve: tuple[float, ...]) -> float:
    """Mean torque of a leg."""
    return float(mean_over_turn(curve))


def left_at_asked_nm(case: Torques) -> float:
    """Torque of the left leg when the right crank is at the asked angle."""
    return case.left_nm[(case.asked_row + HALF) % ROWS]


def effectiveness_pct(curve: tuple[float, ...] | np.ndarray) -> float:
    """Net torque as a share of the driving torque."""
    return float(torque_effectiveness_pct(curve))


def share_pct(case: Torques) -> float:
    """Share of the right leg in the work of both."""
    right, left = mean_nm(case.right_nm), mean_nm(case.left_nm)
    return 100 * right / (right + left)


def meter_share_pct(case: Torques) -> float:
    """What a meter on the axle calls the right leg's share: the half turn in which the right crank goes down."""
    return float(100 * case.at_axle_nm[:HALF].sum() / case.at_axle_nm.sum())


def muscle_nm(case: Torques) -> float:
    """What the right leg's muscles add to the torque of its weight on the way up."""
    return case.right_nm[case.rising_row] - case.weight_nm


def what_muscles_do(case: Torques, muscle: float) -> str:
    """In words, from the muscles' part."""
    if abs(muscle) < 0.3:
        return "nothing"
    if muscle < 0:
        return "press"
    return "lift-all" if case.right_nm[case.rising_row] > 0 else "lift-part"
