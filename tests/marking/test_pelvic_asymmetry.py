"""The case family pelvic-asymmetry: one rider by hand."""

import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("pelvic-asymmetry")
Sides = sys.modules["_pedalwright_case_pelvic_asymmetry.sides"].Sides
ROWAN = Sides(
    rider="Rowan",
    answer="my back has hurt for weeks, and now there is tingling down to the calf",
    has_sign=True,
    right_spine_mm=68.0,
    left_spine_mm=74.0,
    spines_apart_mm=110.0,
    pedal_mm=136.0,
    right_knee_mm=(144.0, 137.0, 137.0, 144.0, 152.0, 159.0, 159.0, 153.0),
    left_knee_mm=(-120.0, -111.0, -107.0, -114.0, -123.0, -134.0, -136.0, -132.0),
    right_load_n=148.0,
    left_load_n=123.0,
)

# Worked out with awk from the same readings, outside this project's code: inverse tangent of −6/110; means of
# 136 − right and of left + 136 over the first four rows; 25 N over 135.5 N.
BY_AWK = {
    "slope": -3.122130,
    "which-knee": "left-in",
    "right-knee": -4.5,
    "left-knee": 23.0,
    "index": 18.450185,
    "compare": "difference",
    "today": "stop",
}
BY_HAND = {
    "slope": "−3.1°",
    "which-knee": "A",
    "right-knee": "136 - 140.5 mm",
    "left-knee": "2.3 cm",
    "index": "100 * 25/135.5 %",
    "compare": "B",
    "today": "B",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, ROWAN, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, ROWAN) == {
        task: pytest.approx(value, rel=1e-5) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (13.0, 16.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("slope", "3.1 deg", "sign-turned"),
        ("slope", "-6 deg", "mm-for-degrees"),
        ("slope", "-0.055 deg", "ratio-for-angle"),
        ("which-knee", "C", "other-knee"),
        ("which-knee", "B", "both-alike"),
        ("right-knee", "4.5 mm", "sign-turned"),
        ("right-knee", "140.5 mm", "from-midline"),
        ("right-knee", "-12.1 mm", "whole-turn"),
        ("left-knee", "-23 mm", "not-mirrored"),
        ("left-knee", "-4.5 mm", "other-side"),
        ("left-knee", "9.25 mm", "averaged"),
        ("left-knee", "13.9 mm", "whole-turn"),
        ("index", "54.6 %", "share"),
        ("index", "9.2 %", "of-the-sum"),
        ("index", "16.9 %", "of-the-larger"),
        ("index", "-18.5 %", "sign-turned"),
        ("compare", "A", "index-near-zero"),
        ("compare", "C", "averaged"),
        ("today", "A", "passed-over-warning"),
        ("today", "C", "shim-at-once"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_a_turned_sign_carries_to_the_other_knee():
    result = mark({"slope": "3.1 deg", "which-knee": "C"})
    assert result["slope"].misconception == "sign-turned"
    assert result["which-knee"].state is State.IN_CONSEQUENCE
    assert result.marks == 12.0


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
