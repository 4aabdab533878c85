"""A whole fit: order, sizes of steps, predicted effects, and when nothing is changed."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.fit import LARGEST_STEP_MM, WHO_DECIDES, plan
from pedalwright.fit_case import Assessment, Foot, Rider, Setup, Shoe
from pedalwright.fit_findings import AREAS, WINDOWS, find
from pedalwright.fit_picture import picture
from pedalwright.forefoot import USUAL_SHOE_WEDGE_MM
from pedalwright.position import Leg, Position, slid_back
from pedalwright.red_flags import RED_FLAGS
from pedalwright.stroke import knee_over_pedal_mm, solve_stroke
from pedalwright.targets import saddle_for_knee_flexion, setback_for_knee_over_pedal

LEG = Leg(428.75, 430.5, 150.0)
MIDDLE = Foot(0.34, 14.0, 0.0, 95.0)
PEDAL = 10.0


def settled(**changes):
    """A case on which every figure is well inside its window."""
    start = setback_for_knee_over_pedal(LEG, Position(750.0, 200.0, 170.0), pedal_angle_deg=PEDAL)
    place = saddle_for_knee_flexion(LEG, start, 30.0, pedal_angle_deg=PEDAL)
    place = saddle_for_knee_flexion(
        LEG, setback_for_knee_over_pedal(LEG, place, pedal_angle_deg=PEDAL), 30.0, pedal_angle_deg=PEDAL
    )
    place = replace(
        place, saddle_height_mm=float(place.saddle_height_mm), saddle_setback_mm=float(place.saddle_setback_mm)
    )
    setup = Setup(place, 130.0, 20.0, 0.0, Shoe("moderate"), Shoe("moderate"), PEDAL)
    rider = Rider(LEG, LEG, MIDDLE, MIDDLE, 120.0)
    case = Assessment(
        replace(rider, **{k: v for k, v in changes.items() if hasattr(rider, k)}),
        replace(setup, **{k: v for k, v in changes.items() if hasattr(setup, k)}),
        uncertainty={"forefoot_tilt_deg": 0.5, "pelvic_obliquity_deg": 0.5},
    )
    return replace(case, **{k: v for k, v in changes.items() if hasattr(case, k) and k not in ("rider", "setup")})


def moved(case, millimetres):
    position = case.setup.position
    return replace(
        case,
        setup=replace(case.setup, position=replace(position, saddle_height_mm=position.saddle_height_mm + millimetres)),
    )


def test_a_settled_rider_is_left_alone():
    found = plan(settled())
    assert found.steps == ()
    assert [one.verdict for one in found.findings if one.verdict != "inside"] == []
    assert "Nothing to change" in found.text()


def test_picture_is_read_off_the_stroke():
    case = settled()
    figures = picture(case.rider, case.setup)
    stroke = solve_stroke(LEG, case.setup.position, 180.0, PEDAL)
    assert figures.right.knee_flexion_bottom_deg == pytest.approx(stroke.knee_flexion_deg[0])
    assert figures.right.knee_flexion_bottom_deg == pytest.approx(30.0, abs=0.01)
    assert figures.left.knee_over_pedal_mm == pytest.approx(float(knee_over_pedal_mm(LEG, case.setup.position, PEDAL)))
    assert figures.right == figures.left
    assert figures.side("left") is figures.left


def test_low_saddle_is_raised_by_a_small_step_and_the_effect_is_predicted():
    found = plan(moved(settled(), -40.0))
    (step,) = [one for one in found.steps if one.change.area == "saddle height"]
    assert step.change.what == "Raise the saddle by 10 mm."
    assert step.after.right.knee_flexion_bottom_deg < step.before.right.knee_flexion_bottom_deg
    raised = step.change.setup.position
    assert raised.saddle_height_mm - (settled().setup.position.saddle_height_mm - 40) == pytest.approx(10.0, abs=0.2)
    assert any(one.figure == "knee_flexion_bottom_deg" for one in found.left)


def test_high_saddle_is_lowered():
    found = plan(moved(settled(), 25.0))
    assert [one.change.what for one in found.steps if one.change.area == "saddle height"] == [
        "Lower the saddle by 10 mm."
    ]


def test_a_step_is_no_larger_than_needed():
    found = plan(replace(moved(settled(), -13.0), uncertainty={"knee_flexion_deg": 0.1}))
    (step,) = [one for one in found.steps if one.change.area == "saddle height"]
    assert step.after.right.knee_flexion_bottom_deg > 29.5


def test_saddle_too_far_forward_is_slid_back():
    case = settled()
    forward = slid_back(case.setup.position, -60.0)
    plain = replace(
        forward, saddle_height_mm=float(forward.saddle_height_mm), saddle_setback_mm=float(forward.saddle_setback_mm)
    )
    found = plan(replace(case, setup=replace(case.setup, position=plain)))
    step = next(one for one in found.steps if one.change.area == "saddle fore-aft")
    assert step.change.what == "Slide the saddle back by 10 mm."
    assert 0 < step.after.right.knee_over_pedal_mm < step.before.right.knee_over_pedal_mm


def test_varus_takes_one_usual_wedge_under_the_inner_edge_on_its_own_side_only():
    found = plan(settled(right_foot=replace(MIDDLE, forefoot_tilt_deg=5.0)))
    (step,) = found.steps
    assert step.change.side == "right"
    shoe = step.change.setup.right_shoe
    assert (shoe.wedge_height_mm, shoe.wedge_edge) == (USUAL_SHOE_WEDGE_MM, "inner")
    assert step.after.right.foot_drift_mm < step.before.right.foot_drift_mm
    assert step.after.left == step.before.left


def test_a_wedge_on_the_wrong_edge_is_taken_out_first():
    wrong = Shoe("moderate", 1.5, "outer")
    found = plan(settled(right_foot=replace(MIDDLE, forefoot_tilt_deg=5.0), right_shoe=wrong))
    assert found.steps[0].change.setup.right_shoe.wedge_height_mm == 0
    higher = plan(settled(right_foot=replace(MIDDLE, forefoot_tilt_deg=5.0), right_shoe=Shoe("moderate", 3.0, "outer")))
    shoe = higher.steps[0].change.setup.right_shoe
    assert (shoe.wedge_height_mm, shoe.wedge_edge) == (1.5, "outer")


def test_valgus_takes_the_outer_edge():
    found = plan(settled(left_foot=replace(MIDDLE, forefoot_tilt_deg=-5.0)))
    (step,) = found.steps
    assert (step.change.side, step.change.setup.left_shoe.wedge_edge) == ("left", "outer")


def test_missing_footbed_and_wedge_on_both_feet_are_all_kept():
    foot = replace(MIDDLE, forefoot_tilt_deg=5.0)
    found = plan(settled(right_foot=foot, left_foot=foot, right_shoe=Shoe(), left_shoe=Shoe()))
    assert len(found.steps) == 4
    after = found.steps[-1]
    assert after.after.right.forefoot_tilt_left_deg == pytest.approx(after.after.left.forefoot_tilt_left_deg)
    assert not any(one.figure == "support tier" for one in found.left)


def test_high_arch_is_offered_significant_support():
    found = plan(settled(right_foot=replace(MIDDLE, arch_index=0.42)))
    assert found.steps[0].change.what == "right: try a footbed of significant support."


def test_an_arch_near_a_limit_is_measured_again_not_changed():
    found = plan(settled(right_foot=replace(MIDDLE, arch_index=0.371)))
    assert found.steps == ()
    assert "Measure again: right: high arch" in found.text()


def test_narrow_saddle_and_sloping_pelvis_are_answered_by_support():
    found = plan(settled(saddle_width_mm=60.0, pelvic_obliquity_deg=6.0))
    areas = [one.change.area for one in found.steps]
    assert areas[:2] == ["pelvic support", "pelvic support"]
    assert found.steps[0].after.bone_margin_mm == pytest.approx(5.0)
    assert found.steps[1].after.pelvis_shift_mm == 0
    assert found.steps[1].after.right.seat_drift_mm == 0


def test_support_comes_before_alignment():
    foot = replace(MIDDLE, forefoot_tilt_deg=6.0)
    found = plan(moved(settled(right_foot=foot, saddle_width_mm=60.0), -40.0))
    ranks = [AREAS.index(one.change.area) for one in found.steps]
    assert ranks == sorted(ranks)
    assert {0, 1, 2} <= set(ranks)
    for earlier, later in zip(found.steps, found.steps[1:], strict=False):
        assert earlier.after == later.before


def test_legs_that_ask_for_opposite_changes_leave_the_saddle_alone():
    case = settled()
    long, short = Leg(440.0, 440.0, 150.0), Leg(423.0, 424.0, 150.0)
    sharp = {"knee_flexion_deg": 0.2, "forefoot_tilt_deg": 0.5, "pelvic_obliquity_deg": 0.5}
    found = plan(replace(case, rider=replace(case.rider, right_leg=long, left_leg=short), uncertainty=sharp))
    assert not any(one.change.area == "saddle height" for one in found.steps)
    assert {one.side for one in found.left if one.figure == "knee_flexion_bottom_deg"} == {"right", "left"}


@pytest.mark.parametrize("flag", [flag for flag in RED_FLAGS if flag.stops_fit], ids=lambda flag: flag.name)
def test_a_red_flag_stops_everything(flag):
    found = plan(replace(moved(settled(), -40.0), reported=(flag.name,)))
    assert found.steps == ()
    assert found.referral.stops_fit
    assert found.text().startswith("Stop: adjust nothing today.")
    assert "Raise the saddle" not in found.text()


def test_numb_feet_get_no_wedge_and_no_footbed_but_the_saddle_may_move():
    foot = replace(MIDDLE, forefoot_tilt_deg=6.0)
    found = plan(replace(moved(settled(right_foot=foot), -40.0), reported=("numb feet or diabetes",)))
    assert [one.change.area for one in found.steps] == ["saddle height"]
    assert found.text().startswith("The fit may go on with precautions.")


@pytest.mark.parametrize("reported", [(), ("pregnancy",), ("sudden foot drop",)])
def test_every_plan_says_who_decides_and_that_it_is_no_diagnosis(reported):
    text = plan(settled(reported=reported)).text()
    assert text.endswith(WHO_DECIDES)
    assert "not a diagnosis" in text


def test_findings_state_value_window_verdict_and_evidence():
    for finding in find(moved(settled(), -40.0)):
        assert finding.verdict in finding.text or finding.figure == "support tier"
        assert "Evidence: " in finding.text or "no source" in finding.text
        assert 0 <= finding.probability_inside <= 1


def test_every_window_belongs_to_an_area_and_names_its_evidence():
    assert {window.area for window in WINDOWS.values()} == set(AREAS)
    assert all(window.evidence and window.lower < window.upper for window in WINDOWS.values())


def test_a_worse_instrument_makes_less_sure():
    sharp, blunt = (
        next(
            f
            for f in find(replace(settled(), uncertainty={"knee_flexion_deg": u}))
            if f.figure == "knee_flexion_bottom_deg"
        )
        for u in (1.0, 5.0)
    )
    assert (sharp.verdict, blunt.verdict) == ("inside", "not sure")


@settings(max_examples=15)
@given(st.floats(-60, 30), st.floats(-6, 6), st.floats(-6, 6))
def test_whatever_the_case_steps_stay_small_and_never_nan(height, right, left):
    case = moved(
        settled(right_foot=replace(MIDDLE, forefoot_tilt_deg=right), left_foot=replace(MIDDLE, forefoot_tilt_deg=left)),
        height,
    )
    try:
        found = plan(case)
    except UnreachablePositionError:
        return
    for step in found.steps:
        before = case.setup.position
        after = step.change.setup.position
        assert abs(after.saddle_height_mm - before.saddle_height_mm) <= 2 * LARGEST_STEP_MM["saddle height"] + 1
        assert np.all(np.isfinite([*vars(step.after.right).values(), *vars(step.after.left).values()]))


@settings(max_examples=15)
@given(st.floats(-30, 20), st.floats(0.30, 0.42), st.floats(-6, 6))
def test_mirrored_rider_gets_the_mirrored_plan(height, arch, tilt):
    foot = Foot(arch, 14.0, tilt, 95.0)
    one = moved(settled(right_foot=foot), height)
    other = moved(settled(left_foot=foot), height)
    swap = {"right": "left", "left": "right", "both": "both"}
    steps = [(s.change.area, swap[s.change.side]) for s in plan(one).steps]
    assert sorted(steps) == sorted((s.change.area, s.change.side) for s in plan(other).steps)


@pytest.mark.parametrize(
    "call",
    [
        lambda: Shoe("thick"),
        lambda: Shoe("mild", -1.0),
        lambda: Shoe("mild", 1.0, "left"),
        lambda: Foot(0.34, 14.0, 0.0, 9.5),
        lambda: settled(push_n=0.0),
        lambda: settled(uncertainty={"knee": 1.0}),
        lambda: settled(uncertainty={"knee_flexion_deg": -1.0}),
        lambda: plan(settled(reported=("tired",))),
        lambda: plan(settled(), confidence=0.3),
        lambda: settled().rider.leg("inner"),
        lambda: settled().rider.foot("inner"),
        lambda: settled().setup.shoe("inner"),
        lambda: settled().setup.with_shoe("inner", Shoe()),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()
