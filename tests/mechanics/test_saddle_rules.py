"""Saddle rules as named choices, and what each means for the knee."""

from pathlib import Path

import numpy as np
import pytest

from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.position import Leg, Position
from pedalwright.rule_outcomes import DEFAULT_WINDOW, KNEE_FLEXION_WINDOWS, knee_flexion_of_rule
from pedalwright.saddle_rules import DEFAULT_SADDLE_RULE, SADDLE_RULES, saddle_height_rule_mm
from pedalwright.stroke import solve_stroke

LEG = Leg(428.75, 430.5, 150)
POSITION = Position(730, 200, 170)


def test_the_default_has_a_reason():
    assert "Default" in SADDLE_RULES[DEFAULT_SADDLE_RULE].remark
    assert "Default" in KNEE_FLEXION_WINDOWS[DEFAULT_WINDOW].remark


def test_rules_to_the_pedal_are_shorter_by_the_crank_above_the_bracket():
    for rule in SADDLE_RULES.values():
        short, long = (
            saddle_height_rule_mm(850, rule.name, crank_length_mm=crank, trochanter_height_mm=930)
            for crank in (165, 175)
        )
        np.testing.assert_allclose(short - long, 10 if rule.to_pedal else 0)


def test_only_the_regression_knows_the_knee():
    for rule in SADDLE_RULES.values():
        at = [
            saddle_height_rule_mm(850, rule.name, trochanter_height_mm=930, knee_flexion_deg=knee) for knee in (25, 35)
        ]
        np.testing.assert_allclose(at[0] - at[1], 15 if rule.name == "knee regression" else 0)


def test_each_rule_has_a_source_in_the_bibliography():
    text = (Path(__file__).parents[2] / "book" / "references.bib").read_text(encoding="utf-8")
    assert all(f"{{{rule.source}," in text for rule in SADDLE_RULES.values())


def test_riders_broadcast():
    assert saddle_height_rule_mm([[800], [900]], "inseam 109 %", crank_length_mm=[165, 170, 175]).shape == (2, 3)


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        ((850, "eyeballing"), "inseam 0.883"),
        ((None, "inseam 0.883"), "inseam_mm: received nothing"),
        ((850, "trochanter 96 %"), "trochanter_height_mm: received nothing"),
        ((85.0, "inseam 0.883"), "millimetres"),
        ((1201, "inseam 0.883"), "millimetres"),
        ((399, "inseam 0.883"), "at least 400"),
    ],
)
def test_wrong_values_are_refused(arguments, word):
    with pytest.raises(OutOfRangeError, match=word):
        saddle_height_rule_mm(*arguments)


@pytest.mark.parametrize(
    "named",
    [
        {"crank_length_mm": 17.0},
        {"crank_length_mm": 301},
        {"knee_flexion_deg": -1},
        {"knee_flexion_deg": 91},
        {"rule": "trochanter 100 %", "trochanter_height_mm": 1301},
        {"rule": "trochanter 100 %", "trochanter_height_mm": 93},
    ],
)
def test_wrong_named_values_are_refused(named):
    with pytest.raises(OutOfRangeError):
        saddle_height_rule_mm(850, **named)


def test_outcome_is_the_stroke_at_the_height_of_the_rule():
    for name in SADDLE_RULES:
        outcome = knee_flexion_of_rule(LEG, POSITION, name, inseam_mm=822, trochanter_height_mm=900)
        scale = outcome.saddle_height_mm / 730
        moved = Position(outcome.saddle_height_mm, 200 * scale, 170)
        np.testing.assert_allclose(outcome.bottom_knee_flexion_deg, solve_stroke(LEG, moved, 180).knee_flexion_deg[0])
        assert outcome.in_window == (25 <= outcome.bottom_knee_flexion_deg <= 35)


def test_higher_rules_straighten_the_knee_and_ends_of_the_window_belong_to_it():
    low = knee_flexion_of_rule(LEG, POSITION, "trochanter 96 %", trochanter_height_mm=910)
    high = knee_flexion_of_rule(LEG, POSITION, "trochanter 100 %", trochanter_height_mm=910)
    assert low.bottom_knee_flexion_deg > high.bottom_knee_flexion_deg


def test_many_inseams_at_once_and_other_windows():
    outcome = knee_flexion_of_rule(LEG, POSITION, "inseam 0.883", inseam_mm=[800, 830, 860], window="static 25–30")
    assert outcome.in_window.shape == (3,)
    assert np.all(np.diff(outcome.bottom_knee_flexion_deg) < 0)
    inside = (outcome.bottom_knee_flexion_deg >= 25) & (outcome.bottom_knee_flexion_deg <= 30)
    assert outcome.in_window.tolist() == inside.tolist()


def test_a_pedal_angle_at_the_bottom_counts():
    level = knee_flexion_of_rule(LEG, POSITION, "inseam 0.883", inseam_mm=840)
    toe_down = knee_flexion_of_rule(LEG, POSITION, "inseam 0.883", inseam_mm=840, pedal_angle_deg=15)
    assert toe_down.bottom_knee_flexion_deg > level.bottom_knee_flexion_deg


def test_a_rule_out_of_reach_says_so():
    with pytest.raises(UnreachablePositionError):
        knee_flexion_of_rule(LEG, POSITION, "inseam 0.883", inseam_mm=950)
    with pytest.raises(OutOfRangeError, match="window"):
        knee_flexion_of_rule(LEG, POSITION, "inseam 0.883", inseam_mm=840, window="any")


# The assumed height of the hip above the saddle is set so that 0.883 of an inseam of 0.48 of the stature (a usual
# proportion, from memory) gives about 30° for legs of 0.245 and 0.246 of the stature.
def test_the_assumed_hip_height_gives_what_it_claims():
    outcome = knee_flexion_of_rule(LEG, POSITION, "inseam 0.883", inseam_mm=0.48 * 1750)
    assert 28 <= outcome.bottom_knee_flexion_deg <= 32
