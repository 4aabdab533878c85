"""The case family pressure-hot-spot: one map by hand."""

import sys
from dataclasses import replace

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("pressure-hot-spot")
Recording = sys.modules["_pedalwright_case_pressure_hot_spot.mat"].Recording
OLIVE = Recording(
    rider="Olive",
    answer="I had new shoes a month ago, otherwise nothing",
    has_sign=False,
    side="left",
    across_mm=22.0,
    pressure_kpa=(
        (6.0, 21.0, 22.0, 7.0),
        (13.0, 32.0, 30.0, 11.0),
        (11.0, 24.0, 23.0, 8.0),
        (7.0, 11.0, 7.0, 3.0),
        (12.0, 12.0, 3.0, 0.0),
        (21.0, 21.0, 8.0, 0.0),
        (34.0, 43.0, 19.0, 4.0),
        (34.0, 44.0, 24.0, 11.0),
        (13.0, 62.0, 35.0, 31.0),
        (5.0, 9.0, 25.0, 25.0),
    ),
    later_force_n=506.0,
    later_peak_kpa=64.0,
)

# Worked out with awk from the same table, outside this project's code: 731 kPa · 0.55 N/kPa; 27 cells of 5.5 cm²; rows
# 7 and 8 over all; row sums times 12.5, 37.5, … mm over all; (64/506) / (62/402.05) − 1. The left foot's big toe is on
# the right, so column 2 is outer.
BY_AWK = {
    "force": 402.05,
    "area": 148.5,
    "spot": "outer toes",
    "share": 29.13817,
    "along": 140.91997,
    "change": -17.98036,
    "today": "try",
}
BY_HAND = {
    "force": "731 * 0.55 N",
    "area": "27 * 5.5 cm²",
    "spot": "H",
    "share": "213/731",
    "along": "14.1 cm",
    "change": "−18 %",
    "today": "B",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, OLIVE, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, OLIVE) == {
        task: pytest.approx(value, rel=1e-6) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (14.0, 17.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("force", "731 N", "area-forgotten"),
        ("force", "4020 N", "factor-ten"),
        ("force", "921 N", "peak-everywhere"),
        ("area", "220 cm^2", "whole-grid"),
        ("area", "209 cm^2", "no-threshold"),
        ("area", "14850 cm^2", "mm-for-cm"),
        ("area", "1485 cm^2", "factor-ten"),
        ("spot", "inner toes", "sides-swapped"),
        ("spot", "outer forefoot", "largest-force"),
        ("share", "57.2 %", "toes-included"),
        ("share", "12.9 %", "from-the-toes"),
        ("share", "7/27", "share-of-cells"),
        ("along", "153.4 mm", "half-row-forgotten"),
        ("along", "212.5 mm", "hot-spot"),
        ("along", "130.1 mm", "unweighted"),
        ("along", "109.1 mm", "from-the-toes"),
        ("change", "3.2 %", "load-forgotten"),
        ("change", "18 %", "sign-turned"),
        ("change", "29.9 %", "load-upside-down"),
        ("today", "C", "referred-without-sign"),
        ("today", "A", "number-for-diagnosis"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_a_sum_of_pressures_carries_into_the_change():
    # 731 instead of 402.05: (64/506) / (62/731) − 1 = 49.1 %
    result = mark({"force": "731 N", "change": "49.1 %"})
    assert result["force"].misconception == "area-forgotten"
    assert result["change"].state is State.IN_CONSEQUENCE


def test_the_same_map_of_the_other_foot_has_its_hot_spot_inside():
    assert key_values(FAMILY.tasks, replace(OLIVE, side="right"))["spot"] == "inner toes"


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
