"""The case family whole-case: one rider by hand, what stops a fit, and the gate that it closes."""

import sys
from collections import Counter
from dataclasses import replace
from datetime import date
from fractions import Fraction

import numpy as np
import pytest

from autograde.award.blueprint import read_blueprint
from autograde.award.decision import decide
from autograde.award.marks import Item, MarkTable
from autograde.award.outcome import Outcome
from autograde.award.standard import Standard
from autograde.cases import load_family, practice_variant
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values
from pedalwright.red_flags import RED_FLAGS

FAMILY = load_family("whole-case")
history = sys.modules["_pedalwright_case_whole_case.history"]
Case = sys.modules["_pedalwright_case_whole_case.rider"].Case
BACK = "My back hurts, and for some weeks there has been a tingling right down into the foot"
CHEST = "On Sunday's climb I felt a pressure in the chest, and on the stairs today it came back"
ORDINARY = "Both thighs burn on long climbs, one like the other, and at the top it is gone"
ALDER = Case(
    rider="Alder",
    remarks=("I have had these shoes for two years", ORDINARY, BACK, "In June I would like to ride for a whole day"),
    stops_fit=True,
    emergency=False,
    tool="inclinometer",
    side="left",
    footbed_mm=4.0,
    seat_deg=3.0,
    found_right_deg=(138.0, 139.0, 138.0),
    found_left_deg=(147.0, 147.0, 148.0),
    supported_right_deg=(136.0, 137.0, 135.0),
    supported_left_deg=(143.0, 143.0, 144.0),
    trial_deg=4.2,
)

# A sheet of arithmetic in exact fractions. The tool: 6 degrees is the smallest change of a digital inclinometer in
# Hancock et al. 2018 (abstract), and 6 / (1.96 × √2) = 2.16, printed as 2.2. The window is 25 to 35 degrees.
RIGHT = 180 - Fraction(136 + 137 + 135, 3)
LEFT = 180 - Fraction(143 + 143 + 144, 3)
RIGHT_BEFORE = 180 - Fraction(138 + 139 + 138, 3)
LEFT_BEFORE = 180 - Fraction(147 + 147 + 148, 3)
TRIAL = Fraction(42, 100)  # degrees for each millimetre
RIGHT_MOVE, LEFT_MOVE = (RIGHT - 30) / TRIAL, (LEFT - 30) / TRIAL
BY_HAND = {
    "today": "stop",
    "order": ("ask", "baseline", "support", "height", "fore-aft", "again"),
    "knee": 36 + 2 / 3,
    "difference": 7 + 1 / 3,
    "told": "shown",  # 7.3 is more than 6
    "window": "open",  # 36.7 − 35 = 1.7, and 1.64 × 2.2 = 3.6 is needed
    "change": 15.873016,  # 6.667 / 4.2 × 10; the right knee asks for 33.3
}
SHEET = {
    "today": "B",
    "order": "D, F, C, A, E, B",
    "knee": "180 - 430/3 deg",
    "difference": "7.3°",
    "told": "C",
    "window": "C",
    "change": "raise 1.6 cm",
}


def mark(changes=(), case=ALDER):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, case, {**SHEET, **dict(changes)})


def degrees(value):
    return f"{float(value):.3f} deg"


def millimetres(value):
    return f"{'raise' if value > 0 else 'lower'} {abs(float(value)):.2f} mm"


def test_the_sheet_of_arithmetic_agrees_with_itself():
    assert (float(LEFT), float(RIGHT - LEFT)) == pytest.approx((BY_HAND["knee"], BY_HAND["difference"]))
    assert float(min(LEFT_MOVE, RIGHT_MOVE)) == pytest.approx(BY_HAND["change"], abs=1e-5)


