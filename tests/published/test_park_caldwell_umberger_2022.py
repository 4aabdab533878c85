"""Park, Caldwell, Umberger 2022: pedal angle and pedal force of 15 recreational riders, from the public repository.

Points every 30° re-typed from its tracking data. The derived figures were worked outside this package from the whole
record, sampled every degree; the smooth curve through twelve points meets them within the tolerances stated here.
"""

import numpy as np
import pytest

from pedalwright.effectiveness import torques_seen_by_meter_nm
from pedalwright.force import (
    both_legs_torque_nm,
    crank_torque_nm,
    index_of_effectiveness,
    mean_over_turn,
    pedal_smoothness_pct,
    resolve_on_crank,
    torque_effectiveness_pct,
    work_by_sector_j,
)
from pedalwright.recorded import RECORDS, recorded_pedal_angle, recorded_pedal_force
from pedalwright.turn import highest_point, lowest_point

EVERY_30 = np.arange(12) * 30.0
DEGREES = np.arange(360.0)
UP = (-96.1, -168.8, -200.6, -225.8, -238.0, -208.2, -121.4, -64.7, -52.6, -45.8, -37.4, -37.8)
FORWARD = (32.7, 24.5, 6.6, -11.2, -25.1, -28.0, -20.1, -12.7, -5.5, 0.6, 5.4, 15.6)
PEDAL_ANGLE = (11.0, -1.0, -9.2, -13.6, -13.1, -7.2, 3.3, 14.8, 23.8, 29.1, 28.1, 21.6)
TANGENTIAL = (32.7, 105.6, 177.0, 225.8, 218.6, 128.3, 20.1, -21.4, -42.8, -45.8, -29.7, -5.4)


def smooth():
    force = resolve_on_crank(*recorded_pedal_force(crank_angle_deg=DEGREES), DEGREES)
    return force.tangential_force_n, force.resultant_force_n


def test_points_of_the_record():
    np.testing.assert_allclose(recorded_pedal_force(crank_angle_deg=EVERY_30), (FORWARD, UP), atol=1e-9)
    np.testing.assert_allclose(recorded_pedal_angle().at(EVERY_30), PEDAL_ANGLE, atol=1e-9)
    record = RECORDS["park_caldwell_2022"]
    assert record.frame == "ground"
    assert record.source == "park_caldwell_umberger_2022"


def test_tangential_force_at_the_points():
    force = resolve_on_crank(FORWARD, UP, EVERY_30)
    np.testing.assert_allclose(force.tangential_force_n, TANGENTIAL, atol=0.07)


# Pedal angle: greatest 29.5° at 281°, least -14.0° at 102°, excursion 43.5°.
def test_pedal_angle_extremes():
    angles = recorded_pedal_angle().at(DEGREES)
    high, low = highest_point(angles), lowest_point(angles)
    np.testing.assert_allclose(high, (29.5, 281), atol=1.0)
    np.testing.assert_allclose(low, (-14.0, 102), atol=1.0)
    assert high[0] - low[0] == pytest.approx(43.5, abs=0.3)


def test_derived_forces():
    tangential, _ = smooth()
    assert mean_over_turn(tangential) == pytest.approx(63.555, abs=0.06)
    assert tangential.max() == pytest.approx(232.41, abs=0.5)
    assert tangential.argmax() == 103
    assert tangential.min() == pytest.approx(-47.23, abs=0.5)
    assert tangential.argmin() == pytest.approx(259, abs=1)
    assert np.count_nonzero(tangential < 0) == pytest.approx(146, abs=1)


def test_derived_effectiveness():
    tangential, resultant = smooth()
    assert index_of_effectiveness(tangential, resultant) == pytest.approx(0.5036, abs=5e-4)
    down = index_of_effectiveness(tangential, resultant, sector_deg=(0, 180))
    up = index_of_effectiveness(tangential, resultant, sector_deg=(180, 360))
    assert down == pytest.approx(0.7604, abs=5e-4)
    assert up == pytest.approx(-0.381, abs=2e-3)


def test_one_leg_and_both_legs_read_differently():
    torque = crank_torque_nm(smooth()[0], 170)
    assert torque_effectiveness_pct(torque) == pytest.approx(84.10, abs=0.05)
    assert pedal_smoothness_pct(torque) == pytest.approx(27.35, abs=0.1)
    both = both_legs_torque_nm(torque)
    assert both.min() / 0.170 == pytest.approx(52.0, abs=0.5)
    assert both.max() / 0.170 == pytest.approx(193.5, abs=1)
    seen, _ = torques_seen_by_meter_nm(torque, torque, "crank axle")
    assert torque_effectiveness_pct(seen) == pytest.approx(100)
    assert pedal_smoothness_pct(seen) == pytest.approx(65.70, abs=0.4)


def test_work_of_a_leg_and_turn_with_a_crank_of_170_mm():
    work = work_by_sector_j(crank_torque_nm(smooth()[0], 170), 16)
    assert work.sum() == pytest.approx(67.885, abs=0.06)


# Common practice, no source: the useful push is greatest around forward horizontal, sectors four to six of sixteen.
def test_the_three_best_sectors_lie_around_forward_horizontal():
    work = work_by_sector_j(crank_torque_nm(smooth()[0], 170), 16)
    assert set(np.argsort(work)[-3:] + 1) == {4, 5, 6}
