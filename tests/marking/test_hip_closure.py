"""The case family hip-closure: one rider by hand."""

import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("hip-closure")
Hip = sys.modules["_pedalwright_case_hip_closure.hip"].Hip
JUNIPER = Hip(
    rider="Juniper",
    answer="low on the bars I go numb between the legs, and it lasts into the evening",
    has_sign=True,
    crank_length_mm=172.5,
    standing_tilt_deg=6.0,
    tilt_deg=23.0,
    low_tilt_deg=31.0,
    trunk_deg=50.0,
    low_trunk_deg=37.0,
    thigh_deg=19.0,
    thigh_short_crank_deg=23.0,
)

# By hand, from the conventions: 23 − 6; 90 − 19 + 17; (23 − 19) / 20 · 10; 31 − 23; 8 / 2 · 10. That a more closed hip
# makes the gluteus maximus longer before it works: common practice, no source, and the geometry of a muscle behind it.
BY_HAND_KEY = {
    "roll": 17.0,
    "hip": 88.0,
    "opens": 2.0,
    "closes": 8.0,
    "shorter": 40.0,
    "muscle": "longer",
    "today": "stop",
}
BY_HAND = {
    "roll": "23 - 6 deg",
    "hip": "90 - 19 + 17 deg",
    "opens": "2°",
    "closes": "8 deg",
    "shorter": "4.0 cm",
    "muscle": "B",
    "today": "A",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, JUNIPER, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_is_reckoned_by_hand():
    assert key_values(FAMILY.tasks, JUNIPER) == {
        task: pytest.approx(value) if isinstance(value, float) else value for task, value in BY_HAND_KEY.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (12.0, 15.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("roll", "23 deg", "standing-forgotten"),
        ("roll", "29 deg", "added"),
        ("roll", "40 deg", "trunk-for-pelvis"),
        ("hip", "54 deg", "roll-taken-off"),
        ("hip", "71 deg", "pelvis-forgotten"),
        ("hip", "111 deg", "trunk-for-pelvis"),
        ("hip", "-2 deg", "thigh-from-horizontal"),
        ("opens", "4 deg", "not-scaled"),
        ("opens", "-2 deg", "sign-turned"),
        ("opens", "0.2 deg", "for-each-mm"),
        ("closes", "13 deg", "trunk-for-pelvis"),
        ("closes", "25 deg", "whole-roll"),
        ("closes", "-8 deg", "sign-turned"),
        ("shorter", "1.6 mm", "multiplied"),
        ("shorter", "8 mm", "degrees-as-mm"),
        ("shorter", "65 mm", "for-the-trunk"),
        ("muscle", "A", "shorter"),
        ("muscle", "C", "unchanged"),
        ("today", "C", "passed-over-warning"),
        ("today", "B", "low-at-any-price"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_the_trunk_for_the_pelvis_carries_into_the_crank():
    # 13° instead of 8°: 13 / 2 · 10 = 65 mm
    result = mark({"closes": "13 deg", "shorter": "65 mm"})
    assert result["closes"].misconception == "trunk-for-pelvis"
    assert result["shorter"].state is State.IN_CONSEQUENCE
    assert result.marks == 10.5


def test_a_forgotten_standing_reading_carries_into_the_hip():
    # 23° instead of 17°: 90 − 19 + 23 = 94
    result = mark({"roll": "23 deg", "hip": "94 deg"})
    assert result["hip"].state is State.IN_CONSEQUENCE


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
