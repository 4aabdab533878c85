"""The drawn case: a pressure map under one foot at the push, a second recording, and what follows."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.frontal import SIDES
from pedalwright.pressure import PressureMap, force_n
from pedalwright.pressure_summary import (
    centre_of_pressure_mm,
    contact_area_mm2,
    foot_regions,
    peak_pressure_kpa,
    region_shares,
)

ROWS, COLUMNS = 10, 4
ALONG_MM, THRESHOLD_KPA = 25.0, 10.0
PARTS = {"heel": (0, 3), "midfoot": (3, 6), "forefoot": (6, 8), "toes": (8, 10)}
REGIONS = tuple(f"{half} {part}" for part in PARTS for half in ("inner", "outer"))
SIGNS = (
    "I have diabetes, and under the ball of the foot there is a sore that does not close",
    "the forefoot has felt numb for weeks, walking as well",
    "the ball of the foot is swollen, hot and too sore to stand on since yesterday's fall",
)
NO_SIGNS = (
    "the ball of the foot burns after three hours, and is normal again as soon as the shoe is off",
    "no pain; I am curious",
    "I had new shoes a month ago, otherwise nothing",
)


@dataclass(frozen=True)
class Recording:
    """What the trainee is given; rows from the heel, columns from left to right, seen from above."""

    rider: str
    answer: str
    has_sign: bool
    side: str
    across_mm: float
    pressure_kpa: tuple[tuple[float, ...], ...]
    later_force_n: float
    later_peak_kpa: float

    @cached_property
    def pressure(self) -> PressureMap:
        """The map as the calculation package takes it."""
        return PressureMap(np.array(self.pressure_kpa), self.across_mm, ALONG_MM)


def draw(rng: np.random.Generator) -> Recording:
    """Draw a load on heel, outer border, ball and toes, with one place that bears most."""
    side = str(rng.choice(list(SIDES)))
    row, column = np.meshgrid(np.arange(ROWS) + 0.5, np.arange(COLUMNS) + 0.5, indexing="ij")
    bumps = [
        (1.5, 2.0, 1.1, rng.uniform(4, 22)),
        (4.6, 3.4, 1.3, rng.uniform(4, 12)),
        (7.0, rng.uniform(1.0, 3.0), 1.1, rng.uniform(28, 56)),
        (8.9, 0.9, 0.8, rng.uniform(10, 30)),
    ]
    map_kpa = sum(size * np.exp(-((row - r) ** 2) / 2 / s**2 - (column - c) ** 2 / 1.9) for r, c, s, size in bumps)
    spot = int(rng.choice([6, 7, 7, 8, 8, 1])), int(rng.integers(0, COLUMNS))
    map_kpa = np.round(rng.uniform(1.0, 1.5) * map_kpa + rng.uniform(-2, 2, map_kpa.shape)).clip(0)
    map_kpa[map_kpa == THRESHOLD_KPA] += rng.choice([-1, 1])
    map_kpa[spot] = round(map_kpa.max() * rng.uniform(1.25, 1.7))
    has_sign = bool(rng.random() < 0.5)
    first = Recording(
        rider=str(rng.choice(RIDERS)),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        side=side,
        across_mm=float(rng.integers(20, 25)),
        pressure_kpa=tuple(map(tuple, map_kpa[:, :: 1 if side == "right" else -1].tolist())),
        later_force_n=0.0,
        later_peak_kpa=0.0,
    )
    load = rng.uniform(0.72, 0.88) if rng.random() < 0.6 else rng.uniform(1.14, 1.3)
    eased = rng.uniform(*rng.choice(((0.76, 0.93), (1.07, 1.14))))
    return replace(
        first,
        later_force_n=float(round(total_n(first) * load)),
        later_peak_kpa=float(round(peak_kpa(first) * load * eased)),
    )


def clear(case: Recording) -> list[str]:
    """Reasons against a drawn map."""
    reasons = []
    cells = case.pressure.pressure_kpa
    if np.any(np.abs(cells - THRESHOLD_KPA) < 1):
        reasons.append("a cell lies on the threshold")
    highest = np.sort(cells.ravel())
    if highest[-1] - highest[-2] < 4:
        reasons.append("two places bear alike")
    if abs(change_pct(case, total_n(case))) < 4:
        reasons.append("the peak hardly changes")
    return reasons


def total_n(case: Recording) -> float:
    """Force on the whole map."""
    return float(force_n(case.pressure))


def peak_kpa(case: Recording) -> float:
    """Highest pressure of one cell."""
    return float(peak_pressure_kpa(case.pressure))


def area_cm2(case: Recording, threshold_kpa: float = THRESHOLD_KPA) -> float:
    """Area of the cells that bear more than a threshold."""
    return float(contact_area_mm2(case.pressure, threshold_kpa)) / 100


def regions(case: Recording) -> dict[str, np.ndarray]:
    """Cells of each region."""
    return foot_regions(case.pressure, case.side)


def spot_region(case: Recording) -> str:
    """Region of the cell with the highest pressure."""
    highest = case.pressure.pressure_kpa == peak_kpa(case)
    return next(name for name, cells in regions(case).items() if np.any(cells & highest))


def most_loaded_region(case: Recording) -> str:
    """Region that carries the largest force."""
    shares = region_shares(case.pressure, regions(case))
    return max(shares, key=lambda name: float(shares[name]))


def forefoot_share_pct(case: Recording) -> float:
    """Share of the force on the forefoot."""
    shares = region_shares(case.pressure, regions(case))
    return float(100 * (shares["inner forefoot"] + shares["outer forefoot"]))


def rows_share_pct(case: Recording, first: int, last: int) -> float:
    """Share of the force on some rows, counted from the heel."""
    cells = case.pressure.pressure_kpa
    return float(100 * cells[first:last].sum() / cells.sum())


def from_heel_mm(case: Recording) -> float:
    """Centre of pressure, from the end of the heel."""
    return float(centre_of_pressure_mm(case.pressure)[1]) + ROWS * ALONG_MM / 2


def change_pct(case: Recording, first_force_n: float) -> float:
    """Change of the peak for the same load."""
    return 100 * ((case.later_peak_kpa / case.later_force_n) / (peak_kpa(case) / first_force_n) - 1)
