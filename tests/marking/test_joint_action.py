"""The case family joint-action: one leg by hand, and the signs against the calculation package."""

import sys

import numpy as np
import pytest

from autograde.cases import load_family, practice_variant
from autograde.marking import State, mark_sheet
from autograde.marking.solving import key_values
from pedalwright.attachments import Attachment, MusclePath, path_moment_arms_mm
from pedalwright.joint_actions import joint_actions, sketch_of
from pedalwright.posture import Posture

FAMILY = load_family("joint-action")
LINE = sys.modules["_pedalwright_case_joint_action.line"]
HAZEL = LINE.Line(
    rider="Hazel",
    claim="wants to know which muscle to rest while the pedal goes down",
    muscle="calf",
    places_mm=(
        ("hip", 300.0, 900.0),
        ("knee", 586.0, 613.0),
        ("ankle", 374.0, 276.0),
        ("origin", 556.0, 608.0),
        ("insertion", 323.0, 280.0),
    ),
    force_n=840.0,
    upper_closes_deg=11.0,
    lower_closes_deg=-23.0,
)

# Worked out with awk from the same places, outside this project's code: the line runs (−233, −328), 402.33 mm long;
# cross products with (30, 5) and (−182, −332) over that length; 840 N · 0.04389 m; the knee closes by 11° (0.192 rad)
# and takes 4.14 mm, the toe lifts by 23° (0.401 rad) and gives 17.62 mm.
BY_AWK = {
    "crosses": frozenset({"knee", "ankle"}),
    "upper": "flexes",
    "lower": "flexes",
    "upper-arm": 21.56166,
    "lower-arm": 43.89383,
    "moment": 36.87082,
    "longer": 13.48057,
}
BY_HAND = {
    "crosses": "ankle and knee",
    "upper": "A",
    "lower": "A",
    "upper-arm": "2.2 cm",
    "lower-arm": "44 mm",
    "moment": "840 * 0.044 N m",
    "longer": "0.401*44 - 0.192*21.6 mm",
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
    assert (result.marks, result.max_marks) == (11.0, 14.0)


@pytest.mark.parametrize(
    ("task", "text", "name"),
    [
        ("crosses", "knee", "upper-only"),
        ("crosses", "ankle", "lower-only"),
        ("crosses", "ABC", "all-joints"),
        ("upper", "B", "turned-round"),
        ("upper", "C", "does-nothing"),
        ("lower", "B", "turned-round"),
        ("lower", "C", "does-nothing"),
        ("upper-arm", "424 mm", "to-far-end"),
        ("upper-arm", "44 mm", "other-joint"),
        ("lower-arm", "51 mm", "to-attachment"),
        ("lower-arm", "21.6 mm", "other-joint"),
        ("moment", "36900 N m", "mm-for-m"),
        ("moment", "369 N m", "cm-for-m"),
        ("moment", "18.1 N m", "other-joint"),
        ("longer", "-13.5 mm", "sign-turned"),
        ("longer", "-4.1 mm", "upper-only"),
        ("longer", "-21.8 mm", "signs-alike"),
        ("longer", "772 mm", "degrees-as-radians"),
    ],
)
def test_each_slip_reckoned_by_hand_is_recognised(task, text, name):
    result = mark({task: text})[task]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, name)


def test_an_action_turned_round_carries_into_the_length():
    # the ankle's 17.62 mm with the other sign: −17.62 − 4.14 = −21.76
    result = mark({"lower": "B", "longer": "-21.8 mm"})
    assert result["lower"].misconception == "turned-round"
    assert result["longer"].state is State.IN_CONSEQUENCE


SKETCHES = {
    "back of the thigh": "biceps femoris, long head",
    "front of the thigh": "rectus femoris",
    "calf": "gastrocnemius",
}


def test_the_actions_are_those_of_the_muscles_they_stand_for():
    seen = set()
    for number in range(1, 25):
        case = practice_variant(FAMILY, number).case
        seen.add(case.muscle)
        known = {each.joint: each.action.split("-")[-1] for each in joint_actions(sketch_of(SKETCHES[case.muscle]))}
        assert {joint: LINE.does(case, joint) for joint in LINE.crossed(case)} == known
    assert seen == set(SKETCHES)


def test_levers_are_those_of_the_calculation_package():
    # a leg of 420 and 410 mm, pelvis upright, hip 70°, knee 60°: hip at (0, 0), turns of 70° and 10°
    thigh, shank = np.radians(70), np.radians(10)
    at = {"hip": np.zeros(2)}
    at["knee"] = LINE.turned((0, -420), thigh)
    at["ankle"] = at["knee"] + LINE.turned((0, -410), shank)
    at["origin"] = np.array([-48.0, -41.0])
    at["insertion"] = at["knee"] + LINE.turned((-36, -42), shank)
    places = tuple((name, *map(float, place)) for name, place in at.items())
    case = LINE.Line("Hazel", "", "back of the thigh", places, 500.0, 10.0, 10.0)
    path = MusclePath(Attachment("pelvis", -48, -41), Attachment("shank", -36, -42))
    arms = path_moment_arms_mm(path, Posture(70, 60), thigh_length_mm=420, shank_length_mm=410)
    assert LINE.signed_arm_mm(case, "hip") == pytest.approx(float(arms.hip_mm), abs=1e-6)
    assert LINE.signed_arm_mm(case, "knee") == pytest.approx(float(arms.knee_mm), abs=1e-6)
