"""Contact points of a rider on a bicycle, saddle height rules, and the position that meets a target."""

from dataclasses import dataclass

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


@dataclass(frozen=True)
class Leg:
    """Lengths of a leg between joint centres; arrays describe many riders."""

    thigh_length_mm: Numbers
    shank_length_mm: Numbers
    ankle_to_pedal_mm: Numbers
    ankle_to_pedal_slope_deg: Numbers = 35.0


@dataclass(frozen=True)
class Position:
    """Where saddle, cranks and pedals hold the rider; arrays describe many positions."""

    saddle_height_mm: Numbers
    saddle_setback_mm: Numbers
    crank_length_mm: Numbers
    hip_above_saddle_mm: Numbers = 30.0
    hip_ahead_of_saddle_mm: Numbers = 0.0
    pedal_behind_ball_mm: Numbers = 0.0
    stance_width_mm: Numbers = 250.0


def saddle_point_mm(position: Position) -> Floats:
    """Place of the sitting point of the saddle."""
    height = checked("saddle_height_mm", position.saddle_height_mm, above=0)
    setback = checked("saddle_setback_mm", position.saddle_setback_mm)
    if np.any(np.abs(setback) >= height):
        raise OutOfRangeError(
            f"saddle_setback_mm: received {np.max(np.abs(setback)):g}; allowed: less than saddle_height_mm; "
            "check which of the two was measured"
        )
    return np.stack(np.broadcast_arrays(-setback, np.sqrt(height**2 - setback**2)), axis=-1)


def hip_position_mm(position: Position) -> Floats:
    """Place of the hip joint centre on the last axis (x, y)."""
    offset = np.stack(
        np.broadcast_arrays(
            checked("hip_ahead_of_saddle_mm", position.hip_ahead_of_saddle_mm),
            checked("hip_above_saddle_mm", position.hip_above_saddle_mm),
        ),
        axis=-1,
    )
    return np.asarray(saddle_point_mm(position) + offset)


def ankle_to_pedal(leg: Leg, position: Position) -> tuple[Floats, Floats]:
    """Length and slope below the sole of the line from ankle to pedal axle, foot placement included."""
    length = checked("ankle_to_pedal_mm", leg.ankle_to_pedal_mm, above=0)
    slope = np.radians(checked("ankle_to_pedal_slope_deg", leg.ankle_to_pedal_slope_deg, above=0, below=90))
    ahead = length * np.cos(slope) - checked("pedal_behind_ball_mm", position.pedal_behind_ball_mm)
    below = length * np.sin(slope)
    return np.hypot(ahead, below), np.degrees(np.arctan2(below, ahead))


SADDLE_RULES: tuple[str, ...] = (
    "inseam 109 %",
    "inseam 0.883",
    "trochanter 96 %",
    "trochanter 100 %",
    "knee regression",
)


def saddle_height_rule_mm(
    inseam_mm: Numbers,
    rule: str = "inseam 0.883",
    *,
    crank_length_mm: Numbers = 170.0,
    trochanter_height_mm: Numbers | None = None,
    knee_flexion_deg: Numbers = 30.0,
) -> Floats:
    """Saddle height above the bottom bracket that a rule of thumb gives."""
    inseam = checked("inseam_mm", inseam_mm, above=0)
    crank = checked("crank_length_mm", crank_length_mm, above=0)
    if rule == "inseam 109 %":
        return np.asarray(1.09 * inseam - crank)
    if rule == "inseam 0.883":
        return np.asarray(0.883 * inseam + 0 * crank)
    if rule in ("trochanter 96 %", "trochanter 100 %"):
        if trochanter_height_mm is None:
            raise OutOfRangeError("trochanter_height_mm: received nothing; allowed: above 0; measure it for this rule")
        share = 0.96 if "96" in rule else 1.0
        return np.asarray(share * checked("trochanter_height_mm", trochanter_height_mm, above=0) - crank)
    if rule == "knee regression":
        knee = checked("knee_flexion_deg", knee_flexion_deg)
        return np.asarray(10 * (22.1 + 0.896 * inseam / 10 - 0.15 * knee) - crank)
    raise OutOfRangeError(f"rule: received {rule!r}; allowed: {', '.join(SADDLE_RULES)}; choose one of them")