def test_the_key_is_what_the_sheet_of_arithmetic_gives():
    assert key_values(FAMILY.tasks, ALDER) == {
        task: pytest.approx(value, rel=1e-6) if isinstance(value, float) else value for task, value in BY_HAND.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (15.0, 19.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("today", "C", "passed-over-warning"),
        ("today", "A", "fit-as-treatment"),
        ("today", "D", "alarm-too-high"),
        ("order", "D F A E C B", "align-before-support"),
        ("order", "F D C A E B", "ask-after-measuring"),
        ("order", "D C F A E B", "no-baseline"),
        ("order", "D F C E A B", "fore-aft-before-height"),
        ("knee", degrees(180 - LEFT), "included-for-flexion"),
        ("knee", degrees(LEFT_BEFORE), "before-support"),
        ("knee", degrees((LEFT + RIGHT) / 2), "averaged"),
        ("knee", degrees(RIGHT), "other-side"),
        ("difference", degrees(LEFT - RIGHT), "sign-turned"),
        ("difference", degrees(RIGHT_BEFORE - LEFT_BEFORE), "before-support"),
        ("told", "A", "doubt-for-everything"),
        ("told", "B", "length-from-knees"),
        ("window", "A", "face-value"),
        ("change", millimetres(-LEFT_MOVE), "wrong-way"),
        ("change", millimetres(RIGHT_MOVE), "larger-move"),
        ("change", millimetres((LEFT_MOVE + RIGHT_MOVE) / 2), "averaged"),
        ("change", millimetres(LEFT - 30), "degrees-as-mm"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_readings_from_before_the_support_carry_through_to_the_saddle():
    """Left 32.7, difference 9.0, so the right knee is at 41.7; the left asks for 2.667 / 4.2 × 10 = 6.3 mm."""
    result = mark({"knee": "32.667 deg", "difference": "9 deg", "change": "raise 6.35 mm"})
    assert [result[task].misconception for task in ("knee", "difference")] == ["before-support"] * 2
    assert result["told"].state is State.CORRECT
    assert result["window"].state is State.CORRECT
    assert result["change"].state is State.IN_CONSEQUENCE
    assert result.marks == 15 - 2 * 0.75 * 2


def test_the_same_difference_is_shown_by_one_tool_and_left_open_by_another():
    """10 degrees is the smallest change of a long-armed goniometer in the same abstract."""
    other = key_values(FAMILY.tasks, replace(ALDER, tool="long goniometer"))
    assert (BY_HAND["told"], other["told"]) == ("shown", "open")


# Read off the list of stop signs by hand (nhs_borders_lower_limb and the riding entries beside it): does it wait?
EMERGENCIES = ("pressure in the chest", "calf is swollen, warm", "holding my water", "hot and thick")
WAIT_A_DAY_OR_MORE = (
    "wakes me every night",
    "numb between the legs",
    "weaker from week to week",
    "tingling right down into the foot",
    "swells after each longer ride",
    "drop cups",
    "loses its power",
)


def test_every_sign_of_the_family_stops_the_fit_and_is_as_urgent_as_the_list_says():
    listed = {flag.name: flag for flag in RED_FLAGS}
    urgent = {each.remark for each in history.SIGNS if listed[each.entry].urgency == "emergency"}
    assert all(listed[each.entry].stops_fit for each in history.SIGNS)
    for words in (*EMERGENCIES, *WAIT_A_DAY_OR_MORE):
        (remark,) = (each.remark for each in history.SIGNS if words in each.remark)
        assert (remark in urgent) == (words in EMERGENCIES), remark
    assert len(history.SIGNS) == len(EMERGENCIES) + len(WAIT_A_DAY_OR_MORE)


def test_a_lookalike_says_itself_why_it_is_ordinary():
    for each in history.LOOKALIKES:
        assert any(words in each.remark for words in ("gone", "over", "loose", "fresh", "neither", "as always")), each


def test_every_rider_says_something_that_only_sounds_like_a_sign_and_some_a_sign():
    signs = {each.remark: each.about for each in history.SIGNS}
    lookalikes = {each.remark: each.about for each in history.LOOKALIKES}
    generator, places, found = np.random.default_rng(5), Counter(), Counter()
    for _ in range(2000):
        case = FAMILY.draw(generator)
        said = [remark for remark in case.remarks if remark in signs]
        (ordinary,) = (remark for remark in case.remarks if remark in lookalikes)
        assert len(set(case.remarks)) == 4
        assert len(said) == case.stops_fit
        assert case.emergency <= case.stops_fit
        if said:
            assert signs[said[0]] != lookalikes[ordinary]
            places[case.remarks.index(said[0])] += 1
        found["stops"] += case.stops_fit
        found["emergency"] += case.emergency
    # Stated rates: 45 of 100 riders name a sign, 35 of 100 of these an emergency; four standard errors of 2000 draws.
    assert found["stops"] / 2000 == pytest.approx(0.45, abs=0.045)
    assert found["emergency"] / found["stops"] == pytest.approx(0.35, abs=0.065)
    assert min(places.values()) > 150, "a sign may stand at any place"


def with_remark(remark, *, stops_fit, emergency):
    remarks = (remark, *(each for each in ALDER.remarks if each != BACK))
    return replace(ALDER, remarks=remarks, stops_fit=stops_fit, emergency=emergency)


@pytest.mark.parametrize(
    ("case", "text", "state", "name"),
    [
        (with_remark(CHEST, stops_fit=True, emergency=True), "D", State.CORRECT, None),
        (with_remark(CHEST, stops_fit=True, emergency=True), "B", State.MISCONCEPTION, "emergency-put-off"),
        (with_remark(CHEST, stops_fit=True, emergency=True), "C", State.MISCONCEPTION, "passed-over-warning"),
        (with_remark("I ride on Sundays", stops_fit=False, emergency=False), "C", State.CORRECT, None),
        (
            with_remark("I ride on Sundays", stops_fit=False, emergency=False),
            "B",
            State.MISCONCEPTION,
            "soreness-for-sign",
        ),
        (
            with_remark("I ride on Sundays", stops_fit=False, emergency=False),
            "D",
            State.MISCONCEPTION,
            "alarm-too-high",
        ),
        (
            with_remark("I ride on Sundays", stops_fit=False, emergency=False),
            "A",
            State.MISCONCEPTION,
            "fit-as-treatment",
        ),
    ],
)
def test_what_is_done_today_follows_from_the_remark(case, text, state, name):
    result = mark({"today": text}, case)["today"]
    assert (result.state, result.misconception) == (state, name)


PLAN = """
title = "One whole case"
version = "1"
attempts = 2
not_assessed = ["work on a real rider"]
[competencies.all]
name = "Works a whole case"
minimum_pct = 0
[cases.whole-case]
name = "A whole case"
marks = {all = 15}
[[gates]]
case = "whole-case"
task = "today"
why = "A rider with a red flag is referred, whatever else is right."
"""


@pytest.mark.parametrize(("text", "outcome"), [("B", Outcome.AWARD), ("C", Outcome.BLOCKED), ("A", Outcome.BLOCKED)])
def test_going_on_in_spite_of_a_sign_blocks_the_pass_whatever_else_is_right(text, outcome):
    marked = [each for each in mark({"today": text}).results if not each.by_hand]
    safety = {task.id for task in FAMILY.tasks if task.safety}
    items = tuple(Item("whole-case", each.task, "all", each.max_marks, each.task in safety) for each in marked)
    table = MarkTable(("wren",), items, np.array([[each.marks for each in marked]]))
    decision = decide(table, "wren", read_blueprint(PLAN), Standard(9, 0, 0, 15, ()), on=date(2025, 11, 21))
    assert safety == {"today"}
    assert decision.outcome is outcome


def test_practice_shows_a_worked_solution_of_every_task():
    for number in range(1, 7):
        assert set(FAMILY.worked(practice_variant(FAMILY, number).case)) == {task.id for task in FAMILY.tasks}
