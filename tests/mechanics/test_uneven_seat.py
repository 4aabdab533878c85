"""The pelvis from behind: obliquity, shift, and both knees."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke
from pedalwright.uneven_seat import knee_lateral_mm, pelvic_obliquity_deg, pelvis_shift_mm, uneven_seat

LEG = Leg(428.75, 430.5, 150.0)
POSITION = Position(740.0, 200.0, 170.0)
slope = st.floats(-8, 8)


def test_obliquity_is_positive_with_the_right_side_higher():
    assert pelvic_obliquity_deg(100.0, 0.0, 100.0) == pytest.approx(45.0)
    assert pelvic_obliquity_deg(0.0, 100.0, 100.0) == pytest.approx(-45.0)
    assert pelvic_obliquity_deg(905.0, 905.0, 240.0) == 0


def test_the_hips_shift_to_the_lower_side():
    """80 mm above the seat, 30°: half of it."""
    assert pelvis_shift_mm(20.0, 100.0) == pytest.approx(-100 * np.sin(np.radians(20)))
    assert pelvis_shift_mm(-20.0, 100.0) == pytest.approx(100 * np.sin(np.radians(20)))
    assert pelvis_shift_mm(0.0, slide_mm=7.0) == 7.0
    assert pelvis_shift_mm(20.0) == pytest.approx(0.8 * float(pelvis_shift_mm(20.0, 100.0)))


def knee_in_space(stroke, index, hip_z, foot_z):
    """Built in three dimensions: knee at both segment lengths, square to the line hip-ankle in the side view."""
    hip = np.array([*stroke.hip_mm[index], hip_z])
    ankle = np.array([*stroke.ankle_mm[index], foot_z])
    line = ankle - hip
    span = np.linalg.norm(line)
    along = (428.75**2 + span**2 - 430.5**2) / (2 * span)
    out = np.array([-line[1], line[0], 0.0])
    knee = hip + along * line / span + np.sqrt(428.75**2 - along**2) * out / np.linalg.norm(out)
    assert np.linalg.norm(knee - ankle) == pytest.approx(430.5)
    return knee


def test_knee_lies_on_the_line_from_hip_to_ankle_when_seen_from_the_front():
    stroke = solve_stroke(LEG, POSITION, [0.0, 90.0, 200.0])
    found = knee_lateral_mm(stroke, LEG, 85.0, 125.0)
    assert found == pytest.approx([knee_in_space(stroke, i, 85.0, 125.0)[2] for i in range(3)])


def test_a_leg_straight_below_the_hip_keeps_its_knee_there():
    stroke = solve_stroke(LEG, POSITION)
    assert knee_lateral_mm(stroke, LEG, 110.0, 110.0) == pytest.approx(np.full(72, 110.0))


@settings(max_examples=25)
@given(slope, st.floats(-10, 10))
def test_mirror_of_the_seat_swaps_the_legs(angle, slide):
    one = uneven_seat(LEG, POSITION, angle, slide_mm=slide)
    other = uneven_seat(LEG, POSITION, -angle, slide_mm=-slide)
    assert other.pelvis_shift_mm == pytest.approx(-float(one.pelvis_shift_mm))
    assert other.left_knee_inward_mm == pytest.approx(one.right_knee_inward_mm)
    assert other.left_knee_flexion_deg == pytest.approx(one.right_knee_flexion_deg)


def test_an_even_seat_moves_nothing():
    seat = uneven_seat(LEG, POSITION, 0.0)
    assert seat.right_knee_inward_mm == pytest.approx(np.zeros(72))
    assert seat.left_knee_inward_mm == pytest.approx(np.zeros(72))
    level = solve_stroke(LEG, POSITION)
    assert seat.right_knee_flexion_deg == pytest.approx(level.knee_flexion_deg)
    assert seat.crank_angle_deg.tolist() == level.crank_angle_deg.tolist()


@settings(max_examples=25)
@given(st.floats(0.5, 8))
def test_steeper_means_further(angle):
    small, large = (uneven_seat(LEG, POSITION, value) for value in (angle, angle + 1))
    assert np.all(large.right_knee_inward_mm > small.right_knee_inward_mm)
    assert np.all(large.left_knee_inward_mm < small.left_knee_inward_mm)


def test_the_higher_hip_reaches_further_down():
    seat = uneven_seat(LEG, POSITION, 3.0)
    bottom = 36
    level = solve_stroke(LEG, POSITION).knee_flexion_deg[bottom]
    assert seat.right_knee_flexion_deg[bottom] < level < seat.left_knee_flexion_deg[bottom]
    raised = replace(POSITION, hip_above_saddle_mm=30.0 + 85.0 * np.sin(np.radians(3.0)))
    assert seat.right_knee_flexion_deg == pytest.approx(solve_stroke(LEG, raised).knee_flexion_deg)


def test_a_slide_alone_moves_both_knees_the_same_way_across():
    seat = uneven_seat(LEG, POSITION, 0.0, slide_mm=-10.0)
    assert seat.pelvis_shift_mm == -10.0
    assert seat.right_knee_inward_mm == pytest.approx(-seat.left_knee_inward_mm, rel=0.02)
    assert np.all((seat.right_knee_inward_mm > 3) & (seat.right_knee_inward_mm < 7))


def test_hip_width_stance_and_height_are_used():
    wide = uneven_seat(LEG, POSITION, 3.0, hip_joint_width_mm=200.0)
    assert wide.right_knee_flexion_deg[36] < uneven_seat(LEG, POSITION, 3.0).right_knee_flexion_deg[36]
    high = uneven_seat(LEG, POSITION, 3.0, hip_above_seat_mm=120.0)
    assert high.pelvis_shift_mm == pytest.approx(-120 * np.sin(np.radians(3)))
    toe_down = uneven_seat(LEG, POSITION, 3.0, pedal_angle_deg=15.0)
    assert toe_down.right_knee_flexion_deg[36] > uneven_seat(LEG, POSITION, 3.0).right_knee_flexion_deg[36]
    narrow = uneven_seat(LEG, replace(POSITION, stance_width_mm=100.0), 3.0)
    assert narrow.right_knee_inward_mm != pytest.approx(uneven_seat(LEG, POSITION, 3.0).right_knee_inward_mm, abs=1e-6)


def test_many_slopes_at_once():
    seat = uneven_seat(LEG, POSITION, np.array([0.0, 2.0, 4.0]))
    assert seat.right_knee_inward_mm.shape == (3, 72)
    assert seat.right_knee_inward_mm[1] == pytest.approx(uneven_seat(LEG, POSITION, 2.0).right_knee_inward_mm)


def test_a_leg_too_short_sideways_raises_its_own_error():
    stroke = solve_stroke(LEG, POSITION, 180.0)
    with pytest.raises(UnreachablePositionError, match=r"received hip 600 and pedal 125 .* allowed"):
        knee_lateral_mm(stroke, LEG, 600.0, 125.0)


def test_a_hip_lifted_out_of_reach_raises_its_own_error():
    with pytest.raises(UnreachablePositionError):
        uneven_seat(LEG, Position(795.0, 200.0, 170.0), 15.0)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: pelvic_obliquity_deg(np.nan, 0.0, 1.0), "right_height_mm"),
        (lambda: pelvic_obliquity_deg(0.0, np.nan, 1.0), "left_height_mm"),
        (lambda: pelvic_obliquity_deg(0.0, 0.0, 0.0), "width_mm"),
        (lambda: pelvis_shift_mm(20.1), "pelvic_obliquity_deg"),
        (lambda: pelvis_shift_mm(-20.1), "pelvic_obliquity_deg"),
        (lambda: pelvis_shift_mm(1.0, 0.0), "hip_above_seat_mm"),
        (lambda: pelvis_shift_mm(1.0, 80.0, np.nan), "slide_mm"),
        (lambda: knee_lateral_mm(solve_stroke(LEG, POSITION), LEG, np.nan, 1.0), "hip_lateral_mm"),
        (lambda: knee_lateral_mm(solve_stroke(LEG, POSITION), LEG, 1.0, np.nan), "pedal_lateral_mm"),
        (lambda: knee_lateral_mm(solve_stroke(LEG, POSITION), Leg(0, 1, 1), 1.0, 1.0), "thigh_length_mm"),
        (lambda: knee_lateral_mm(solve_stroke(LEG, POSITION), Leg(1, 0, 1), 1.0, 1.0), "shank_length_mm"),
        (lambda: uneven_seat(LEG, POSITION, 1.0, hip_joint_width_mm=0.0), "hip_joint_width_mm"),
        (lambda: uneven_seat(LEG, replace(POSITION, stance_width_mm=0.0), 1.0), "stance_width_mm"),
        (lambda: uneven_seat(LEG, replace(POSITION, hip_above_saddle_mm=np.nan), 1.0), "hip_above_saddle_mm"),
    ],
)
def test_unusable_input_raises_an_error_that_names_it(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}"):
        call()


def test_knees_in_space_from_hips_stance_and_slope():
    """Hips 170 mm apart and pedals 250 mm apart, 80 mm above the seat, a slope of 6°, the toe 10° down."""
    slope = np.radians(6.0)
    shift = -80 * np.sin(slope)
    seat = uneven_seat(LEG, POSITION, 6.0, pedal_angle_deg=10.0)
    level = solve_stroke(LEG, POSITION, None, 10.0)
    for side, knee in ((1, seat.right_knee_inward_mm), (-1, seat.left_knee_inward_mm)):
        place = replace(POSITION, hip_above_saddle_mm=30.0 + side * 85 * np.sin(slope))
        stroke = solve_stroke(LEG, place, None, 10.0)
        for i in range(0, 72, 6):
            even = knee_in_space(level, i, side * 85.0, side * 125.0)[2]
            moved = knee_in_space(stroke, i, shift + side * 85 * np.cos(slope), side * 125.0)[2]
            assert knee[i] == pytest.approx(side * (even - moved), abs=1e-9)


def test_an_even_seat_moves_nothing_with_the_toe_down():
    assert uneven_seat(LEG, POSITION, 0.0, pedal_angle_deg=15.0).right_knee_inward_mm == pytest.approx(np.zeros(72))


def test_a_leg_just_long_enough_sideways_is_straight():
    stroke = solve_stroke(LEG, POSITION, 180.0)
    span = stroke.hip_mm[0] - stroke.ankle_mm[0]
    beside = np.sqrt((428.75 + 430.5) ** 2 - span @ span)
    assert knee_lateral_mm(stroke, LEG, beside - 1e-6, 0.0) == pytest.approx(beside * 430.5 / 859.25, rel=1e-6)


def test_small_sizes_are_allowed():
    assert pelvic_obliquity_deg(0.1, 0.0, 0.5) > 0
    assert pelvis_shift_mm(10.0, 0.5) == pytest.approx(-0.5 * np.sin(np.radians(10)))
    narrow = uneven_seat(LEG, replace(POSITION, stance_width_mm=0.5), 2.0, hip_joint_width_mm=0.5)
    assert np.all(np.isfinite(narrow.right_knee_inward_mm))


def test_the_error_says_what_to_do():
    with pytest.raises(
        UnreachablePositionError, match=r"mm from the midline; .* lower the saddle or bring them together$"
    ):
        knee_lateral_mm(solve_stroke(LEG, POSITION, 180.0), LEG, 600.0, 125.0)
