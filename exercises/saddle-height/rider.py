"""The drawn case: an inseam, a saddle, a knee measured at the bottom of the stroke, and what follows from them."""

from dataclasses import dataclass

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.conventions import flexion_from_included_deg
from pedalwright.rule_outcomes import DEFAULT_WINDOW, KNEE_FLEXION_WINDOWS
from pedalwright.saddle_rules import SADDLE_RULES, saddle_height_rule_mm

CRANKS_MM = (165.0, 167.5, 170.0, 172.5, 175.0)
TARGETS_DEG = (28.0, 30.0, 32.0)
TRIAL_MM = 20.0
OTHER_FITTER_DEG = 6.0
WINDOW = KNEE_FLEXION_WINDOWS[DEFAULT_WINDOW]
FROM_BRACKET, FROM_PEDAL = "inseam 0.883", "inseam 109 %"
# Away from the edges of the window, from a right angle's half, and from where two slips would give the same number.
FLEXION_BANDS_DEG = ((14.5, 17.6), (20.4, 23.3), (36.7, 39.6), (42.4, 43.8), (46.2, 47.0))
DEG_A_MM_BANDS = ((0.25, 0.275), (0.37, 0.455))
FROM_TARGET_DEG = 8.6
RULE_AWAY_MM = (8.5, 20.0)
SIGNS = (
    "since the flight home one calf is swollen and warm",
    "the knee catches and locks, and has to be shaken free",
    "with every change of the saddle today the pain in the knee has grown",
)
NO_SIGNS = (
    "no pain; I just bought the bicycle from a friend",
    "the thighs burn on long climbs, and that is gone at the top",
    "I broke a collar bone years ago, and nothing since",
)


@dataclass(frozen=True)
class Rider:
    """What the trainee is given."""

    rider: str
    answer: str
    has_sign: bool
    inseam_cm: float
    crank_length_mm: float
    saddle_height_mm: float
    included_deg: tuple[float, ...]
    standing_included_deg: float
    trial: str
    after_trial_included_deg: float
    target_deg: float


def draw(rng: np.random.Generator) -> Rider:
    """Draw one rider and measure."""
    inseam_cm = round(float(rng.uniform(73, 92)), 1)
    flexion_deg = rng.uniform(*rng.choice(FLEXION_BANDS_DEG))
    target_deg = float(rng.choice([each for each in TARGETS_DEG if abs(flexion_deg - each) >= FROM_TARGET_DEG]))
    slope = rng.uniform(*rng.choice(DEG_A_MM_BANDS))
    included = np.round(180 - flexion_deg + rng.uniform(-2, 2, 3))
    rule_says_mm = (flexion_deg - target_deg) / slope + rng.choice([-1, 1]) * rng.uniform(*RULE_AWAY_MM)
    raised = bool(flexion_deg > target_deg)
    has_sign = bool(rng.random() < 0.5)
    return Rider(
        rider=str(rng.choice(RIDERS)),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        inseam_cm=inseam_cm,
        crank_length_mm=float(rng.choice(CRANKS_MM)),
        saddle_height_mm=float(round(8.83 * inseam_cm - rule_says_mm)),
        included_deg=tuple(included.tolist()),
        standing_included_deg=float(rng.integers(172, 177)),
        trial="raised" if raised else "lowered",
        after_trial_included_deg=float(round(2 * (included.mean() + (1 if raised else -1) * slope * TRIAL_MM)) / 2),
        target_deg=target_deg,
    )


def clear(case: Rider) -> list[str]:
    """Reasons against a drawn rider."""
    reasons = []
    flexion = flexion_deg(case)
    if abs(flexion - case.target_deg) < 4:
        reasons.append("the knee is too near the wanted flexion")
    if abs(change_mm(flexion, per_10_mm_deg(case), case.target_deg)) > 70:
        reasons.append("the saddle would have to move too far")
    if (
        min(abs(flexion - edge) for edge in sure_limits_deg()) < 1.3
        or min(abs(flexion - edge) for edge in (WINDOW.low_deg, WINDOW.high_deg)) < 1.3
    ):
        reasons.append("the knee lies on the edge of a window")
    return reasons


def rule_mm(case: Rider, rule: str) -> float:
    """Height of the saddle above the bottom bracket that a rule gives."""
    return float(saddle_height_rule_mm(10 * case.inseam_cm, rule, crank_length_mm=case.crank_length_mm))


def to_pedal_mm(case: Rider) -> float:
    """What the rule of the pedal gives before the crank is taken off."""
    return SADDLE_RULES[FROM_PEDAL].factor * 10 * case.inseam_cm


def flexion_deg(case: Rider) -> float:
    """Mean knee flexion at the bottom of the stroke."""
    return float(flexion_from_included_deg(np.mean(case.included_deg)))


def per_10_mm_deg(case: Rider) -> float:
    """Degrees of knee flexion for each 10 mm of saddle height."""
    return abs(case.after_trial_included_deg - float(np.mean(case.included_deg))) / TRIAL_MM * 10


def change_mm(flexion: float, per_10_mm: float, target_deg: float) -> float:
    """Change of the saddle height that brings the wanted flexion, up positive."""
    return (flexion - target_deg) / per_10_mm * 10


def sure_limits_deg() -> tuple[float, float]:
    """Flexion below and above which a knee is outside the window whoever measures."""
    return WINDOW.low_deg - OTHER_FITTER_DEG, WINDOW.high_deg + OTHER_FITTER_DEG


def in_window(flexion: float) -> str:
    """What can be said of the window, the difference between fitters counted in."""
    low, high = sure_limits_deg()
    if not low <= flexion <= high:
        return "outside"
    sure = WINDOW.low_deg + OTHER_FITTER_DEG <= flexion <= WINDOW.high_deg - OTHER_FITTER_DEG
    return "inside" if sure else "open"


def at_face_value(flexion: float) -> str:
    """What someone says of the window who takes the number as exact."""
    return "inside" if WINDOW.low_deg <= flexion <= WINDOW.high_deg else "outside"
