"""The case family coupled-cranks: one rider by hand."""

import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("coupled-cranks")
Torques = sys.modules["_pedalwright_case_coupled_cranks.legs"].Torques
RIGHT = (-0.2, 11.9, 41.4, 59.3, 45.4, 15.9, -4.9, -11.3, -5.1, -1.4, -3.6, -2.2)
LEFT = (-1.3, 13.2, 46.8, 66.7, 51.5, 19.7, -3.4, -11.8, -6.4, -2.7, -5.3, -4.0)
ASPEN = Torques("Aspen", "wonders", 170.0, 60.0, RIGHT, LEFT, asked_row=8, rising_row=7, weight_nm=-3.4)

# Worked out with awk from the same table, outside this project's code.
BY_AWK = {
    "left-at": 46.8,
    "axle-torque": 41.7,
    "leg-effectiveness": 83.49626,
    "axle-effectiveness": 96.91824,
    "share": 47.11226,
    "meter-share": 45.45750,
    "muscles": -7.9,
    "muscles-do": "press",
}
BY_HAND = {
    "left-at": "46.8 N m",
    "axle-torque": "46.8 - 5.1 N m",
    "leg-effectiveness": "(173.9 - 28.7) / 173.9",
    "axle-effectiveness": "0.969",
    "share": "12.1 / (12.1 + 13.58)",
    "meter-share": "140.1/308.2",
    "muscles": "−7.9 N m",
    "muscles-do": "A",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, ASPEN, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, ASPEN) == {
        task: pytest.approx(value, rel=1e-6) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (14.0, 18.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("left-at", "-6.4 N m", "same-crank-angle"),
        ("left-at", "-4.0 N m", "quarter-turn"),
        ("left-at", "41.4 N m", "other-column"),
        ("axle-torque", "-51.9 N m", "difference"),
        ("axle-torque", "20.9 N m", "averaged"),
        ("axle-torque", "-5.1 N m", "right-leg-only"),
        ("leg-effectiveness", "85.8 %", "share-of-all"),
        ("leg-effectiveness", "16.5 %", "loss-given"),
        ("leg-effectiveness", "100 %", "minus-signs-dropped"),
        ("leg-effectiveness", "20.4 %", "smoothness"),
        ("axle-effectiveness", "83.5 %", "one-pedal"),
        ("axle-effectiveness", "82.9 %", "row-by-row"),
        ("share", "52.9 %", "other-leg"),
        ("share", "89.1 %", "ratio-of-legs"),
        ("share", "-11.6 %", "difference-of-legs"),
        ("meter-share", "47.1 %", "meter-sees-legs"),
        ("meter-share", "54.5 %", "other-half"),
        ("meter-share", "120.1 %", "row-by-row"),
        ("muscles", "-14.7 N m", "weight-added"),
        ("muscles", "7.9 N m", "sign-turned"),
        ("muscles", "-11.3 N m", "whole-reading"),
        ("muscles-do", "C", "any-lift-drives"),
        ("muscles-do", "D", "rising-leg-idle"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_the_same_row_carries_through():
    # the left leg at 240° instead of 60°: −5.1 + (−6.4) = −11.5
    result = mark({"left-at": "-6.4 N m", "axle-torque": "-11.5 N m"})
    assert result["left-at"].misconception == "same-crank-angle"
    assert result["axle-torque"].state is State.IN_CONSEQUENCE


def test_a_turned_sign_carries_into_what_the_muscles_do():
    result = mark({"muscles": "7.9 N m", "muscles-do": "B"})
    assert result["muscles"].misconception == "sign-turned"
    assert result["muscles-do"].state is State.IN_CONSEQUENCE
