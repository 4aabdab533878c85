"""The case family angle-conventions: one picture by hand."""

import sys
from dataclasses import replace

import pytest

from autograde.cases import load_family
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values

FAMILY = load_family("angle-conventions")
Picture = sys.modules["_pedalwright_case_angle_conventions.picture_of_rider"].Picture
HAZEL = Picture(
    rider="Hazel",
    reason="the rider wants to compare",
    facing="right",
    places_px=((306.0, 54.0), (62.0, 374.0), (357.0, 580.0), (381.0, 927.0), (329.0, 987.0), (497.0, 1028.0)),
    pelvis_tilt_deg=21.0,
    reported_deg=141.0,
)

# Worked out with awk from the same places, outside this project's code: inverse tangents of 206/295 (thigh), 320/244
# (trunk), 347/24 (shank) and 41/168 (sole); sums and differences of them; 90 + 21 − thigh; 180 − 141.
BY_AWK = {
    "thigh": 34.9268,
    "trunk": 52.6745,
    "trunk-thigh": 87.6013,
    "hip": 76.0732,
    "knee": 51.1167,
    "ankle": 17.6713,
    "reported": 39.0,
}
BY_HAND = {
    "thigh": "34.9°",
    "trunk": "52.7 deg",
    "trunk-thigh": "34.9 + 52.7 deg",
    "hip": "111 - 34.9 deg",
    "knee": "86.0 - 34.9 deg",
    "ankle": "13.7 - (86.0 - 90) deg",
    "reported": "180 - 141 deg",
}


def mark(changes=()):
    return mark_sheet(FAMILY.tasks, FAMILY.misconceptions, HAZEL, {**BY_HAND, **dict(changes)})


def test_the_key_is_what_another_program_gives():
    assert key_values(FAMILY.tasks, HAZEL) == {
        task: pytest.approx(value, abs=1e-3) if isinstance(value, float) else value for task, value in BY_AWK.items()
    }


def test_a_rider_who_faces_left_has_the_same_angles():
    mirrored = replace(HAZEL, facing="left", places_px=tuple((700.0 - x, y) for x, y in HAZEL.places_px))
    assert key_values(FAMILY.tasks, mirrored) == pytest.approx(key_values(FAMILY.tasks, HAZEL))


def test_a_sheet_worked_by_hand_earns_full_marks():
    result = mark()
    assert {each.state for each in result.results if not each.by_hand} == {State.CORRECT}
    assert (result.marks, result.max_marks) == (11.0, 14.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("thigh", "-34.9 deg", "upward-picture"),
        ("thigh", "55.1 deg", "from-vertical"),
        ("thigh", "0.70 deg", "ratio-for-angle"),
        ("trunk", "-52.7 deg", "upward-picture"),
        ("trunk", "37.3 deg", "from-vertical"),
        ("trunk", "1.31 deg", "ratio-for-angle"),
        ("trunk-thigh", "17.7 deg", "difference"),
        ("trunk-thigh", "92.4 deg", "supplement"),
        ("trunk-thigh", "52.7 deg", "trunk-alone"),
        ("hip", "92.4 deg", "trunk-for-pelvis"),
        ("hip", "34.1 deg", "tilt-taken-off"),
        ("hip", "55.1 deg", "pelvis-forgotten"),
        ("knee", "128.9 deg", "included-for-flexion"),
        ("knee", "-51.1 deg", "extension-positive"),
        ("knee", "4 deg", "shank-alone"),
        ("ankle", "-17.7 deg", "sign-turned"),
        ("ankle", "107.7 deg", "included-for-flexion"),
        ("ankle", "45 deg", "toe-line"),
        ("ankle", "13.7 deg", "sole-to-floor"),
        ("reported", "141 deg", "taken-literally"),
        ("reported", "51 deg", "from-right-angle"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_an_angle_from_the_vertical_carries_through():
    # 55.1° for the thigh: 52.7 + 55.1 = 107.8; 111 − 55.1 = 55.9
    result = mark({"thigh": "55.1 deg", "trunk-thigh": "107.8 deg", "hip": "55.9 deg"})
    assert result["thigh"].misconception == "from-vertical"
    assert result["trunk-thigh"].state is result["hip"].state is State.IN_CONSEQUENCE
    assert result.marks == 10.25
