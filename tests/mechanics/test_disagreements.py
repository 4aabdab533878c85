"""Where published answers differ, each is a named choice, one is the default, and the reason is told."""

import inspect

import pytest

from pedalwright.body import leg_segments
from pedalwright.disagreements import DISAGREEMENTS
from pedalwright.effectiveness import torques_seen_by_meter_nm
from pedalwright.foot_collapse import tibial_rotation_deg
from pedalwright.hill import active_force_length
from pedalwright.hill_muscle import isometric_force_n
from pedalwright.muscles import moment_arms_mm
from pedalwright.rule_outcomes import knee_flexion_of_rule
from pedalwright.saddle_rules import HEIGHT_STUDIES, saddle_height_rule_mm
from pedalwright.work_shares import PUBLISHED_WORK_SHARES

OPEN = {
    "thigh mass": {"de_leva_1996", "winter_2009"},
    "forefoot prevalence": {"garbalosa_1994", "carrelero_camp_2026"},
    "share of work at hip and knee": {"ericson_1986", "elmer_2011"},
    "saddle height and economy": {"ferrer_roca_2014", "peveler_green_2011"},
    "saddle height": {"inseam 109 %", "inseam 0.883"},
    "muscle constants": {"thelen_2003", "gait2392"},
    "single-leg or crank effectiveness": {"each pedal", "crank axle"},
}


@pytest.mark.parametrize("name", OPEN)
def test_both_answers_are_there(name):
    assert OPEN[name] <= set(DISAGREEMENTS[name].answers)


@pytest.mark.parametrize("name", DISAGREEMENTS)
def test_the_default_is_one_of_them_and_has_a_reason(name):
    one = DISAGREEMENTS[name]
    assert one.default in one.answers
    assert len(set(one.answers)) >= 2
    assert one.question.endswith("?")
    assert one.reason.endswith(".")
    assert len(one.reason.split()) > 8


@pytest.mark.parametrize(
    ("name", "function"),
    [
        ("thigh mass", leg_segments),
        ("saddle height", saddle_height_rule_mm),
        ("knee flexion window", knee_flexion_of_rule),
        ("muscle constants", active_force_length),
        ("muscle constants", isometric_force_n),
        ("muscle paths", moment_arms_mm),
        ("single-leg or crank effectiveness", torques_seen_by_meter_nm),
        ("roll of the heel and turn of the shin", tibial_rotation_deg),
    ],
)
def test_the_default_told_is_the_one_taken(name, function):
    one = DISAGREEMENTS[name]
    assert inspect.signature(function).parameters[one.chosen_by].default == one.default


def test_thighs_differ_by_what_the_tables_say():
    """14.16 and 10.0 % of 70 kg (de_leva_1996, winter_2009)."""
    masses = [
        leg_segments(70, stature_mm=1750, sex="male", table=table).thigh.mass_kg.item()
        for table in ("de_leva_1996", "winter_2009")
    ]
    assert masses == pytest.approx([9.912, 7.0])


def test_answers_point_in_opposite_directions():
    assert HEIGHT_STUDIES["ferrer_roca_2014"].favours != HEIGHT_STUDIES["peveler_green_2011"].favours
    assert "Knee" in PUBLISHED_WORK_SHARES["ericson_1986"].finding
    assert "Hip" in PUBLISHED_WORK_SHARES["elmer_2011"].finding
