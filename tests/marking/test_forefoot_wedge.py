"""The case family forefoot-wedge: one foot by hand."""

import sys

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("forefoot-wedge")
Forefoot = sys.modules["_pedalwright_case_forefoot_wedge.foot"].Forefoot
HAZEL = Forefoot(
    rider="Hazel",
    side="left",
    answer="for a week I have not been able to lift the toes of this foot, and it slaps when I walk",
    has_sign=True,
    inner_height_mm=11.0,
    outer_height_mm=4.0,
    gauge_width_mm=82.0,
    shoe_width_mm=104.0,
    wedge_mm=1.0,
)

# Worked out with awk from the same readings, outside this project's code: inverse tangents of 7/82, 1/104 and 4/104;
# half of the tilt over 104 mm is 4.43 mm, so four wedges of 1 mm.
BY_AWK = {
    "tilt": 4.879274,
    "edge": "inner",
    "wedge-angle": 0.550904,
    "stack": 4.0,
    "tilt-left": 2.676676,
    "evidence": frozenset({"contact", "felt"}),
    "today": "refer",
}
BY_HAND = {
    "tilt": "4.9°",
    "edge": "A",
    "wedge-angle": "0.55 deg",
    "stack": "4 * 1 mm",
    "tilt-left": "4.9 - 2.2 deg",
    "evidence": "B, D",
    "today": "B",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, HAZEL, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, HAZEL) == {
        task: pytest.approx(value, rel=1e-5) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (14.0, 17.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("tilt", "-4.9 deg", "sign-turned"),
        ("tilt", "3.9 deg", "shoe-width"),
        ("tilt", "7 deg", "mm-for-degrees"),
        ("tilt", "7/82 deg", "ratio-for-angle"),
        ("tilt", "7.6 deg", "one-edge-only"),
        ("edge", "B", "lower-edge"),
        ("edge", "C", "called-neutral"),
        ("wedge-angle", "0.70 deg", "gauge-width"),
        ("wedge-angle", "1 deg", "mm-for-degrees"),
        ("wedge-angle", "0.0096 deg", "ratio-for-angle"),
        ("wedge-angle", "1.10 deg", "half-width"),
        ("stack", "8 mm", "whole-tilt"),
        ("stack", "5 mm", "rounded-up"),
        ("stack", "2 mm", "mm-for-degrees"),
        ("tilt-left", "7.1 deg", "added"),
        ("tilt-left", "4.3 deg", "one-wedge"),
        ("tilt-left", "0.88 deg", "mm-for-degrees"),
        ("tilt-left", "0 deg", "nothing-left"),
        ("evidence", "A, B, D", "knee-believed"),
        ("evidence", "A, C, E", "claims-believed"),
        ("evidence", "ABCDE", "everything"),
        ("evidence", "none", "nothing"),
        ("today", "C", "passed-over-warning"),
        ("today", "A", "treatment"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_a_turned_sign_carries_to_the_other_edge():
    # −4.88°: the gap is outside, the stack the same, −4.88 + 2.20 = −2.68
    result = mark({"tilt": "-4.88 deg", "edge": "B", "tilt-left": "-2.68 deg"})
    assert result["tilt"].misconception == "sign-turned"
    assert result["edge"].state is result["tilt-left"].state is State.IN_CONSEQUENCE
    assert result["stack"].state is State.CORRECT
    assert result.marks == 12.5


def test_the_wrong_edge_adds_to_the_tilt():
    # four wedges under the outer edge: 4.88 + 2.20 = 7.08
    result = mark({"edge": "B", "tilt-left": "7.08 deg"})
    assert result["tilt-left"].state is State.IN_CONSEQUENCE


def test_referring_is_a_safety_task():
    assert [task.id for task in FAMILY.tasks if task.safety] == ["today"]
