"""The case family saddle-height: one rider by hand."""

import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("saddle-height")
RIDER = sys.modules["_pedalwright_case_saddle_height.rider"]
WILLOW = RIDER.Rider(
    rider="Willow",
    answer="I broke a collar bone years ago, and nothing since",
    has_sign=False,
    inseam_cm=82.9,
    crank_length_mm=170.0,
    saddle_height_mm=759.0,
    included_deg=(164.0, 165.0, 165.0),
    standing_included_deg=176.0,
    trial="lowered",
    after_trial_included_deg=159.5,
    target_deg=32.0,
)

# Worked out with awk from the same readings, outside this project's code: 0.883 · 829; 1.09 · 829 − 170; 180 − 494/3;
# (164.67 − 159.5) / 20 · 10; (15.33 − 32) / 2.583 · 10. The window: 15.33 is below 25 − 6.
BY_AWK = {
    "from-bracket": 732.007,
    "from-pedal": 733.61,
    "flexion": 15.333333,
    "per-10-mm": 2.583333,
    "change": -64.516129,
    "window": "outside",
    "today": "go-on",
}
BY_HAND = {
    "from-bracket": "73.2 cm",
    "from-pedal": "1.09 * 829 - 170 mm",
    "flexion": "180 - 164.7 deg",
    "per-10-mm": "2.6°",
    "change": "lower 6.4 cm",
    "window": "B",
    "today": "A",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, WILLOW, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, WILLOW) == {
        task: pytest.approx(value, rel=1e-5) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (14.0, 17.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("from-bracket", "904 mm", "other-factor"),
        ("from-bracket", "562 mm", "crank-taken-off"),
        ("from-bracket", "73.2 mm", "cm-for-mm"),
        ("from-pedal", "904 mm", "crank-forgotten"),
        ("from-pedal", "1074 mm", "crank-added"),
        ("from-pedal", "73.4 mm", "cm-for-mm"),
        ("from-pedal", "562 mm", "other-factor"),
        ("flexion", "164.7 deg", "included-for-flexion"),
        ("flexion", "74.7 deg", "from-right-angle"),
        ("flexion", "11.3 deg", "from-standing"),
        ("per-10-mm", "5.2 deg", "not-scaled"),
        ("per-10-mm", "3.9 deg", "upside-down"),
        ("per-10-mm", "10 deg", "one-degree-a-mm"),
        ("change", "raise 64.5 mm", "wrong-way"),
        ("change", "lower 4 mm", "multiplied"),
        ("change", "lower 16.7 mm", "degrees-as-mm"),
        ("change", "27 mm lower", "rule-over-knee"),
        ("window", "C", "doubt-for-everything"),
        ("window", "A", "comfort-zone"),
        ("today", "C", "referred-without-sign"),
        ("today", "B", "whole-change"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_the_included_angle_carries_through():
    # (164.67 − 32) / 2.583 · 10 = 513.5 mm up: absurd, but it follows
    result = mark({"flexion": "164.67 deg", "change": "raise 513.5 mm"})
    assert result["flexion"].misconception == "included-for-flexion"
    assert result["change"].state is State.IN_CONSEQUENCE


def test_a_knee_near_the_window_cannot_be_told():
    assert [RIDER.in_window(flexion) for flexion in (18.9, 19.1, 30.0, 40.9, 41.1)] == [
        "outside",
        "open",
        "open",
        "open",
        "outside",
    ]


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
