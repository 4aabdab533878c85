"""Weight, inertia and muscles in the pedal force: they add up, and each is what it says."""

import numpy as np
import pytest
from scipy.optimize import fsolve

from pedalwright.dynamics import LegInertia, inverse_dynamics
from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.force import resolve_on_crank
from pedalwright.force_parts import pedal_force_parts
from pedalwright.position import Leg, Position, hip_position_mm
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import solve_stroke

LEG = Leg(428.75, 430.5, 150)
POSITION = Position(715, 200, 170)
INERTIA = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
ANGLES = np.arange(0, 360, 10.0)
STROKE = solve_stroke(LEG, POSITION, ANGLES, recorded_pedal_angle(), 75)
FORCE = recorded_pedal_force(crank_angle_deg=ANGLES)
PARTS = pedal_force_parts(STROKE, INERTIA, *FORCE)


def test_the_parts_add_up_to_the_force():
    forward = PARTS.weight_forward_force_n + PARTS.inertial_forward_force_n + PARTS.muscular_forward_force_n
    up = PARTS.weight_up_force_n + PARTS.inertial_up_force_n + PARTS.muscular_up_force_n
    np.testing.assert_allclose((forward, up), FORCE, atol=1e-9)


def test_weight_and_inertia_together_leave_hip_and_knee_without_moment():
    joints = inverse_dynamics(
        STROKE,
        INERTIA,
        PARTS.weight_forward_force_n + PARTS.inertial_forward_force_n,
        PARTS.weight_up_force_n + PARTS.inertial_up_force_n,
    )
    np.testing.assert_allclose(joints.hip_extension_moment_nm, 0, atol=1e-9)
    np.testing.assert_allclose(joints.knee_extension_moment_nm, 0, atol=1e-9)


def height_moment(crank_deg, start):
    """Height times mass of a leg with a stiff ankle whose pedal is moved around the crank (general solver)."""
    hip = hip_position_mm(POSITION)
    index = int(np.flatnonzero(start == ANGLES)[0])
    knee, ankle, pedal = STROKE.knee_mm[index], STROKE.ankle_mm[index], STROKE.pedal_mm[index]
    thigh, lower = np.hypot(*(knee - hip)), np.hypot(*(pedal - knee))
    target = 170 * np.array([np.sin(np.radians(crank_deg)), np.cos(np.radians(crank_deg))])
    moved = fsolve(lambda k: [np.hypot(*(k - hip)) - thigh, np.hypot(*(target - k)) - lower], knee, xtol=1e-13)
    turned = np.arctan2(*(target - moved)[::-1]) - np.arctan2(*(pedal - knee)[::-1])
    turn = np.array([[np.cos(turned), -np.sin(turned)], [np.sin(turned), np.cos(turned)]])
    new_ankle = moved + turn @ (ankle - knee)
    centres = (hip + 0.433 * (moved - hip), moved + 0.433 * (new_ankle - moved), (new_ankle + target) / 2)
    return sum(mass * centre[1] for mass, centre in zip(INERTIA.mass_kg, centres, strict=True)) / 1000


# Virtual work: the torque of the weight part is the loss of height energy when the limp leg, its ankle stiff, is
# carried along by the crank.
@pytest.mark.parametrize("crank", [30, 90, 180, 240, 270, 310])
def test_the_torque_of_the_weight_is_the_slope_of_its_height(crank):
    step = 0.01
    slope = (height_moment(crank + step, crank) - height_moment(crank - step, crank)) / np.radians(2 * step)
    index = int(crank // 10)
    part = resolve_on_crank(PARTS.weight_forward_force_n[index], PARTS.weight_up_force_n[index], crank)
    np.testing.assert_allclose(part.tangential_force_n * 0.170, -9.80665 * slope, atol=1e-4)


def test_the_rising_leg_presses_down_by_its_weight():
    rising = (ANGLES >= 200) & (ANGLES <= 340)
    assert np.all(PARTS.weight_up_force_n < 0)
    torque = resolve_on_crank(PARTS.weight_forward_force_n, PARTS.weight_up_force_n, ANGLES).tangential_force_n
    assert np.all(torque[rising] < 0)
    # Riders of the record press down on the rising pedal, yet less than a limp leg would: they lift a part of it.
    middle = (ANGLES >= 230) & (ANGLES <= 310)
    assert np.all(FORCE[1][middle] < 0)
    assert np.all(PARTS.muscular_up_force_n[middle] > 0)


def test_inertia_grows_with_the_square_of_the_cadence_and_weight_does_not():
    slow = pedal_force_parts(solve_stroke(LEG, POSITION, ANGLES, 5.0, 40), INERTIA, 0, 0)
    fast = pedal_force_parts(solve_stroke(LEG, POSITION, ANGLES, 5.0, 80), INERTIA, 0, 0)
    np.testing.assert_allclose(fast.inertial_up_force_n, 4 * slow.inertial_up_force_n, atol=1e-9)
    np.testing.assert_allclose(fast.weight_up_force_n, slow.weight_up_force_n, atol=1e-9)


def test_without_gravity_there_is_no_weight():
    parts = pedal_force_parts(STROKE, INERTIA, *FORCE, gravity_m_s2=0)
    np.testing.assert_allclose((parts.weight_forward_force_n, parts.weight_up_force_n), 0, atol=1e-12)
    np.testing.assert_allclose(parts.inertial_up_force_n, PARTS.inertial_up_force_n)


def test_a_strut_is_refused():
    # Foot turned so that hip, knee and pedal come into line: a pedal angle found where the lever of the thigh vanishes.
    def gap(pedal):
        stroke = solve_stroke(LEG, POSITION, 180.0, float(pedal))
        a, b = stroke.knee_mm[0] - stroke.hip_mm[0], stroke.pedal_mm[0] - stroke.hip_mm[0]
        return a[0] * b[1] - a[1] * b[0]

    pedals = np.linspace(-60, 60, 241)
    values = []
    for pedal in pedals:
        try:
            values.append(gap(pedal))
        except UnreachablePositionError:
            values.append(np.nan)
    values = np.array(values)
    crossing = np.flatnonzero(values[:-1] * values[1:] < 0)
    assert crossing.size
    low, high = pedals[crossing[0]], pedals[crossing[0] + 1]
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if gap(low) * gap(middle) > 0 else (low, middle)
    with pytest.raises(UnreachablePositionError, match="one line"):
        pedal_force_parts(solve_stroke(LEG, POSITION, 180.0, low, 60), INERTIA, 0, 0)


def test_wrong_values_are_refused():
    for call in (
        lambda: pedal_force_parts(solve_stroke(LEG, POSITION), INERTIA, 0, 0),
        lambda: pedal_force_parts(STROKE, INERTIA, np.nan, 0),
        lambda: pedal_force_parts(STROKE, INERTIA, 0, np.nan),
        lambda: pedal_force_parts(STROKE, INERTIA, 0, 0, gravity_m_s2=-1),
        lambda: pedal_force_parts(STROKE, INERTIA, 0, 0, gravity_m_s2=21),
    ):
        with pytest.raises(OutOfRangeError):
            call()
