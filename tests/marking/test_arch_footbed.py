"""The case family arch-footbed: one rider by hand."""

import sys
from dataclasses import replace

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("arch-footbed")
ARCHES = sys.modules["_pedalwright_case_arch_footbed.arches"]
ASPEN = ARCHES.Feet(
    rider="Aspen",
    answer="the soles feel hot on long climbs in summer, and normal again at the top",
    has_sign=False,
    mass_kg=66.0,
    side="left",
    asked=ARCHES.Foot(total_mm=265.0, truncated_mm=197.0, sitting_mm=80.0, standing_mm=77.0),
    other=ARCHES.Foot(total_mm=265.0, truncated_mm=196.0, sitting_mm=70.0, standing_mm=67.0),
)

# Worked out with awk from the same readings, outside this project's code: 77/197; (0.39086 − 0.340) / 0.030;
# 77/80; 3 mm over 0.4 · 66 kg · 9.80665 N/kg. The habit of the trade (common practice, no source): high, significant.
BY_AWK = {
    "index": 0.390863,
    "away": 1.695431,
    "class": "high",
    "kept": 96.25,
    "gives": 11.587684,
    "tier": "significant",
    "today": "try",
}
BY_HAND = {
    "index": "77/197",
    "away": "(0.391 - 0.340) / 0.030",
    "class": "C",
    "kept": "0.9625",
    "gives": "3/0.259 mm/kN",
    "tier": "significant support",
    "today": "B",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, ASPEN, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, ASPEN) == {
        task: pytest.approx(value, rel=1e-5) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (13.0, 16.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("index", "77/265", "whole-length"),
        ("index", "80/197", "sitting-height"),
        ("index", "0.366", "feet-averaged"),
        ("index", "197/77", "upside-down"),
        ("away", "-1.7", "sign-turned"),
        ("away", "0.93", "sitting-norm"),
        ("away", "0.05", "not-scaled"),
        ("class", "A", "sides-swapped"),
        ("class", "medium", "all-medium"),
        ("kept", "3.75 %", "loss-given"),
        ("kept", "103.9 %", "upside-down"),
        ("gives", "4.6 mm/kN", "whole-weight"),
        ("gives", "9.3 mm/kN", "sitting-load-forgotten"),
        ("gives", "0.0116 mm/kN", "for-each-newton"),
        ("gives", "114 mm/kN", "mass-for-force"),
        ("tier", "B", "reversed"),
        ("today", "A", "referred-without-sign"),
        ("today", "C", "treatment"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_the_whole_length_carries_through_to_another_footbed():
    # 77/265 = 0.2906; (0.2906 − 0.340) / 0.030 = −1.65: low, mild
    result = mark({"index": "0.2906", "away": "-1.65", "class": "A", "tier": "B"})
    assert result["index"].misconception == "whole-length"
    for task in ("away", "class", "tier"):
        assert result[task].state is State.IN_CONSEQUENCE, task
    assert result.marks == 11.5


def test_a_medium_arch_is_neither_high_nor_in_need_of_most():
    # 70.5/197 = 0.358: 0.6 standard deviations above the mean
    medium = replace(ASPEN, asked=replace(ASPEN.asked, standing_mm=70.5))
    sheet = {"index": "0.358", "away": "0.6", "class": "C", "tier": "A"}
    result = mark_sheet(FAMILY.tasks, FAMILY.misconceptions, medium, sheet)
    assert result["class"].misconception == "split-at-mean"
    assert result["tier"].state is State.IN_CONSEQUENCE
    result = mark_sheet(FAMILY.tasks, FAMILY.misconceptions, medium, {**sheet, "class": "B"})
    assert result["tier"].misconception == "more-is-better"


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
