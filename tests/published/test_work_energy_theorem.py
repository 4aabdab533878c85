"""Work and power of a torque on a turning crank: W = ∫ τ dθ and P = τ·ω (winter_2009, as any mechanics textbook).

Expected values are closed integrals and plain arithmetic, not the code under test.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.force import mean_over_turn, power_w, work_by_sector_j

TORQUE_NM = st.floats(-200, 200)


@given(st.lists(TORQUE_NM, min_size=12, max_size=72), st.integers(1, 36), st.floats(-360, 360))
def test_work_of_the_sectors_sums_to_the_work_of_the_turn(torque_nm, sector_count, first_edge_deg):
    """Periodic trapezium rule by hand: the work of a turn is 2π times the mean of the samples."""
    turn_j = 2 * math.pi * sum(torque_nm) / len(torque_nm)
    sectors_j = work_by_sector_j(torque_nm, sector_count, first_edge_deg)
    assert sectors_j.shape == (sector_count,)
    assert sectors_j.sum() == pytest.approx(turn_j, abs=1e-8)


def test_work_of_a_sine_of_torque_in_quarters_of_a_turn():
    """∫ (20 + 10 sin θ) dθ over a quarter from 0° is 10π + 10 J, from 180° it is 10π − 10 J."""
    angle = np.radians(np.arange(3600) / 10)
    quarters_j = work_by_sector_j(20 + 10 * np.sin(angle), 4)
    up, down = 10 * math.pi + 10, 10 * math.pi - 10
    np.testing.assert_allclose(quarters_j, [up, up, down, down], atol=1e-4)


def test_power_is_torque_times_angular_velocity():
    """21.221 N·m at 90 turns a minute (9.4248 rad/s) are 200 W; 60 turns a minute are 2π rad/s."""
    assert power_w(21.221, 90) == pytest.approx(200.0, abs=0.01)
    assert power_w(1.0, 60) == pytest.approx(6.283185307, abs=1e-8)


@given(st.lists(TORQUE_NM, min_size=12, max_size=72), st.floats(30, 150))
def test_mean_power_is_work_of_a_turn_times_turns_a_second(torque_nm, cadence_rpm):
    turn_j = 2 * math.pi * sum(torque_nm) / len(torque_nm)
    mean_w = power_w(mean_over_turn(torque_nm), cadence_rpm)
    assert mean_w == pytest.approx(turn_j * cadence_rpm / 60, abs=1e-8)
