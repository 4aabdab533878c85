"""Wrong ways to the answers: what each leads to, and what to say about it."""

from collections.abc import Callable
from typing import Any

import numpy as np

from autograde.cases import Misconception

from .legs import HALF, ROWS, Torques, effectiveness_pct, mean_nm, meter_share_pct, muscle_nm, share_pct

PAGE = "lever-tangency"
OPPOSITE = "overlooked that the other crank is opposite"
OPPOSITE_SUM = (
    "Your number is that of one pedal, or of both columns added row by row. The cranks are opposite: add to each row "
    "of the right leg the row of the left leg half a turn further."
)


def slip(
    task: str, name: str, label: str, predict: Callable[[Torques, Any], Any], feedback: str, credit: float = 0.0
) -> Misconception:
    """One wrong way; all of them are treated on the same page."""
    return Misconception(name, task, label, predict, feedback, PAGE, credit)


def left_later_nm(case: Torques, rows: int) -> float:
    """Torque of the left leg so many rows after the right crank's angle."""
    return case.left_nm[(case.asked_row + rows) % ROWS]


def same_row_sum(case: Torques) -> np.ndarray:
    """Both columns added row by row."""
    return np.add(case.right_nm, case.left_nm)


def driving_and_holding_nm(case: Torques) -> tuple[float, float]:
    """Sums of the right leg's torques above and below zero."""
    right = np.array(case.right_nm)
    return float(right[right > 0].sum()), float(right[right < 0].sum())


def unless_true(case: Torques, belief: str, applies: bool) -> str | None:
    """A belief about the muscles where it is not true."""
    return belief if applies else None


