"""Pedal force on the crank: exact vector algebra, torque, power, work by sector, coupled cranks."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from pedalwright.conventions import crank_direction, tangent_direction
from pedalwright.errors import OutOfRangeError
from pedalwright.force import (
    both_legs_torque_nm,
    crank_force_from_pedal,
    crank_torque_nm,
    mean_over_turn,
    opposite_crank_angle_deg,
    pedal_force_from_crank,
    power_w,
    resolve_on_crank,
    torque_for_power_nm,
    work_by_sector_j,
)

forces = st.floats(-1000, 1000)
angles = st.floats(-180, 180)
curves = st.integers(3, 73).flatmap(lambda count: arrays(float, count, elements=st.floats(-100, 100)))


# Worked by hand from the definitions of normal and shear force, pedal and crank angle (vector algebra).
@pytest.mark.parametrize(
    ("normal", "shear", "pedal", "crank", "forward", "up", "tangential", "radial"),
    [
        (300, 0, 0, 90, 0, -300, 300, 0),
        (300, 0, 0, 180, 0, -300, 0, 300),
        (300, 50, -10, 90, 101.34, -286.76, 286.76, 101.34),
        (100, -20, 25, 270, -60.39, -82.18, -82.18, 60.39),
        (300, 0, 0, 0, 0, -300, 0, -300),
        (0, 100, 0, 0, 100, 0, 100, 0),
        (0, 100, 90, 90, 0, -100, 100, 0),
    ],
)
def test_exact_algebra(normal, shear, pedal, crank, forward, up, tangential, radial):
    ground = crank_force_from_pedal(normal, shear, pedal)
    np.testing.assert_allclose(ground, (forward, up), atol=0.01)
    result = resolve_on_crank(*ground, crank)
    np.testing.assert_allclose(result.tangential_force_n, tangential, atol=0.01)
    np.testing.assert_allclose(result.radial_force_n, radial, atol=0.01)
    np.testing.assert_allclose(result.resultant_force_n, np.hypot(normal, shear), atol=1e-9)


@given(forces, forces, angles)
def test_pedal_and_ground_frame_turn_into_each_other(normal, shear, pedal):
    there = crank_force_from_pedal(normal, shear, pedal)
    np.testing.assert_allclose(pedal_force_from_crank(*there, pedal), (normal, shear), atol=1e-9)
    np.testing.assert_allclose(np.hypot(*there), np.hypot(normal, shear), atol=1e-9)


@given(forces, forces, angles)
def test_parts_are_projections_and_keep_the_size(forward, up, crank):
    result = resolve_on_crank(forward, up, crank)
    force = np.array([forward, up])
    np.testing.assert_allclose(result.tangential_force_n, force @ tangent_direction(crank), atol=1e-9)
    np.testing.assert_allclose(result.radial_force_n, force @ crank_direction(crank), atol=1e-9)
    np.testing.assert_allclose(
        np.hypot(result.tangential_force_n, result.radial_force_n), result.resultant_force_n, atol=1e-9
    )


def test_everything_broadcasts_and_shares_one_shape():
    result = resolve_on_crank(10.0, np.full((4, 1), -300.0), np.arange(12) * 30.0)
    assert {part.shape for part in result} == {(4, 12)}


def test_torque_is_force_times_lever():
    assert crank_torque_nm(300, 170) == 51.0
    assert crank_torque_nm([100, -100], 200).tolist() == [20.0, -20.0]


# 200 W at 90 turns a minute: 200/(2π·1.5) = 21.221 N·m, 124.83 N at 170 mm (arithmetic).
def test_power_torque_and_cadence():
    torque = torque_for_power_nm(200, 90)
    np.testing.assert_allclose(torque, 21.221, atol=5e-4)
    np.testing.assert_allclose(torque / 0.170, 124.83, atol=5e-3)
    np.testing.assert_allclose(power_w(torque, 90), 200)
    assert power_w(10, 0) == 0


@given(st.floats(-200, 200), st.floats(1, 200))
def test_power_is_torque_times_angular_velocity(torque, cadence):
    np.testing.assert_allclose(power_w(torque, cadence), torque * cadence / 60 * 2 * np.pi, atol=1e-9)
    np.testing.assert_allclose(torque_for_power_nm(power_w(torque, cadence), cadence), torque, atol=1e-9)


@given(curves, st.integers(1, 36), st.floats(-360, 360))
def test_work_by_sector_adds_up_to_the_work_of_the_turn(torque, count, first):
    work = work_by_sector_j(torque, count, first)
    assert work.shape == (count,)
    np.testing.assert_allclose(work.sum(), 2 * np.pi * mean_over_turn(torque), atol=1e-8)


def test_work_by_sector_of_a_straight_line_by_hand():
    # Torque 0, 12, 0, 0 N·m at 0, 90, 180, 270°: triangles of 90° each side, area 12·π/4 a side.
    np.testing.assert_allclose(work_by_sector_j([0, 12, 0, 0], 4) / np.pi, [3, 3, 0, 0], atol=1e-12)
    # Half a triangle side holds a quarter of its area next to the foot, three quarters next to the top.
    np.testing.assert_allclose(work_by_sector_j([0, 12, 0, 0], 8)[:4] / np.pi, [0.75, 2.25, 2.25, 0.75], atol=1e-12)
    np.testing.assert_allclose(work_by_sector_j([0, 12, 0, 0], 4, 45) / np.pi, [4.5, 0.75, 0, 0.75], atol=1e-12)


def test_work_keeps_riders_apart():
    work = work_by_sector_j(np.array([[4.0, 4.0, 4.0], [8.0, 8.0, 8.0]]), 2)
    np.testing.assert_allclose(work / np.pi, [[4, 4], [8, 8]])


def test_power_of_a_turn_is_its_work_per_time():
    torque = 20 + 15 * np.sin(np.radians(np.arange(0, 360, 5)))
    np.testing.assert_allclose(mean_over_turn(power_w(torque, 90)), work_by_sector_j(torque, 16).sum() * 90 / 60)


def test_the_left_leg_follows_half_a_turn_later():
    right = np.array([0.0, 30.0, 10.0, -8.0])
    assert both_legs_torque_nm(right).tolist() == [10.0, 22.0, 10.0, 22.0]
    # A left leg indexed by its own crank: at right crank 0 the left one is at 180.
    assert both_legs_torque_nm([0, 0, 0, 0], [1, 2, 3, 4]).tolist() == [3.0, 4.0, 1.0, 2.0]


def test_an_odd_number_of_samples_is_read_between_them():
    assert both_legs_torque_nm([0.0, 6.0, 0.0]).tolist() == [3.0, 6.0, 3.0]


@given(curves)
def test_both_legs_do_twice_the_work_of_one_and_repeat_every_half_turn(torque):
    if len(torque) % 2 == 0:
        both = both_legs_torque_nm(torque)
        np.testing.assert_allclose(mean_over_turn(both), 2 * mean_over_turn(torque), atol=1e-9)
        np.testing.assert_allclose(np.roll(both, len(torque) // 2), both, atol=1e-9)


@given(forces, forces, angles)
def test_mirror_the_other_crank_sees_the_opposite_parts_of_the_same_force(forward, up, crank):
    here = resolve_on_crank(forward, up, crank)
    there = resolve_on_crank(forward, up, opposite_crank_angle_deg(crank))
    np.testing.assert_allclose(there.tangential_force_n, -here.tangential_force_n, atol=1e-9)
    np.testing.assert_allclose(there.radial_force_n, -here.radial_force_n, atol=1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: crank_force_from_pedal(np.nan, 0, 0),
        lambda: crank_force_from_pedal(0, np.inf, 0),
        lambda: crank_force_from_pedal(0, 0, 181),
        lambda: pedal_force_from_crank(0, 0, -181),
        lambda: pedal_force_from_crank(np.nan, 0, 0),
        lambda: pedal_force_from_crank(0, np.nan, 0),
        lambda: resolve_on_crank(np.nan, 0, 0),
        lambda: resolve_on_crank(0, np.nan, 0),
        lambda: resolve_on_crank(0, 0, np.nan),
        lambda: crank_torque_nm(np.nan, 170),
        lambda: crank_torque_nm(100, 17),
        lambda: crank_torque_nm(100, 0.17),
        lambda: crank_torque_nm(100, 301),
        lambda: power_w(np.nan, 90),
        lambda: power_w(1, -1),
        lambda: power_w(1, 301),
        lambda: torque_for_power_nm(200, 0),
        lambda: torque_for_power_nm(200, 301),
        lambda: torque_for_power_nm(np.nan, 90),
        lambda: work_by_sector_j([1, 2], 4),
        lambda: work_by_sector_j([1, 2, 3], 0),
        lambda: work_by_sector_j([1, 2, 3], 4, np.nan),
        lambda: both_legs_torque_nm([1, 2]),
        lambda: both_legs_torque_nm([1, 2, 3], [1, 2]),
    ],
)
def test_wrong_values_are_refused(call):
    with pytest.raises(OutOfRangeError, match=r"received .*; allowed: .*; "):
        call()


def test_limits_themselves_are_allowed():
    assert crank_torque_nm(100, 50) == 5
    assert crank_torque_nm(100, 300) == 30
    np.testing.assert_allclose(power_w(1, 300), 10 * np.pi)
    np.testing.assert_allclose(torque_for_power_nm(1, 300) * 10 * np.pi, 1)
    np.testing.assert_allclose(crank_force_from_pedal(1, 0, 180), (0, 1), atol=1e-12)
    np.testing.assert_allclose(crank_force_from_pedal(1, 0, -180), (0, 1), atol=1e-12)
    np.testing.assert_allclose(pedal_force_from_crank(0, 1, 180), (1, 0), atol=1e-12)
    np.testing.assert_allclose(pedal_force_from_crank(0, 1, -180), (1, 0), atol=1e-12)
