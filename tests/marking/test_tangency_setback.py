"""The case family tangency-setback: one rider by hand."""

import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("tangency-setback")
Measured = sys.modules["_pedalwright_case_tangency_setback.rider"].Measured
OLIVE = Measured(
    rider="Olive",
    answer="the right knee gives way on the stairs now and then",
    has_sign=True,
    crank_length_mm=175.0,
    saddle_height_mm=672.0,
    saddle_setback_mm=186.0,
    front_ahead_mm=40.0,
    front_to_centre_mm=52.0,
    knee_height_mm=439.0,
    front_after_trial_mm=21.0,
)

# Worked out with awk from the same readings, outside this project's code: 40 − 52; its inverse tangent over 439; the
# cosine of that; (40 − 21) / 30 × 10; −12 / 6.333 × 10; 672 − √(672² − 186² + (186 − 18.947)²).
BY_AWK = {
    "knee-offset": -12.0,
    "lean": -1.565782,
    "useful-share": 99.962661,
    "travel": 6.333333,
    "move": -18.947368,
    "height": 4.995816,
    "also-changes": frozenset({"reach", "hip", "knee"}),
    "today": "stop",
}
BY_HAND = {
    "knee-offset": "40 - 52 mm",
    "lean": "−1.57°",
    "useful-share": "0.9996",
    "travel": "19/30 * 10 mm",
    "move": "19 mm forward",
    "height": "raise 5 mm",
    "also-changes": "B, C, E",
    "today": "C",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, OLIVE, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, OLIVE) == {
        task: pytest.approx(value, rel=1e-5) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (17.0, 20.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("knee-offset", "40 mm", "front-for-centre"),
        ("knee-offset", "92 mm", "depth-added"),
        ("knee-offset", "12 mm", "sign-turned"),
        ("knee-offset", "163 mm", "from-bottom-bracket"),
        ("lean", "88.4 deg", "angle-to-crank"),
        ("lean", "-12/439 deg", "ratio-for-angle"),
        ("lean", "-2.73 deg", "slope-in-per-cent"),
        ("lean", "1.57 deg", "sign-turned"),
        ("useful-share", "2.7 %", "sine-for-cosine"),
        ("useful-share", "98.3 %", "loss-in-proportion"),
        ("useful-share", "0.50 %", "calculator-in-radians"),
        ("travel", "10 mm", "one-to-one"),
        ("travel", "30/19 * 10 mm", "upside-down"),
        ("travel", "19 mm", "not-scaled"),
        ("move", "12 mm forward", "one-to-one"),
        ("move", "19 mm back", "wrong-way"),
        ("move", "forward 7.6 mm", "multiplied"),
        ("height", "no change", "level-rails-keep-height"),
        ("height", "lower 5 mm", "wrong-way"),
        ("height", "raise 19 mm", "whole-move"),
        ("also-changes", "E", "knee-only"),
        ("also-changes", "B", "reach-only"),
        ("also-changes", "B and E", "hip-forgotten"),
        ("also-changes", "ABCDE", "everything"),
        ("today", "B", "passed-over-warning"),
        ("today", "A", "cure-by-saddle"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_the_front_of_the_knee_carries_through():
    # 40 mm: inverse tangent of 40 / 439 is 5.21°, cosine 0.99587; 40 / 6.333 × 10 = 63.2 mm back; the setback becomes
    # 249.2 mm, the distance √(645.7² + 249.2²) = 692.1 mm, so 20.1 mm lower
    result = mark(
        {
            "knee-offset": "40 mm",
            "lean": "5.21°",
            "useful-share": "99.6 %",
            "move": "63.2 mm back",
            "height": "lower 2.0 cm",
        }
    )
    assert result["knee-offset"].misconception == "front-for-centre"
    for task in ("lean", "useful-share", "move", "height"):
        assert result[task].state is State.IN_CONSEQUENCE, task
    assert result.marks == 15.5


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
