"""Contact points and where they put hip and pedal."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.foot_on_pedal import ankle_to_pedal, ankle_to_pedal_from_foot
from pedalwright.position import (
    Leg,
    Position,
    hip_position_mm,
    leg_splay_deg,
    raised,
    saddle_point_mm,
    slid_back,
)

positions = st.builds(
    Position,
    saddle_height_mm=st.floats(550, 900),
    saddle_setback_mm=st.floats(-100, 350),
    crank_length_mm=st.floats(140, 190),
)


def test_three_four_five():
    assert saddle_point_mm(Position(500, 300, 170)).tolist() == [-300, 400]
    hip = hip_position_mm(Position(500, 300, 170, hip_above_saddle_mm=40, hip_ahead_of_saddle_mm=15))
    assert hip.tolist() == [-285, 440]


def test_positions_broadcast():
    position = Position([700, 720], [[180], [200], [220]], 170, hip_above_saddle_mm=[[30], [40], [50]])
    assert hip_position_mm(position).shape == (3, 2, 2)
    np.testing.assert_allclose(np.hypot(*np.moveaxis(saddle_point_mm(position), -1, 0))[1], [700, 720])


@given(positions, st.floats(-50, 50))
def test_raising_moves_along_the_seat_tube_line(position, by):
    before, after = saddle_point_mm(position), saddle_point_mm(raised(position, by))
    np.testing.assert_allclose(np.hypot(*after), position.saddle_height_mm + by)
    np.testing.assert_allclose(before[0] * after[1], before[1] * after[0], rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(saddle_point_mm(raised(raised(position, by), -by)), before, atol=1e-6)


@given(positions, st.floats(-50, 50))
def test_sliding_keeps_the_level(position, by):
    before, after = saddle_point_mm(position), saddle_point_mm(slid_back(position, by))
    np.testing.assert_allclose(after, [before[0] - by, before[1]], atol=1e-6)


def test_moves_keep_everything_else():
    position = Position(700, 200, 165, 35, 5, 8, 260)
    for moved in (raised(position, 5), slid_back(position, 5)):
        assert (moved.crank_length_mm, moved.hip_above_saddle_mm, moved.hip_ahead_of_saddle_mm) == (165, 35, 5)
        assert (moved.pedal_behind_ball_mm, moved.stance_width_mm) == (8, 260)


# Ankle 90 mm above and 120 mm behind the axle: 150 mm and atan(3/4) (3-4-5 triangle).
def test_line_from_ankle_to_pedal():
    length, slope = ankle_to_pedal_from_foot(68, 120, 22)
    np.testing.assert_allclose((length, slope), (150, np.degrees(np.arctan2(3, 4))))
    leg = Leg(430, 430, length, slope)
    np.testing.assert_allclose(ankle_to_pedal(leg, Position(700, 200, 170)), (150, slope))
    # Pedal 30 mm nearer to the heel: 90 ahead, 90 below, a slope of 45°.
    back = ankle_to_pedal(leg, Position(700, 200, 170, pedal_behind_ball_mm=30))
    np.testing.assert_allclose(back, (90 * np.sqrt(2), 45))


# Pedals 40 mm further out than the hips on each side, seen over the straight distance hip to pedal at the bottom.
def test_splay_of_the_leg_from_the_front():
    position = Position(500, 300, 170, hip_above_saddle_mm=30, stance_width_mm=250)
    np.testing.assert_allclose(leg_splay_deg(position, 170), np.degrees(np.arctan(40 / np.hypot(300, 600))))
    np.testing.assert_allclose(leg_splay_deg(Position(500, 300, 170, stance_width_mm=170), 170), 0)
    assert leg_splay_deg(Position(500, 300, 170, stance_width_mm=100), 170) < 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: saddle_point_mm(Position(300, 300, 170)),
        lambda: saddle_point_mm(Position(300, -301, 170)),
        lambda: saddle_point_mm(Position([500, 300], 400, 170)),
        lambda: saddle_point_mm(Position(73.0, 20, 170)),
        lambda: saddle_point_mm(Position(0.73, 0.2, 170)),
        lambda: saddle_point_mm(Position(2001, 200, 170)),
        lambda: saddle_point_mm(Position(700, np.nan, 170)),
        lambda: hip_position_mm(Position(700, 200, 170, hip_above_saddle_mm=301)),
        lambda: hip_position_mm(Position(700, 200, 170, hip_above_saddle_mm=-101)),
        lambda: hip_position_mm(Position(700, 200, 170, hip_ahead_of_saddle_mm=301)),
        lambda: hip_position_mm(Position(700, 200, 170, hip_ahead_of_saddle_mm=-301)),
        lambda: ankle_to_pedal(Leg(430, 430, 15), Position(700, 200, 170)),
        lambda: ankle_to_pedal(Leg(430, 430, 401), Position(700, 200, 170)),
        lambda: ankle_to_pedal(Leg(430, 430, 150, 0), Position(700, 200, 170)),
        lambda: ankle_to_pedal(Leg(430, 430, 150, 90), Position(700, 200, 170)),
        lambda: ankle_to_pedal(Leg(430, 430, 150), Position(700, 200, 170, pedal_behind_ball_mm=151)),
        lambda: ankle_to_pedal(Leg(430, 430, 150), Position(700, 200, 170, pedal_behind_ball_mm=-101)),
        lambda: ankle_to_pedal_from_foot(6.8, 120, 22),
        lambda: ankle_to_pedal_from_foot(201, 120, 22),
        lambda: ankle_to_pedal_from_foot(68, 12, 22),
        lambda: ankle_to_pedal_from_foot(68, 301, 22),
        lambda: ankle_to_pedal_from_foot(68, 120, -1),
        lambda: ankle_to_pedal_from_foot(68, 120, 101),
        lambda: raised(Position(700, 200, 170), -650),
        lambda: raised(Position(700, 200, 170), np.nan),
        lambda: slid_back(Position(700, 200, 170), np.inf),
        lambda: leg_splay_deg(Position(700, 200, 17.0)),
        lambda: leg_splay_deg(Position(700, 200, 170, stance_width_mm=-1)),
        lambda: leg_splay_deg(Position(700, 200, 170, stance_width_mm=601)),
        lambda: leg_splay_deg(Position(700, 200, 170), 49),
        lambda: leg_splay_deg(Position(700, 200, 170), 401),
    ],
)
def test_wrong_values_are_refused(call):
    with pytest.raises(OutOfRangeError, match=r"received .*; allowed: .*; "):
        call()


@pytest.mark.parametrize("foot_in_cm", [(6.8, 120, 22), (68, 12, 22), (68, 120, -2.2)])
def test_a_foot_measured_in_other_units_is_told_so(foot_in_cm):
    with pytest.raises(OutOfRangeError, match="in millimetres"):
        ankle_to_pedal_from_foot(*foot_in_cm)


def test_a_cleat_far_off_the_foot_is_told_the_unit():
    with pytest.raises(OutOfRangeError, match=r"pedal_behind_ball_mm.*in millimetres"):
        ankle_to_pedal(Leg(430, 430, 150, 30), Position(700, 200, 170, pedal_behind_ball_mm=300))