BOTH_LEGS = (
    slip(
        "left-at",
        "same-crank-angle",
        OPPOSITE,
        lambda case, _: left_later_nm(case, 0),
        "You read the left leg in the row of the right crank's angle. The left crank is half a turn further.",
    ),
    slip(
        "left-at",
        "quarter-turn",
        "read the left leg a quarter turn later",
        lambda case, _: left_later_nm(case, HALF // 2),
        "You read the left leg a quarter of a turn further. Opposite cranks are half a turn apart.",
        0.25,
    ),
    slip(
        "left-at",
        "other-column",
        "read the right leg's column",
        lambda case, _: case.right_nm[(case.asked_row + HALF) % ROWS],
        "The row is right, the column is that of the right leg. Right and left are never the same rider twice.",
        0.5,
    ),
    slip(
        "axle-torque",
        "difference",
        "took the left leg off the right one",
        lambda case, earlier: case.right_nm[case.asked_row] - earlier["left-at"],
        "You took one torque off the other. Both legs turn the same axle in the same direction; signs are kept and "
        "the two are added.",
    ),
    slip(
        "axle-torque",
        "averaged",
        "averaged left and right",
        lambda case, earlier: (case.right_nm[case.asked_row] + earlier["left-at"]) / 2,
        "You averaged the two legs. Torques on one axle add up.",
        0.25,
    ),
    slip(
        "axle-torque",
        "right-leg-only",
        "left the rising leg out",
        lambda case, _: case.right_nm[case.asked_row],
        "You gave the right leg's torque alone. The other leg turns or holds back the same axle at the same moment.",
    ),
)

EFFECTIVENESS = (
    slip(
        "leg-effectiveness",
        "share-of-all",
        "compared with the sum of all sizes",
        lambda case, _: 100 * driving_and_holding_nm(case)[0] / float(np.abs(case.right_nm).sum()),
        "You compared the driving torque with the sum of all sizes. Asked is what is left after the holding back, "
        "as a share of the driving torque.",
        0.25,
    ),
    slip(
        "leg-effectiveness",
        "loss-given",
        "gave the part that is held back",
        lambda case, _: -100 * driving_and_holding_nm(case)[1] / driving_and_holding_nm(case)[0],
        "You gave the part that is held back. Asked is the part that is left.",
        0.5,
    ),
    slip(
        "leg-effectiveness",
        "minus-signs-dropped",
        "left the torques below zero out",
        lambda case, _: 100.0,
        "You left out the rows with a minus sign, and then nothing is ever lost.",
    ),
    slip(
        "leg-effectiveness",
        "smoothness",
        "gave the mean over the peak",
        lambda case, _: 100 * mean_nm(case.right_nm) / max(case.right_nm),
        "You compared the mean with the peak. That says how smooth a stroke is, not how much is held back.",
    ),
    slip(
        "axle-effectiveness",
        "one-pedal",
        OPPOSITE,
        lambda case, _: effectiveness_pct(case.right_nm),
        OPPOSITE_SUM,
    ),
    slip(
        "axle-effectiveness",
        "row-by-row",
        OPPOSITE,
        lambda case, _: effectiveness_pct(same_row_sum(case)),
        OPPOSITE_SUM,
    ),
)

SHARES = (
    slip(
        "share",
        "other-leg",
        "gave the other leg's share",
        lambda case, _: 100 - share_pct(case),
        "This is the left leg's share. Say which leg a number belongs to, always.",
        0.5,
    ),
    slip(
        "share",
        "ratio-of-legs",
        "gave the ratio of the legs",
        lambda case, _: 100 * mean_nm(case.right_nm) / mean_nm(case.left_nm),
        "You compared the right leg with the left. A share compares it with both together.",
        0.25,
    ),
    slip(
        "share",
        "difference-of-legs",
        "gave the difference of the legs over their mean",
        lambda case, _: (
            200 * (mean_nm(case.right_nm) - mean_nm(case.left_nm)) / (mean_nm(case.right_nm) + mean_nm(case.left_nm))
        ),
        "You gave the difference of the legs over their mean: an index of symmetry, which makes the same two legs "
        "look quite different.",
        0.25,
    ),
    slip(
        "meter-share",
        "meter-sees-legs",
        "took the meter's halves for the legs",
        lambda case, _: share_pct(case),
        "You gave the true share of the right leg. The meter does not see it: in each half turn it adds what the "
        "other leg does on the way up.",
    ),
    slip(
        "meter-share",
        "other-half",
        "gave the other half of the turn",
        lambda case, _: 100 - meter_share_pct(case),
        "This is the half turn in which the left crank goes down.",
        0.5,
    ),
    slip(
        "meter-share",
        "row-by-row",
        OPPOSITE,
        lambda case, _: float(100 * same_row_sum(case)[:HALF].sum() / same_row_sum(case).sum()),
        "You added both columns row by row. The cranks are opposite, so the left leg's rows stand half a turn further.",
    ),
)

MUSCLES = (
    slip(
        "muscles",
        "weight-added",
        "added the weight once more",
        lambda case, _: case.right_nm[case.rising_row] + case.weight_nm,
        "You added the weight's torque to a reading that holds it already. Take it off, with its sign.",
        0.25,
    ),
    slip(
        "muscles",
        "sign-turned",
        "took the reading off the weight",
        lambda case, _: -muscle_nm(case),
        "The size fits, the sign does not: the reading is weight plus muscles, so muscles are reading minus weight.",
        0.5,
    ),
    slip(
        "muscles",
        "whole-reading",
        "put the whole reading down to the muscles",
        lambda case, _: case.right_nm[case.rising_row],
        "You put the whole reading down to the muscles. A limp leg holds the crank back too: it has weight.",
    ),
    slip(
        "muscles-do",
        "reading-for-muscles",
        "read the muscles from the sign of the pedal",
        lambda case, earlier: unless_true(case, "press", case.right_nm[case.rising_row] < 0 and earlier["muscles"] > 0),
        "A minus sign at the pedal does not mean that muscles press. Compare with what the weight alone would do.",
    ),
    slip(
        "muscles-do",
        "any-lift-drives",
        "took any lift for a drive",
        lambda case, _: unless_true(case, "lift-all", case.right_nm[case.rising_row] < 0),
        "You let the leg drive on the way up although the pedal still reads a minus sign. Lifting a part of the "
        "weight is not yet driving.",
    ),
    slip(
        "muscles-do",
        "rising-leg-idle",
        "took the rising leg to do nothing",
        lambda _case, earlier: "nothing" if abs(earlier["muscles"]) >= 0.3 else None,
        "You let the muscles rest, but your own number for them says otherwise.",
    ),
)

MISCONCEPTIONS = BOTH_LEGS + EFFECTIVENESS + SHARES + MUSCLES
