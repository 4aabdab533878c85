"""The case family pedal-force-record: one record by hand, and a record of its own."""

import math
import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("pedal-force-record")
Record = sys.modules["_pedalwright_case_pedal_force_record.record"].Record

# A record and its table as they are printed, and the columns of a spreadsheet beside it. The literal results were
# worked out with awk from the same table, outside this project's code.
FORWARD = [6, 25, 53, 80, 93, 84, 52, 16, -9, -19, -10, 1, 1, -6, -10, -6]
DOWN = [19, 72, 152, 221, 259, 261, 239, 209, 169, 118, 60, 36, 47, 62, 54, 28]
COS = [1, 0.924, 0.707, 0.383, 0, -0.383, -0.707, -0.924, -1, -0.924, -0.707, -0.383, 0, 0.383, 0.707, 0.924]
SIN = [0, 0.383, 0.707, 0.924, 1, 0.924, 0.707, 0.383, 0, -0.383, -0.707, -0.924, -1, -0.924, -0.707, -0.383]
CRANK_M, CADENCE_RPM = 0.175, 82
WILLOW = Record("Willow", "wonders", 175.0, 82.0, tuple(FORWARD), tuple(DOWN), 112.5, (45.0, 135.0))

BY_AWK = {
    "torque": 36.5728,
    "sector": "4",
    "sector-work": 16.9673,
    "mean-torque": 9.25448,
    "power": 158.937,
    "effectiveness": 82.3517,
    "opposite-torque": -7.05621,
    "opposite-leg": "holds-back",
}


def mark(sheet):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, WILLOW, sheet)


def spreadsheet():
    """A trainee's columns: whole newtons, torques to a tenth, as on paper."""
    useful = [round(f * c + d * s) for f, d, c, s in zip(FORWARD, DOWN, COS, SIN, strict=True)]
    whole = [round(math.sqrt(f * f + d * d)) for f, d in zip(FORWARD, DOWN, strict=True)]
    sums = [useful[n] + useful[(n + 1) % 16] for n in range(16)]
    best = sums.index(max(sums))
    mean = round(sum(useful) / 16 * CRANK_M, 1)
    opposite = round(sums[(best + 8) % 16] / 2 * CRANK_M, 1)
    return {
        "torque": f"{useful[5] * CRANK_M:.1f} N m",
        "sector": f"sector {best + 1}",
        "sector-work": f"{round(sums[best] / 2 * CRANK_M, 1)} * 0.3927 J",
        "mean-torque": f"{mean} N m",
        "power": f"2 * {mean} * {round(CADENCE_RPM * 6.283 / 60, 2)} W",
        "effectiveness": f"{sum(useful[2:7])}/{sum(whole[2:7])}",
        "opposite-torque": f"{opposite} N m".replace("-", "−"),
        "opposite-leg": "B" if opposite < 0 else "A",
    }


