"""The rising leg's cost, checked by hand-worked turns and by conservation."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.force import (
    both_legs_torque_nm,
    crank_torque_nm,
    pedal_smoothness_pct,
    resolve_on_crank,
    torque_effectiveness_pct,
)
from pedalwright.recorded import recorded_pedal_force
from pedalwright.rising_leg import rising_leg_lifted_nm, work_parts_j

TURN = np.arange(360.0)


def recorded_torque_nm():
    return crank_torque_nm(resolve_on_crank(*recorded_pedal_force(), TURN).tangential_force_n, 170.0)


def test_work_of_a_turn_in_four_quarters():
    # by hand: quarters of +20, +10, −4 and −2 N·m, each π/2 rad long
    parts = work_parts_j(np.repeat([20.0, 10.0, -4.0, -2.0], 90))
    assert parts.propelling_j == pytest.approx(30 * np.pi / 2)
    assert parts.holding_back_j == pytest.approx(6 * np.pi / 2)
    assert parts.net_j == pytest.approx(24 * np.pi / 2)


def test_lifting_half_by_hand():
    # half lifted: −2 and −1 remain; the mean stays 6, so the push is (24 + 3)/30 of what it was
    after = rising_leg_lifted_nm(np.repeat([20.0, 10.0, -4.0, -2.0], 90), 50.0)
    assert after[::90] == pytest.approx([18.0, 9.0, -2.0, -1.0])


def test_the_record_reads_as_published():
    # park_caldwell_umberger_2022, 360 samples: one leg 84.10 % and 27.35 %, both legs 100 % and 65.70 %
    torque = recorded_torque_nm()
    assert torque_effectiveness_pct(torque) == pytest.approx(84.10, abs=0.05)
    assert pedal_smoothness_pct(torque) == pytest.approx(27.35, abs=0.1)
    both = both_legs_torque_nm(torque)
    assert torque_effectiveness_pct(both) == 100
    assert pedal_smoothness_pct(both) == pytest.approx(65.70, abs=0.4)


def test_nothing_lifted_changes_nothing_and_all_lifted_leaves_nothing_against_the_turn():
    torque = recorded_torque_nm()
    assert rising_leg_lifted_nm(torque, 0.0) == pytest.approx(torque)
    lifted = rising_leg_lifted_nm(torque, 100.0)
    assert lifted.min() == 0
    assert torque_effectiveness_pct(lifted) == 100
    assert lifted.max() < torque.max()


@given(lift=st.floats(0, 100), size=st.floats(0.1, 5))
def test_effort_stays_and_effectiveness_follows_its_closed_form(lift, size):
    torque = size * recorded_torque_nm()
    after = rising_leg_lifted_nm(torque, lift)
    assert after.mean() == pytest.approx(torque.mean())
    before = work_parts_j(torque)
    held = (1 - lift / 100) * before.holding_back_j
    # the net work N stays, so TE = N / (N + what still holds back)
    assert torque_effectiveness_pct(after) == pytest.approx(100 * before.net_j / (before.net_j + held))


def test_riders_and_shares_broadcast():
    torque = np.stack([recorded_torque_nm(), 2 * recorded_torque_nm()])[:, None]
    after = rising_leg_lifted_nm(torque, np.array([0.0, 50.0, 100.0]))
    assert after.shape == (2, 3, 360)
    assert after[1, 1] == pytest.approx(rising_leg_lifted_nm(torque[1, 0], 50.0))


@pytest.mark.parametrize("lift", [-1, 101, np.nan])
def test_a_share_out_of_range_is_told(lift):
    with pytest.raises(OutOfRangeError, match="lift_pct: received"):
        rising_leg_lifted_nm(recorded_torque_nm(), lift)


def test_a_leg_that_does_not_drive_is_told():
    with pytest.raises(OutOfRangeError, match="drives the crank"):
        rising_leg_lifted_nm(-recorded_torque_nm(), 0.0)
