"""Kautz and Hull 1993: weight and inertia make part of the pedal force unavoidable (known through papers that cite it).

Checked: the radial part and the braking torque of the rising leg that a leg without muscle work has anyway.
"""

import numpy as np

from pedalwright.dynamics import LegInertia
from pedalwright.force import resolve_on_crank
from pedalwright.force_parts import pedal_force_parts
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import solve_stroke
from pedalwright.turn import mean_over_turn

ANGLES = np.arange(0, 360, 5.0)
INERTIA = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))


def parts(cadence_rpm):
    stroke = solve_stroke(Leg(428.75, 430.5, 150), Position(715, 200, 170), ANGLES, recorded_pedal_angle(), cadence_rpm)
    return pedal_force_parts(stroke, INERTIA, *recorded_pedal_force(crank_angle_deg=ANGLES))


def test_a_limp_leg_brakes_the_rising_pedal():
    found = parts(80)
    weight = resolve_on_crank(found.weight_forward_force_n, found.weight_up_force_n, ANGLES).tangential_force_n
    rising = (ANGLES > 200) & (ANGLES < 340)
    assert np.all(weight[rising] < 0)


def test_weight_is_no_source_of_work_but_shapes_the_force():
    """Over a turn the weight does next to no work (none if the ankle stayed stiff), yet it brakes and drives."""
    found = parts(80)
    weight = resolve_on_crank(found.weight_forward_force_n, found.weight_up_force_n, ANGLES)
    assert abs(mean_over_turn(weight.tangential_force_n)) < 0.05 * np.abs(weight.tangential_force_n).max()
    assert np.abs(weight.radial_force_n).max() > 50


def test_inertia_grows_with_the_square_of_the_cadence():
    """The same path run (100/60) times as fast has (100/60)² times the accelerations."""
    slow, fast = parts(60), parts(100)
    np.testing.assert_allclose(fast.inertial_up_force_n, slow.inertial_up_force_n * (100 / 60) ** 2, atol=1e-8)
