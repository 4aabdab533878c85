"""The pelvis on the saddle: bearing width, hip moved by a roll, hip closure."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.pelvis import (
    POSTURE_ROLL_DEG,
    bearing_width_mm,
    bone_margin_mm,
    hip_closure,
    pelvic_tilt_deg,
    rolled_forward,
)
from pedalwright.pelvis_reports import PUBIC_ARCH_ANGLES_DEG, SIT_BONE_WIDTHS_MM
from pedalwright.position import Leg, Position, hip_position_mm
from pedalwright.stroke import solve_stroke

LEG = Leg(428.75, 430.5, 150.0)
POSITION = Position(740.0, 200.0, 170.0)
roll = st.floats(0, 60)
bones = st.floats(60, 180)


@given(bones)
def test_sitting_upright_the_pelvis_bears_on_the_sit_bones(width):
    assert bearing_width_mm(width, 0.0) == width


@given(bones, roll, roll)
def test_rolling_further_never_widens_the_bearing(width, one, other):
    less, more = sorted((one, other))
    assert bearing_width_mm(width, more) <= bearing_width_mm(width, less)


def test_narrowing_by_hand():
    """R = 60, φ = 30° = π/6, α = 90°: 2·60·π/6·tan 45° = 62.83 mm less."""
    assert bearing_width_mm(140.0, 30.0, ramus_angle_deg=90.0) == pytest.approx(140 - 20 * np.pi)
    assert bearing_width_mm(140.0, 30.0, ramus_angle_deg=90.0, rocker_radius_mm=30.0) == pytest.approx(140 - 10 * np.pi)


def test_parallel_bones_do_not_narrow():
    assert bearing_width_mm(120.0, 40.0, ramus_angle_deg=0.0) == 120


def test_bearing_never_falls_below_the_place_where_the_bones_meet():
    assert bearing_width_mm(80.0, 60.0) == 30
    assert bearing_width_mm(80.0, 60.0, least_width_mm=45.0) == 45
    assert bearing_width_mm(60.0, 60.0, least_width_mm=70.0) == 60


@given(st.floats(80, 250), st.floats(40, 200))
def test_margin_is_half_of_what_the_saddle_is_wider(saddle, bearing):
    assert 2 * bone_margin_mm(saddle, bearing) + bearing == pytest.approx(saddle)


def test_tilt_is_positive_when_the_front_spine_is_lower():
    assert pelvic_tilt_deg([100.0, -100.0], [0.0, 0.0]) == pytest.approx(45.0)
    assert pelvic_tilt_deg([100.0, 100.0], [0.0, 0.0]) == pytest.approx(-45.0)
    assert pelvic_tilt_deg([[260.0, 900.0]], [[100.0, 900.0]]).tolist() == [0.0]


@given(st.floats(-60, 60), st.floats(-50, 50), st.floats(20, 120))
def test_a_roll_turns_the_hip_about_the_sitting_point(angle, ahead, above):
    before = Position(740.0, 200.0, 170.0, hip_above_saddle_mm=above, hip_ahead_of_saddle_mm=ahead)
    after = rolled_forward(before, angle)
    offset = np.array([after.hip_ahead_of_saddle_mm, after.hip_above_saddle_mm], dtype=float)
    assert np.hypot(*offset) == pytest.approx(np.hypot(ahead, above))
    turned = np.degrees(np.arctan2(above, ahead) - np.arctan2(offset[1], offset[0]))
    assert (turned - angle + 180) % 360 - 180 == pytest.approx(0, abs=1e-6)
    back = rolled_forward(after, -angle)
    assert hip_position_mm(back) == pytest.approx(hip_position_mm(before))


def test_a_forward_roll_carries_the_hip_forward_and_down():
    after = rolled_forward(Position(740.0, 200.0, 170.0, hip_above_saddle_mm=80.0), 20.0)
    assert after.hip_ahead_of_saddle_mm == pytest.approx(80 * np.sin(np.radians(20)))
    assert after.hip_above_saddle_mm == pytest.approx(80 * np.cos(np.radians(20)))
    assert (after.saddle_height_mm, after.saddle_setback_mm, after.crank_length_mm) == (740.0, 200.0, 170.0)


@given(st.floats(0, 40), st.floats(0, 20))
def test_tilting_the_pelvis_closes_the_hip_degree_for_degree(tilt, more):
    one, other = (hip_closure(LEG, POSITION, pelvis_forward_tilt_deg=value) for value in (tilt, tilt + more))
    assert other.top_hip_flexion_deg - one.top_hip_flexion_deg == pytest.approx(more, abs=1e-9)
    assert other.greatest_hip_flexion_deg - one.greatest_hip_flexion_deg == pytest.approx(more, abs=1e-9)
    assert other.least_trunk_thigh_deg == pytest.approx(float(one.least_trunk_thigh_deg))


def test_lowering_the_trunk_closes_the_trunk_angle_only():
    high, low = (hip_closure(LEG, POSITION, trunk_angle_deg=value) for value in (50.0, 30.0))
    assert high.least_trunk_thigh_deg - low.least_trunk_thigh_deg == pytest.approx(20.0)
    assert high.top_hip_flexion_deg == low.top_hip_flexion_deg


def test_a_longer_crank_closes_the_hip_and_a_raised_saddle_opens_it():
    cranks = hip_closure(LEG, Position(740.0, 200.0, np.array([160.0, 170.0, 180.0]))).greatest_hip_flexion_deg
    assert np.all(np.diff(cranks) > 0)
    saddles = hip_closure(LEG, Position(np.array([700.0, 720.0, 740.0]), 200.0, 170.0)).greatest_hip_flexion_deg
    assert np.all(np.diff(saddles) < 0)


def test_closure_is_read_off_the_stroke():
    stroke = solve_stroke(LEG, POSITION, np.arange(360.0), 8.0, pelvis_forward_tilt_deg=12.0, trunk_angle_deg=40.0)
    found = hip_closure(LEG, POSITION, pelvis_forward_tilt_deg=12.0, trunk_angle_deg=40.0, pedal_angle_deg=8.0)
    assert found.top_hip_flexion_deg == stroke.hip_flexion_deg[0]
    assert found.greatest_hip_flexion_deg == stroke.hip_flexion_deg.max()
    assert found.greatest_at_crank_deg == np.argmax(stroke.hip_flexion_deg)
    assert found.least_trunk_thigh_deg == stroke.trunk_thigh_angle_deg.min()


def test_postures_roll_further_and_further():
    rolls = list(POSTURE_ROLL_DEG.values())
    assert rolls[0] == 0
    assert rolls == sorted(rolls)


def test_reported_widths_and_angles_disagree():
    trade, study = SIT_BONE_WIDTHS_MM
    assert trade.upper < study.upper
    assert (trade.upper + trade.lower) / 2 < study.lower
    women_scan, _, women_radiograph, _ = PUBIC_ARCH_ANGLES_DEG
    assert women_scan.upper < women_radiograph.lower


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: pelvic_tilt_deg([1.0, 2.0, 3.0], [0.0, 0.0]), "front_spine_mm, back_spine_mm"),
        (lambda: pelvic_tilt_deg([1.0, 2.0], [0.0]), "front_spine_mm, back_spine_mm"),
        (lambda: pelvic_tilt_deg([np.nan, 2.0], [0.0, 0.0]), "front_spine_mm"),
        (lambda: pelvic_tilt_deg([1.0, 2.0], [np.nan, 0.0]), "back_spine_mm"),
        (lambda: pelvic_tilt_deg([0.0, 2.0], [0.0, 0.0]), "front spine ahead of back spine: .*swap the points"),
        (lambda: bearing_width_mm(49.0, 0.0), "sit_bone_width_mm: .*in mm"),
        (lambda: bearing_width_mm(221.0, 0.0), "sit_bone_width_mm"),
        (lambda: bearing_width_mm(120.0, -1.0), "pelvic_roll_deg"),
        (lambda: bearing_width_mm(120.0, 61.0), "pelvic_roll_deg"),
        (lambda: bearing_width_mm(120.0, 0.0, rocker_radius_mm=0.0), "rocker_radius_mm"),
        (lambda: bearing_width_mm(120.0, 0.0, ramus_angle_deg=-1.0), "ramus_angle_deg"),
        (lambda: bearing_width_mm(120.0, 0.0, ramus_angle_deg=180.0), "ramus_angle_deg"),
        (lambda: bearing_width_mm(120.0, 0.0, least_width_mm=0.0), "least_width_mm"),
        (lambda: bone_margin_mm(0.0, 120.0), "saddle_width_mm"),
        (lambda: bone_margin_mm(120.0, 0.0), "bearing_width_mm"),
        (lambda: rolled_forward(POSITION, 61.0), "pelvic_roll_deg"),
        (lambda: rolled_forward(POSITION, -61.0), "pelvic_roll_deg"),
        (lambda: rolled_forward(Position(740, 200, 170, hip_above_saddle_mm=np.nan), 1.0), "hip_above_saddle_mm"),
        (lambda: rolled_forward(Position(740, 200, 170, hip_ahead_of_saddle_mm=np.nan), 1.0), "hip_ahead_of_saddle_mm"),
    ],
)
def test_unusable_input_raises_an_error_that_names_it(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}"):
        call()


def test_ends_of_the_ranges_are_allowed():
    assert bearing_width_mm([50.0, 220.0], [[0.0], [60.0]]).shape == (2, 2)
    assert rolled_forward(POSITION, [-60.0, 60.0]).hip_above_saddle_mm.shape == (2,)


def test_a_position_out_of_reach_raises_its_own_error():
    with pytest.raises(UnreachablePositionError):
        hip_closure(LEG, Position(900.0, 200.0, 170.0))


def test_a_roll_by_hand():
    """30 mm ahead and 80 mm above, rolled 30°: 30·cos + 80·sin and 80·cos − 30·sin."""
    start = Position(740.0, 200.0, 170.0, hip_above_saddle_mm=80.0, hip_ahead_of_saddle_mm=30.0)
    after = rolled_forward(start, 30.0)
    assert after.hip_ahead_of_saddle_mm == pytest.approx(65.981, abs=1e-3)
    assert after.hip_above_saddle_mm == pytest.approx(54.282, abs=1e-3)


def test_tilt_counts_from_the_back_spine_wherever_it_lies():
    assert pelvic_tilt_deg([400.0, 800.0], [300.0, 900.0]) == pytest.approx(45.0)
    assert pelvic_tilt_deg([0.5, 0.0], [0.0, 0.0]) == 0
    with pytest.raises(OutOfRangeError, match=r"; swap the points; x is forward$"):
        pelvic_tilt_deg([100.0, 0.0], [300.0, 0.0])


def test_defaults_by_hand():
    """2·60·(20° in radians)·tan 37.5° = 32.14 mm less; a level pedal."""
    assert bearing_width_mm(120.0, 20.0) == pytest.approx(120 - 32.14, abs=0.005)
    assert hip_closure(LEG, POSITION) == hip_closure(LEG, POSITION, pedal_angle_deg=0.0)


def test_messages_say_what_to_do():
    with pytest.raises(OutOfRangeError, match=r"; measure between the bones, in mm$"):
        bearing_width_mm(12.0, 0.0)
    with pytest.raises(
        OutOfRangeError, match=r"; allowed: \(forward, up\) on the last axis; give two numbers a point$"
    ):
        pelvic_tilt_deg([1.0], [0.0])


def test_every_whole_degree_of_the_crank_is_looked_at_for_each_rider():
    positions = Position(np.linspace(700.0, 745.0, 10), 200.0, 170.0)
    found = hip_closure(LEG, positions, pedal_angle_deg=4.0)
    stroke = solve_stroke(LEG, positions, np.arange(360.0), 4.0)
    assert found.greatest_at_crank_deg.tolist() == np.argmax(stroke.hip_flexion_deg, axis=-1).tolist()
    assert len(set(found.greatest_at_crank_deg % 2)) == 2
    assert found.least_trunk_thigh_deg == pytest.approx(stroke.trunk_thigh_angle_deg.min(axis=-1))


def test_small_sizes_are_allowed():
    assert bearing_width_mm(120.0, 10.0, rocker_radius_mm=0.5) < 120
    assert bearing_width_mm(60.0, 60.0, least_width_mm=0.5) == 0.5
    assert bone_margin_mm(0.8, 0.4) == pytest.approx(0.2)
