"""The case family sit-bones-saddle: one rider by hand."""

import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("sit-bones-saddle")
Seat = sys.modules["_pedalwright_case_sit_bones_saddle.seat"].Seat
OLIVE = Seat(
    rider="Olive",
    answer="since the spring there is numbness where I sit, and lately something has changed in bed",
    has_sign=True,
    left_mm=(54.0, 55.0, 57.0),
    right_mm=(73.0, 74.0, 75.0),
    roll_deg=17.0,
    trunk_deg=37.0,
    treads_mm=(91.0, 103.0, 115.0, 127.0),
    overall_mm=(118.0, 135.0, 142.0, 155.0),
    own_tread_mm=80.0,
    own_overall_mm=106.0,
    load_n=280.0,
    load_to="left",
    load_across_mm=7.0,
)

# Worked out with awk from the same readings, outside this project's code: (127 + 129 + 132) / 3; less
# 2 · 60 mm · 17° in radians · tan 37.5°; plus 10; (80 − 102.01) / 2; 280 · (102.01 / 2 − 7) / 102.01.
BY_AWK = {
    "width": 129.333333,
    "bearing": 102.012873,
    "tread": 112.012873,
    "margin": -11.006437,
    "saddle": "3",
    "right-load": 120.786739,
    "today": "stop",
}
# With the 1.6 mm for each degree that the brief gives.
BY_HAND = {
    "width": "129.3 mm",
    "bearing": "129.3 - 1.6*17 mm",
    "tread": "11,2 cm",
    "margin": "(80 - 102.1)/2 mm",
    "saddle": "saddle 3",
    "right-load": "280 * 44.05 / 102.1 N",
    "today": "B",
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
    assert (result.marks, result.max_marks) == (14.0, 17.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("width", "64.7 mm", "averaged"),
        ("width", "110.7 mm", "left-doubled"),
        ("width", "157.3 mm", "outer-edges"),
        ("bearing", "129.3 mm", "posture-forgotten"),
        ("bearing", "156.5 mm", "widened"),
        ("bearing", "112.3 mm", "degrees-as-mm"),
        ("bearing", "70.1 mm", "trunk-for-pelvis"),
        ("tread", "102 mm", "no-margin"),
        ("tread", "107 mm", "one-side"),
        ("tread", "139.3 mm", "from-upright-width"),
        ("margin", "2 mm", "overall-for-tread"),
        ("margin", "-22 mm", "not-halved"),
        ("margin", "11 mm", "sign-turned"),
        ("margin", "-24.7 mm", "posture-forgotten"),
        ("saddle", "1", "overall-for-tread"),
        ("right-load", "140 N", "shared-evenly"),
        ("right-load", "159 N", "other-side"),
        ("right-load", "101.6 N", "half-lever"),
        ("today", "C", "passed-over-warning"),
        ("today", "A", "padding"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_a_doubled_left_side_carries_through():
    # 2 · 166 / 3 = 110.67; − 27.2 = 83.47; + 10 = 93.47; (80 − 83.47) / 2 = −1.73; saddle 2;
    # 280 · 34.73 / 83.47 = 116.5
    result = mark(
        {
            "width": "110.67 mm",
            "bearing": "83.47 mm",
            "tread": "93.47 mm",
            "margin": "-1.73 mm",
            "saddle": "2",
            "right-load": "116.5 N",
        }
    )
    assert result["width"].misconception == "left-doubled"
    for task in ("bearing", "tread", "margin", "saddle"):
        assert result[task].state is State.IN_CONSEQUENCE, task
    assert result["right-load"].marks == 2
    assert result.marks == 12.5


def test_a_saddle_too_narrow_by_little_is_no_fit():
    # asked for 107 mm after a one-sided margin: the nearest tread, 103 mm, is narrower than that
    result = mark({"tread": "107 mm", "saddle": "2"})
    assert result["saddle"].misconception == "nearest"


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
