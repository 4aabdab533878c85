"""The drawn case: one invented rider's pedal record, and what follows from it.

The records are drawn around published mean profiles (`park_caldwell_umberger_2022`, `kautz_1991`), shifted,
scaled and bent a little for each rider.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from autograde.cases.pedal_records import draw_pedal_record
from pedalwright.force import (
    CrankForce,
    crank_torque_nm,
    mean_over_turn,
    power_w,
    resolve_on_crank,
    work_by_sector_j,
)

ROWS = 16
STEP_DEG = 360 / ROWS
ANGLES_DEG = np.arange(ROWS) * STEP_DEG

RIDERS = ("Rowan", "Hazel", "Alder", "Linden", "Willow", "Aspen", "Juniper", "Maple", "Olive", "Laurel")
WISHES = (
    "asks whether pulling up on the way up would make the ride faster",
    "wants the saddle moved forward, because a friend gained speed that way",
    "compared this record with one from another pedal and is worried by the difference",
    "feels strong on climbs and wants to know where in the turn the strength goes",
)
PARTS_DEG = ((45.0, 135.0), (0.0, 90.0), (90.0, 180.0))
CRANKS_MM = (165.0, 167.5, 170.0, 172.5, 175.0)


@dataclass(frozen=True)
class Record:
    """What the trainee is given, in the numbers of the table."""

    rider: str
    wish: str
    crank_length_mm: float
    cadence_rpm: float
    forward_force_n: tuple[float, ...]
    down_force_n: tuple[float, ...]
    asked_angle_deg: float
    part_deg: tuple[float, float]

    @property
    def lever_m(self) -> float:
        """Crank length in metres."""
        return self.crank_length_mm / 1000

    @cached_property
    def on_crank(self) -> CrankForce:
        """Tangential, radial and whole push at each row."""
        return resolve_on_crank(np.array(self.forward_force_n), -np.array(self.down_force_n), ANGLES_DEG)

    @cached_property
    def torque_nm(self) -> np.ndarray:
        """Torque at each row."""
        return crank_torque_nm(self.on_crank.tangential_force_n, self.crank_length_mm)

    @cached_property
    def works_j(self) -> np.ndarray:
        """Work in each sector."""
        return work_by_sector_j(self.torque_nm, ROWS)

    def asked_row(self) -> int:
        """Row of the asked crank angle."""
        return round(self.asked_angle_deg / STEP_DEG)

    def part_rows(self) -> np.ndarray:
        """Rows of the part of the turn for the index of effectiveness."""
        first, last = self.part_deg
        return np.arange(round(first / STEP_DEG), round(last / STEP_DEG) + 1)


def draw(rng: np.random.Generator) -> Record:
    """Draw one rider's record."""
    forward, down = draw_pedal_record(rng, ANGLES_DEG)
    return Record(
        rider=str(rng.choice(RIDERS)),
        wish=str(rng.choice(WISHES)),
        crank_length_mm=float(rng.choice(CRANKS_MM)),
        cadence_rpm=float(rng.integers(68, 99)),
        forward_force_n=tuple(forward.tolist()),
        down_force_n=tuple(down.tolist()),
        asked_angle_deg=_slanting_row_deg(rng, forward, down),
        part_deg=PARTS_DEG[int(rng.integers(len(PARTS_DEG)))],
    )


def _slanting_row_deg(rng: np.random.Generator, forward: np.ndarray, down: np.ndarray) -> float:
    """Choose a row where the usual wrong ways lead to clearly different values, if there is one."""
    cos, sin = np.cos(np.radians(ANGLES_DEG)), np.sin(np.radians(ANGLES_DEG))
    whole = np.hypot(forward, down)
    ways = (forward * cos + down * sin, forward * sin + down * cos, forward * cos - down * sin, down, whole)
    gap = np.diff(np.sort(np.stack(ways), axis=0), axis=0).min(axis=0)
    rows = np.flatnonzero(gap > np.maximum(0.025 * whole, 3.0))
    return float(ANGLES_DEG[int(rng.choice(rows if rows.size else ROWS))])


def clear(record: Record) -> list[str]:
    """Reasons against a drawn record."""
    reasons = []
    works = np.sort(record.works_j)
    if works[-1] < 1.02 * works[-2]:
        reasons.append("two sectors do nearly the same work")
    if not 60 <= both_legs_power_w(record) <= 420:
        reasons.append("the power is not that of an everyday rider")
    if max(record.down_force_n) > 650 or min(record.down_force_n) < -90:
        reasons.append("the forces are not those of a seated rider")
    if abs(opposite_torque_nm(record, best_sector(record))) < 0.6:
        reasons.append("the rising leg does too little either way")
    return reasons


def asked_torque_nm(record: Record) -> float:
    """Torque at the asked crank angle."""
    return float(record.torque_nm[record.asked_row()])


def best_sector(record: Record) -> str:
    """Number of the sector with the most useful work."""
    return number_of_largest(record.works_j)


def sector_work_j(record: Record, sector: str) -> float:
    """Useful work in a sector."""
    return float(record.works_j[int(sector) - 1])


def mean_torque_nm(record: Record) -> float:
    """Mean torque of the right leg over the turn."""
    return float(mean_over_turn(record.torque_nm))


def both_legs_power_w(record: Record) -> float:
    """Mean power of both legs when the left is the right leg's twin."""
    return 2 * float(power_w(mean_torque_nm(record), record.cadence_rpm))


def effectiveness_pct(record: Record) -> float:
    """Index of effectiveness over the stated rows."""
    parts, rows = record.on_crank, record.part_rows()
    return float(100 * parts.tangential_force_n[rows].sum() / parts.resultant_force_n[rows].sum())


def opposite_torque_nm(record: Record, sector: str) -> float:
    """Mean torque of the left leg while the right crank crosses a sector."""
    return mean_over_sector(record.torque_nm, int(sector) - 1 + ROWS // 2)


def opposite_leg(torque_nm: float) -> str:
    """What the left leg does, from its torque."""
    if abs(torque_nm) < 0.2:
        return "nothing"
    return "drives" if torque_nm > 0 else "holds-back"


def mean_over_sector(rows: np.ndarray, sector: int) -> float:
    return float((rows[sector % ROWS] + rows[(sector + 1) % ROWS]) / 2)


def number_of_largest(works: np.ndarray) -> str:
    return str(int(np.argmax(works)) + 1)
