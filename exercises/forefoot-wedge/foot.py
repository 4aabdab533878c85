"""The drawn case: one forefoot on a gauge, one shoe, and what follows from the measures."""

from dataclasses import dataclass

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.forefoot import forefoot_tilt_deg, tilt_left_deg, wedge_angle_deg, wedge_edge

WEDGES_MM = (1.0, 1.5, 2.0)
FIRST_SHARE = 0.5
SIGNS = (
    "I have diabetes and often do not notice when a shoe has rubbed my foot sore",
    "for a week I have not been able to lift the toes of this foot, and it slaps when I walk",
    "both feet have felt numb for months, on and off the bicycle",
)
NO_SIGNS = (
    "no pain, no illness, both feet feel normal",
    "cold feet on winter rides, warm and normal again indoors",
    "an ankle sprained at school, and nothing since",
)


@dataclass(frozen=True)
class Forefoot:
    """What the trainee is given."""

    rider: str
    side: str
    answer: str
    has_sign: bool
    inner_height_mm: float
    outer_height_mm: float
    gauge_width_mm: float
    shoe_width_mm: float
    wedge_mm: float


def draw(rng: np.random.Generator) -> Forefoot:
    """Draw one foot; outer edges that stand higher are drawn more often than they are met."""
    gauge_mm = float(rng.integers(68, 87))
    rise_mm = round(2 * gauge_mm * np.tan(np.radians(rng.uniform(3.5, 10.0)))) / 2
    resting_mm = float(rng.integers(4, 25)) / 2
    varus = bool(rng.random() < 0.65)
    has_sign = bool(rng.random() < 0.5)
    return Forefoot(
        rider=str(rng.choice(RIDERS)),
        side=str(rng.choice(["right", "left"])),
        answer=str(rng.choice(SIGNS if has_sign else NO_SIGNS)),
        has_sign=has_sign,
        inner_height_mm=resting_mm + (rise_mm if varus else 0.0),
        outer_height_mm=resting_mm + (0.0 if varus else rise_mm),
        gauge_width_mm=gauge_mm,
        shoe_width_mm=gauge_mm + float(rng.integers(12, 23)),
        wedge_mm=float(rng.choice(WEDGES_MM)),
    )


def clear(case: Forefoot) -> list[str]:
    """Reasons against a drawn foot."""
    reasons = []
    fitting = wedges_in(case, FIRST_SHARE * abs(tilt_deg(case)))
    if not 2 <= int(fitting) <= 6:
        reasons.append("too few or too many wedges")
    if not 0.2 <= fitting % 1 <= 0.8:
        reasons.append("the number of wedges hangs on the last half millimetre")
    return reasons


def rise_mm(case: Forefoot) -> float:
    """How much higher the inner edge stands than the outer one."""
    return case.inner_height_mm - case.outer_height_mm


def tilt_deg(case: Forefoot) -> float:
    """Tilt of the forefoot, varus positive."""
    return float(forefoot_tilt_deg(case.inner_height_mm, case.outer_height_mm, case.gauge_width_mm))


def edge_of(tilt: float) -> str:
    """Under which edge the thick side of a wedge goes."""
    return str(wedge_edge(tilt))


def one_wedge_deg(case: Forefoot) -> float:
    """Angle of one wedge in this shoe."""
    return float(wedge_angle_deg(case.wedge_mm, case.shoe_width_mm))


def wedges_in(case: Forefoot, angle_deg: float) -> float:
    """How many wedges on top of one another make an angle in this shoe."""
    return float(np.tan(np.radians(angle_deg)) * case.shoe_width_mm / case.wedge_mm)


def first_stack_mm(case: Forefoot, tilt: float) -> float:
    """Height of the whole wedges that fill at most half of the tilt."""
    return int(wedges_in(case, FIRST_SHARE * abs(tilt))) * case.wedge_mm


def left_over_deg(case: Forefoot, tilt: float, edge: str, stack_mm: float) -> float:
    """Tilt that stays unfilled."""
    if edge == "none":
        return tilt
    return float(tilt_left_deg(tilt, stack_mm, case.shoe_width_mm, edge))
