"""Curves over one turn: reading, integrating, highest points."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy.integrate import quad

from pedalwright.errors import OutOfRangeError
from pedalwright.turn import (
    at_crank_angle,
    checked_curve,
    highest_point,
    integral_to,
    lowest_point,
    mean_over_turn,
    sampled_angles_deg,
    sector_edges_deg,
)

curves = st.integers(3, 40).flatmap(lambda count: arrays(float, count, elements=st.floats(-500, 500)))


@given(curves, st.floats(-800, 800))
def test_reading_agrees_with_periodic_linear_interpolation(curve, angle):
    angles = np.append(sampled_angles_deg(len(curve)), 360)
    expected = np.interp(np.mod(angle, 360), angles, np.append(curve, curve[0]))
    np.testing.assert_allclose(at_crank_angle(curve, angle), expected, atol=1e-8)


def test_reads_samples_exactly_and_wraps():
    curve = np.array([[1.0, 5.0, 2.0, -3.0], [0.0, 1.0, 0.0, 1.0]])
    assert at_crank_angle(curve, [0, 90, 180, 270, 360, -90]).tolist() == [[1, 5, 2, -3, 1, -3], [0, 1, 0, 1, 0, 1]]
    assert at_crank_angle(curve, 315).tolist() == [-1.0, 0.5]


@given(curves)
def test_the_integral_of_a_turn_is_the_mean_times_a_turn(curve):
    np.testing.assert_allclose(integral_to(curve, 360), 2 * np.pi * mean_over_turn(curve), atol=1e-9)


@given(curves, st.floats(-400, 400), st.floats(-400, 400))
def test_integrals_add_up(curve, one, other):
    whole = integral_to(curve, [one, other, one + 360, other - 720])
    turn = 2 * np.pi * curve.mean()
    np.testing.assert_allclose(whole[2] - whole[0], turn, atol=1e-7)
    np.testing.assert_allclose(whole[1] - whole[3], 2 * turn, atol=1e-7)


@pytest.mark.parametrize("end", [10.0, 90.0, 123.4, 359.0, 400.0, -33.0])
def test_the_integral_agrees_with_numerical_quadrature(end):
    curve = np.array([3.0, -1.0, 4.0, 1.0, -5.0, 9.0, 2.0])
    nodes = [k * 360 / 7 for k in range(-14, 15) if min(0, end) < k * 360 / 7 < max(0, end)]
    expected, _ = quad(lambda a: at_crank_angle(curve, a).item(), 0, end, points=nodes, epsabs=1e-10)
    np.testing.assert_allclose(integral_to(curve, end), np.radians(expected), rtol=1e-9)


def test_riders_stay_apart():
    curve = np.array([[1.0, 1.0, 1.0], [2.0, 2.0, 2.0]])
    np.testing.assert_allclose(integral_to(curve, [180, 360]) / np.pi, [[1, 2], [2, 4]])
    assert mean_over_turn(curve).tolist() == [1, 2]


def test_sector_edges():
    assert sector_edges_deg(4).tolist() == [0, 90, 180, 270, 360]
    assert sector_edges_deg(4, -45).tolist() == [-45, 45, 135, 225, 315]
    # Sectors four to six of sixteen are 67.5° to 135° (arithmetic).
    assert sector_edges_deg(16)[[3, 6]].tolist() == [67.5, 135]


@given(st.floats(0, 359), st.floats(0.1, 50), st.floats(-20, 20))
def test_highest_and_lowest_point_of_a_cosine(where, size, level):
    curve = level + size * np.cos(np.radians(sampled_angles_deg(72) - where))
    value, angle = highest_point(curve)
    low, low_angle = lowest_point(curve)
    np.testing.assert_allclose(value, level + size, rtol=1e-5, atol=1e-5 * size)
    np.testing.assert_allclose(low, level - size, rtol=1e-5, atol=1e-5 * size)
    assert abs((angle - where + 180) % 360 - 180) < 0.01
    assert abs((low_angle - where) % 360 - 180) < 0.01


def test_highest_point_of_each_rider_and_of_a_flat_curve():
    value, angle = highest_point([[0.0, 3.0, 0.0, 0.0], [1.0, 1.0, 1.0, 1.0]])
    assert value.tolist() == [3.0, 1.0]
    assert angle.tolist() == [90.0, 0.0]


def test_highest_point_between_samples_follows_the_parabola():
    # Parabola 5 - (a - 100)²/400 sampled every 90° around its top, lower elsewhere (hand-worked).
    samples = [5 - (a - 100) ** 2 / 400 for a in (0, 90, 180, 270)]
    value, angle = highest_point(samples)
    np.testing.assert_allclose([value, angle], [5, 100])


def test_highest_point_just_before_the_top_is_not_called_negative():
    # Parabola 5 - (a + 10)²/400 around the top of the crank circle: its top lies 10° before 360° (hand-worked).
    samples = [5 - (a + 10) ** 2 / 400 for a in (0, 90, 180, -90)]
    value, angle = highest_point(samples)
    np.testing.assert_allclose([value, angle], [5, 350])


@pytest.mark.parametrize("values", [5.0, [1.0], [1.0, 2.0], [[1.0, 2.0]], [1.0, np.nan, 2.0]])
def test_too_few_or_missing_samples_are_refused(values):
    with pytest.raises(OutOfRangeError, match="torque_nm"):
        checked_curve("torque_nm", values)


def test_counts_are_refused_under_their_own_name():
    with pytest.raises(OutOfRangeError, match=r"^count: received 0"):
        sampled_angles_deg(0)
    with pytest.raises(OutOfRangeError, match=r"^sector_count: received 0"):
        sector_edges_deg(0)


def test_the_message_counts_the_samples():
    with pytest.raises(OutOfRangeError, match="received 2 samples"):
        mean_over_turn([[1.0, 2.0]])
    with pytest.raises(OutOfRangeError, match="received 1 samples"):
        mean_over_turn(4.0)
