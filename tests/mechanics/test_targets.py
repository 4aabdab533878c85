"""The inverse of a position meets its target, checked by solving the stroke forward and by a general root finder."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.position import Leg, Position, raised, saddle_point_mm
from pedalwright.stroke import knee_over_pedal_mm, solve_stroke
from pedalwright.targets import KEEP, saddle_for_knee_flexion, setback_for_knee_over_pedal

LEG = Leg(428.75, 430.5, 150)
POSITION = Position(730, 200, 170)


@given(st.floats(10, 60), st.floats(120, 200), st.floats(-20, 25), st.sampled_from(sorted(KEEP)), st.floats(0.8, 1.2))
def test_the_target_is_met(flexion, crank, pedal, keep, size):
    leg = Leg(430 * size, 430 * size, 150 * size)
    position = Position(730 * size, 200 * size, 170)
    found = saddle_for_knee_flexion(leg, position, flexion, crank_angle_deg=crank, pedal_angle_deg=pedal, keep=keep)
    reached = solve_stroke(leg, found, crank, pedal).knee_flexion_deg[0]
    np.testing.assert_allclose(reached, flexion, atol=1e-6)


def test_a_root_finder_finds_the_same_height():
    def miss(height):
        return solve_stroke(LEG, Position(height, 200 * height / 730, 170), 180.0).knee_flexion_deg.item() - 30

    expected = brentq(miss, 650, 760, xtol=1e-10)
    found = saddle_for_knee_flexion(LEG, POSITION, 30)
    np.testing.assert_allclose(found.saddle_height_mm, expected, atol=1e-6)
    np.testing.assert_allclose(found.saddle_setback_mm, 200 * expected / 730, atol=1e-6)


def test_what_is_kept():
    along = saddle_point_mm(saddle_for_knee_flexion(LEG, POSITION, 35))
    up = saddle_point_mm(saddle_for_knee_flexion(LEG, POSITION, 35, keep="setback"))
    here = saddle_point_mm(POSITION)
    np.testing.assert_allclose(along[0] / along[1], here[0] / here[1])
    np.testing.assert_allclose(up[0], here[0])
    assert along[1] != pytest.approx(up[1], abs=1e-3)


def test_targets_broadcast():
    found = saddle_for_knee_flexion(LEG, POSITION, [[25], [30], [35]], pedal_angle_deg=[0, 10])
    assert np.shape(found.saddle_height_mm) == (3, 2)
    assert np.all(np.diff(found.saddle_height_mm, axis=0) < 0)
    assert np.all(np.diff(found.saddle_height_mm, axis=1) > 0)


def test_the_hip_offset_is_taken_into_account():
    high = Position(730, 200, 170, hip_above_saddle_mm=60, hip_ahead_of_saddle_mm=20, pedal_behind_ball_mm=10)
    found = saddle_for_knee_flexion(LEG, high, 30)
    np.testing.assert_allclose(solve_stroke(LEG, found, 180).knee_flexion_deg, 30)


@given(st.floats(-40, 40), st.floats(-15, 10), st.floats(0, 60))
def test_the_knee_comes_where_it_is_wanted(ahead, pedal, front):
    try:
        found = setback_for_knee_over_pedal(LEG, POSITION, ahead, pedal_angle_deg=pedal, front_of_knee_mm=front)
    except UnreachablePositionError:
        assume(False)
    np.testing.assert_allclose(knee_over_pedal_mm(LEG, found, pedal, front_of_knee_mm=front), ahead, atol=1e-6)
    np.testing.assert_allclose(saddle_point_mm(found)[1], saddle_point_mm(POSITION)[1])


def test_setbacks_broadcast_and_a_root_finder_agrees():
    found = setback_for_knee_over_pedal(LEG, POSITION, [-10, 0, 10])
    assert np.all(np.diff(found.saddle_setback_mm) < 0)
    level = saddle_point_mm(POSITION)[1]

    def miss(setback):
        return knee_over_pedal_mm(LEG, Position(np.hypot(setback, level), setback, 170)).item()

    np.testing.assert_allclose(found.saddle_setback_mm[1], brentq(miss, 100, 300, xtol=1e-10), atol=1e-6)


def test_a_round_trip_gives_the_position_back():
    knee = solve_stroke(LEG, POSITION, 180).knee_flexion_deg[0]
    again = saddle_for_knee_flexion(LEG, raised(POSITION, 20), knee)
    np.testing.assert_allclose((again.saddle_height_mm, again.saddle_setback_mm), (730, 200))
    again = setback_for_knee_over_pedal(LEG, POSITION, knee_over_pedal_mm(LEG, POSITION))
    np.testing.assert_allclose((again.saddle_height_mm, again.saddle_setback_mm), (730, 200))


def test_targets_out_of_reach_say_so():
    far = Position(1000, 990, 170)
    with pytest.raises(UnreachablePositionError, match="further forward"):
        saddle_for_knee_flexion(LEG, far, 30, keep="setback")
    with pytest.raises(UnreachablePositionError, match="too short"):
        setback_for_knee_over_pedal(LEG, POSITION, 400)
    with pytest.raises(UnreachablePositionError, match="the thigh"):
        setback_for_knee_over_pedal(LEG, Position(1200, 200, 170), 0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: saddle_for_knee_flexion(LEG, POSITION, -1),
        lambda: saddle_for_knee_flexion(LEG, POSITION, 151),
        lambda: saddle_for_knee_flexion(LEG, POSITION, 30, keep="everything"),
        lambda: saddle_for_knee_flexion(LEG, POSITION, 30, pedal_angle_deg=91),
        lambda: saddle_for_knee_flexion(LEG, POSITION, 30, crank_angle_deg=np.nan),
        lambda: saddle_for_knee_flexion(Leg(43, 430, 150), POSITION, 30),
        lambda: saddle_for_knee_flexion(LEG, Position(730, 200, 17.0), 30),
        lambda: setback_for_knee_over_pedal(LEG, Position(730, 200, 17.0)),
        lambda: saddle_for_knee_flexion(Leg(430, 43, 150), POSITION, 30),
        lambda: saddle_for_knee_flexion(Leg(430, 430, 1.5), POSITION, 30),
        lambda: setback_for_knee_over_pedal(LEG, POSITION, np.nan),
        lambda: setback_for_knee_over_pedal(LEG, POSITION, 0, front_of_knee_mm=151),
        lambda: setback_for_knee_over_pedal(LEG, POSITION, 0, front_of_knee_mm=-101),
        lambda: setback_for_knee_over_pedal(LEG, POSITION, 0, pedal_angle_deg=-91),
        lambda: setback_for_knee_over_pedal(Leg(43, 430, 150), POSITION),
        lambda: setback_for_knee_over_pedal(Leg(430, 43, 150), POSITION),
    ],
)
def test_wrong_values_are_refused(call):
    with pytest.raises(OutOfRangeError):
        call()