def test_the_key_is_what_another_program_gives():
    key = key_values(FAMILY.tasks, WILLOW)
    assert key == {
        task: pytest.approx(value, rel=5e-6) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_with_paper_rounding_earns_full_marks():
    sheet = spreadsheet()
    assert sheet["torque"] == "36.6 N m"
    assert sheet["sector"] == "sector 4"
    assert sheet["effectiveness"] == "980/1190"
    result = mark(sheet)
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (16.0, 20.0)


@pytest.mark.parametrize(
    ("task", "text", "name", "marks"),
    [
        ("torque", "274.18 * 0.175 N m", "whole-push", 0.0),
        ("torque", "261 * 0.175 N m", "down-force-only", 0.0),
        ("torque", "(84 * 0.924 - 261 * 0.383) * 0.175 N m", "sine-cosine-swapped", 0.5),
        ("torque", "(84 * (-0.383) - 261 * 0.924) * 0.175 N m", "sign-of-down-force", 0.5),
        ("torque", "209 * 0.350 N m", "crank-diameter", 0.5),
        ("torque", "209 * 175 N m", "millimetres-as-metres", 1.0),
        ("torque", "209 N m", "lever-forgotten", 0.0),
        ("sector", "5", "greatest-push", 0.0),
        ("sector", "12", "counted-from-bottom", 1.0),
        ("sector-work", "43.2 * 22.5 J", "degrees-for-radians", 1.0),
        ("sector-work", "43.2 J", "torque-as-work", 0.0),
        ("sector-work", "33.9 J", "crank-diameter", 0.5),
        ("sector-work", "43.2 * 6.283 J", "whole-turn-angle", 0.5),
        ("mean-torque", "22.69 N m", "whole-push", 0.0),
        ("mean-torque", "15.04 N m", "rising-half-as-push", 0.75),
        ("mean-torque", "12.15 N m", "rising-half-left-out", 0.75),
        ("mean-torque", "24.10 N m", "falling-half-only", 0.0),
        ("mean-torque", "18.51 N m", "crank-diameter", 0.75),
        ("mean-torque", "52.9 N m", "lever-forgotten", 0.0),
        ("power", "79.5 W", "one-leg-only", 1.0),
        ("power", "318 W", "counted-legs-twice", 1.0),
        ("power", "25.3 W", "two-pi-forgotten", 0.5),
        ("power", "1518 W", "cadence-as-radians", 0.0),
        ("power", "9536 W", "per-minute", 0.5),
        ("effectiveness", "1190/980", "ratio-inverted", 0.5),
        ("effectiveness", "17.6 %", "lost-share", 0.5),
        ("effectiveness", "40.8 %", "whole-turn-index", 1.0),
        ("effectiveness", "1132/1190", "down-force-only", 0.0),
        ("opposite-torque", "43.2 N m", "same-crank-angle", 0.0),
        ("opposite-torque", "7.1 N m", "sign-turned", 0.5),
        ("opposite-torque", "0 N m", "rising-leg-idle", 0.0),
        ("opposite-torque", "6.49 N m", "quarter-turn", 0.5),
        ("opposite-leg", "A", "rising-leg-always-drives", 0.0),
        ("opposite-leg", "C", "rising-leg-idle", 0.0),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name, marks):
    result = mark({**spreadsheet(), task: text})[task]
    assert (result.state, result.misconception, result.marks) == (State.MISCONCEPTION, name, marks)


def test_another_sector_carries_through():
    # sector 5: mean of 259.00 and 208.99 N, so 16.08 J; left leg in sector 13: mean of −47.00 and −59.58 N, −9.33 N m
    result = mark({**spreadsheet(), "sector": "5", "sector-work": "16.1 J", "opposite-torque": "-9.33 N m"})
    assert result["sector"].misconception == "greatest-push"
    assert result["sector-work"].state is State.IN_CONSEQUENCE
    assert result["opposite-torque"].state is State.IN_CONSEQUENCE
    assert result["opposite-leg"].state is State.CORRECT
    assert result.marks == 14.0


def test_slips_are_recognised_from_an_own_sector_and_mean():
    result = mark(
        {
            **spreadsheet(),
            "sector": "5",
            "sector-work": "(259 + 209) / 2 * 0.175 * 22.5 J",
            "opposite-torque": "9.33 N m",
            "opposite-leg": "A",
            "mean-torque": "12.15 N m",
            "power": "12.15 * 8.587 W",
        }
    )
    names = {each.task: each.misconception for each in result.results if each.state is State.MISCONCEPTION}
    assert names == {
        "sector": "greatest-push",
        "sector-work": "degrees-for-radians",
        "opposite-torque": "sign-turned",
        "mean-torque": "rising-half-left-out",
        "power": "one-leg-only",
    }
    assert result["opposite-leg"].state is State.IN_CONSEQUENCE, "a plus sign of one's own means that it drives"


def test_slips_with_minus_signs_do_not_apply_where_there_are_none():
    pulling = Record("Aspen", "wonders", 170.0, 90.0, (0.0,) * 16, (300.0,) * 8 + (-20.0,) * 8, 112.5, (0.0, 90.0))
    predict = {item.id: item.predict for item in FAMILY.misconceptions if item.task == "mean-torque"}
    assert predict["rising-half-as-push"](pulling, {}) is None
    assert predict["rising-half-left-out"](pulling, {}) is None
    # the mean of |sin| over 16 rows is 0.628417 (awk); half of them carry 300 N, half 20 N, on 0.170 m
    assert key_values(FAMILY.tasks, pulling)["mean-torque"] == pytest.approx(0.628417 * 160 * 0.170, rel=1e-6)
