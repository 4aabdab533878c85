"""The drawn case: both feet sitting and standing, and what follows for the foot in question."""

from dataclasses import dataclass

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.arch_load import arch_flexibility_mm_per_kn, arch_rigidity_index
from pedalwright.foot import ARCH_NORMS, arch_height_index
from pedalwright.footbed_tier import support_tier

NORM = ARCH_NORMS["standing"]
SIGNS = (
    "I have diabetes, and in the evening I find sores on my feet that I had not felt",
    "both soles have been numb since the winter",
    "since Monday the toes of this foot cannot be lifted",
)
NO_SIGNS = (
    "no pain, no illness; the shoes are new",
    "the soles feel hot on long climbs in summer, and normal again at the top",
    "I broke a toe as a child, and nothing since",
)


@dataclass(frozen=True)
class Foot:
    """One foot on the gauge."""

    total_mm: float
    truncated_mm: float
    sitting_mm: float
    standing_mm: float


@dataclass(frozen=True)
class Feet:
    """What the trainee is given."""

    rider: str
    answer: str
    has_sign: bool
    mass_kg: float
    side: str
    asked: Foot
    other: Foot


def draw(rng: np.random.Generator) -> Feet:
    """Draw both feet of one rider; the two arches differ by more than the gauge's error."""
    total_mm, share = rng.uniform(230, 282), rng.uniform(0.70, 0.76)
    away = rng.choice([-1, 1]) * rng.uniform(*rng.choice(((0.6, 0.72), (1.3, 2.1))))
    index = NORM.mean + away * NORM.standard_deviation
    asked = _foot(rng, total_mm, share, index)
    apart = rng.choice([-1, 1]) * rng.uniform(0.034, 0.05)
    has_sign = bool(rng.random() < 0.5)
    return Feet(
        rider=str(rng.choice(RIDERS)),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        mass_kg=float(rng.integers(54, 91)),
        side=str(rng.choice(["right", "left"])),
        asked=asked,
        other=_foot(rng, total_mm + rng.uniform(-3, 3), share, index + apart),
    )


def _foot(rng: np.random.Generator, total_mm: float, share: float, index: float) -> Foot:
    truncated_mm = round(total_mm * share)
    standing_mm = round(2 * truncated_mm * index) / 2
    return Foot(
        total_mm=float(round(total_mm)),
        truncated_mm=float(truncated_mm),
        sitting_mm=standing_mm + float(rng.integers(6, 13)) / 2,
        standing_mm=standing_mm,
    )


def clear(case: Feet) -> list[str]:
    """Reasons against drawn feet."""
    reasons = []
    away = away_sd(index_of(case.asked))
    if abs(abs(away) - 1) < 0.27:
        reasons.append("the class hangs on the last millimetre")
    if not 0.15 < index_of(case.other) < 0.6:
        reasons.append("the other foot is none")
    return reasons


def index_of(foot: Foot) -> float:
    """Arch height index, standing, by the truncated length."""
    return float(arch_height_index(foot.standing_mm, foot.truncated_mm))


def sitting_index_of(foot: Foot) -> float:
    """The same sitting."""
    return float(arch_height_index(foot.sitting_mm, foot.truncated_mm))


def away_sd(index: float) -> float:
    """Distance of an index from the mean of the norm, in standard deviations."""
    return (index - NORM.mean) / NORM.standard_deviation


def class_of(away: float) -> str:
    """Class of an arch by its distance from the mean; one standard deviation is the limit."""
    if abs(away) <= 1:
        return "medium"
    return "high" if away > 0 else "low"


def kept_pct(foot: Foot) -> float:
    """Share of the sitting arch that is left when standing."""
    return float(100 * arch_rigidity_index(index_of(foot), sitting_index_of(foot)))


def gives_mm_per_kn(foot: Foot, mass_kg: float) -> float:
    """How far the arch gives for each kilonewton."""
    return float(arch_flexibility_mm_per_kn(foot.sitting_mm, foot.standing_mm, mass_kg))


def tier_of(arch_class: str) -> str:
    """Support tier by the trade's habit."""
    return str(support_tier(arch_class))
