"""Inverse dynamics against a rigid-body library, a Lagrangian, an energy balance and closed forms."""

import mujoco
import numpy as np
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from pedalwright.dynamics import LegInertia, inverse_dynamics, pose_loads
from pedalwright.errors import OutOfRangeError
from pedalwright.leg_energy import leg_energy
from pedalwright.pedal_angle import fourier_curve
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import solve_stroke

LEG = Leg(428.75, 430.5, 150)
POSITION = Position(730, 200, 170)
INERTIA = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
LENGTHS = (428.75, 430.5, 150.0)
ALL = (
    "hip_extension_moment_nm",
    "knee_extension_moment_nm",
    "ankle_plantar_flexion_moment_nm",
    "hip_force_n",
    "knee_force_n",
    "ankle_force_n",
    "hip_power_w",
    "knee_power_w",
    "ankle_power_w",
    "hip_transfer_w",
    "pedal_power_w",
)

triples = st.tuples(*[st.floats(-3, 3)] * 3)


def planar_leg(lengths_m, mass, com, gyration, gravity=9.80665):
    """Three hinges in the plane x forward, y up; segments along their own x axis."""
    bodies = "".join(
        f'<body pos="{lengths_m[k - 1] if k else 0} 0 0"><joint type="hinge" axis="0 0 1"/>'
        f'<inertial pos="{com[k] * lengths_m[k]} 0 0" mass="{mass[k]}" '
        f'diaginertia="{3 * (str(mass[k] * (gyration[k] * lengths_m[k]) ** 2) + " ")}"/>'
        for k in range(3)
    )
    model = mujoco.MjModel.from_xml_string(
        f'<mujoco><compiler angle="radian"/><option gravity="0 -{gravity} 0"/>'
        f'<worldbody>{bodies}<site name="pedal" pos="{lengths_m[2]} 0 0"/></body></body></body></worldbody></mujoco>'
    )
    return model, mujoco.MjData(model)


def library_moments(model, data, angles, rates, changes, foot_force):
    """Generalised forces of the joints: inverse dynamics less what the pedal's force on the foot already does."""
    data.qpos[:], data.qvel[:], data.qacc[:] = (
        [state[0], state[1] - state[0], state[2] - state[1]] for state in (angles, rates, changes)
    )
    mujoco.mj_inverse(model, data)
    jacobian = np.zeros((3, 3))
    mujoco.mj_jacSite(model, data, jacobian, None, 0)
    on_foot = np.array([-foot_force[0], -foot_force[1], 0.0])
    return data.qfrc_inverse - jacobian.T @ on_foot


def test_agrees_with_a_rigid_body_library_around_the_turn():
    angles = np.arange(0, 360, 5.0)
    stroke = solve_stroke(LEG, POSITION, angles, recorded_pedal_angle(), 90)
    forward, up = recorded_pedal_force(crank_angle_deg=angles)
    joints = inverse_dynamics(stroke, INERTIA, forward, up)
    model, data = planar_leg(
        np.divide(LENGTHS, 1000), INERTIA.mass_kg, INERTIA.com_from_proximal, INERTIA.radius_of_gyration
    )
    motion = stroke.motion
    for k in range(len(angles)):
        hip, knee, ankle = library_moments(
            model,
            data,
            np.radians([stroke.thigh_angle_deg[k], stroke.shank_angle_deg[k], stroke.foot_angle_deg[k]]),
            np.radians([motion.thigh_velocity_deg_s[k], motion.shank_velocity_deg_s[k], motion.foot_velocity_deg_s[k]]),
            np.radians(
                [
                    motion.thigh_acceleration_deg_s2[k],
                    motion.shank_acceleration_deg_s2[k],
                    motion.foot_acceleration_deg_s2[k],
                ]
            ),
            (forward[k], up[k]),
        )
        found = (
            joints.hip_extension_moment_nm[k],
            joints.knee_extension_moment_nm[k],
            joints.ankle_plantar_flexion_moment_nm[k],
        )
        np.testing.assert_allclose(found, (-hip, knee, -ankle), atol=1e-6)


@settings(max_examples=50, deadline=None)
@given(triples, triples, triples, st.floats(-300, 300), st.floats(-300, 300))
def test_agrees_with_a_rigid_body_library_in_any_pose(angles, rates, changes, forward, up):
    model, data = planar_leg(
        np.divide(LENGTHS, 1000), INERTIA.mass_kg, INERTIA.com_from_proximal, INERTIA.radius_of_gyration
    )
    hip, knee, ankle = library_moments(model, data, angles, rates, changes, (forward, up))
    joints = pose_loads(LENGTHS, INERTIA, np.degrees(angles), np.degrees(rates), np.degrees(changes), forward, up)
    found = (joints.hip_extension_moment_nm, joints.knee_extension_moment_nm, joints.ankle_plantar_flexion_moment_nm)
    np.testing.assert_allclose(found, (-hip, knee, -ankle), atol=1e-6)


# Lagrange's equations of the same three rods by a computer algebra system.
def test_agrees_with_lagrange():
    time = sympy.symbols("time")
    q = [sympy.Function(f"q{k}")(time) for k in range(3)]
    lengths, mass, com, gyration = (0.42, 0.43, 0.15), (8.0, 3.5, 1.1), (0.4, 0.45, 0.5), (0.33, 0.3, 0.4)
    gravity, force = 9.81, (25.0, -180.0)
    x = y = sympy.Integer(0)
    energy = sympy.Integer(0)
    for k in range(3):
        cx, cy = x + com[k] * lengths[k] * sympy.cos(q[k]), y + com[k] * lengths[k] * sympy.sin(q[k])
        speed = sympy.diff(cx, time) ** 2 + sympy.diff(cy, time) ** 2
        energy += mass[k] * speed / 2 + mass[k] * (gyration[k] * lengths[k]) ** 2 * sympy.diff(q[k], time) ** 2 / 2
        energy -= mass[k] * gravity * cy
        x, y = x + lengths[k] * sympy.cos(q[k]), y + lengths[k] * sympy.sin(q[k])
    state = ((-0.4, -1.9, -0.7), (2.1, -1.4, 0.8), (-6.0, 9.0, 4.0))
    generalised = []
    for k in range(3):
        inertial = sympy.diff(sympy.diff(energy, sympy.diff(q[k], time)), time) - sympy.diff(energy, q[k])
        on_foot = -force[0] * sympy.diff(x, q[k]) - force[1] * sympy.diff(y, q[k])
        value = inertial - on_foot
        for order in (2, 1, 0):
            value = value.subs({sympy.diff(q[j], time, order) if order else q[j]: state[order][j] for j in range(3)})
        generalised.append(float(value))
    # Absolute angles: each coordinate feels the joint above it less the joint below it.
    ankle = generalised[2]
    knee = generalised[1] + ankle
    hip = generalised[0] + knee
    joints = pose_loads(
        np.multiply(lengths, 1000), LegInertia(mass, com, gyration), *np.degrees(state), *force, gravity_m_s2=gravity
    )
    found = (joints.hip_extension_moment_nm, joints.knee_extension_moment_nm, joints.ankle_plantar_flexion_moment_nm)
    np.testing.assert_allclose(found, (-hip, knee, -ankle), rtol=1e-10)


def energy_of_rods(time, angles, rates, changes, velocity, acceleration):
    """Energy of three rods whose angles and hip move with steady accelerations, written out anew."""
    end = np.multiply(velocity, time) + np.multiply(acceleration, time**2 / 2)
    speed = np.add(velocity, np.multiply(acceleration, time))
    total = 0.0
    for k in range(3):
        angle = angles[k] + rates[k] * time + changes[k] * time**2 / 2
        rate = rates[k] + changes[k] * time
        along, beside = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
        length, mass = LENGTHS[k] / 1000, INERTIA.mass_kg[k]
        near = INERTIA.com_from_proximal[k] * length
        centre, moving = end + near * along, speed + near * rate * beside
        turning = mass * (INERTIA.radius_of_gyration[k] * length) ** 2
        total += mass * (moving @ moving) / 2 + turning * rate**2 / 2 + mass * 9.80665 * centre[1]
        end, speed = end + length * along, speed + length * rate * beside
    return total


@settings(max_examples=80)
@given(
    triples,
    triples,
    triples,
    st.tuples(*[st.floats(-400, 400)] * 2),
    st.tuples(*[st.floats(-0.3, 0.3)] * 2),
    st.tuples(*[st.floats(-3, 3)] * 2),
)
def test_energy_balance_in_any_motion_the_hip_moving(angles, rates, changes, force, velocity, acceleration):
    joints = pose_loads(
        LENGTHS,
        INERTIA,
        np.degrees(angles),
        np.degrees(rates),
        np.degrees(changes),
        *force,
        hip_velocity_mm_s=np.multiply(velocity, 1000),
        hip_acceleration_mm_s2=np.multiply(acceleration, 1000),
    )
    step = 1e-5
    state = angles, rates, changes, velocity, acceleration
    gain = (energy_of_rods(step, *state) - energy_of_rods(-step, *state)) / (2 * step)
    np.testing.assert_allclose(joints.leg_gains_w, gain, rtol=1e-6, atol=1e-5)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.85, 1.1), st.floats(150, 185), st.floats(30, 120), st.floats(20, 100))
def test_energy_balance_around_the_turn(size, crank, cadence, mass):
    leg = Leg(428.75 * size, 430.5 * size, 150 * size)
    position = Position(690 * size, 200 * size, crank)
    inertia = LegInertia(
        np.multiply((0.1416, 0.0433, 0.0137), mass), INERTIA.com_from_proximal, INERTIA.radius_of_gyration
    )
    stroke = solve_stroke(leg, position, pedal_angle_deg=recorded_pedal_angle(), cadence_rpm=cadence)
    forward, up = recorded_pedal_force(crank_angle_deg=stroke.crank_angle_deg)
    joints = inverse_dynamics(stroke, inertia, forward, up)
    assert np.max(np.abs(joints.leg_gains_w - leg_energy(stroke, inertia).energy_rate_w)) < 1e-8
    # Over a whole turn the leg's energy comes back, so the joints have done the pedal's work.
    total = joints.hip_power_w + joints.knee_power_w + joints.ankle_power_w
    np.testing.assert_allclose(np.mean(total), np.mean(joints.pedal_power_w), rtol=1e-6)


def test_the_rate_of_energy_is_the_derivative_of_the_energy():
    angles = np.arange(360.0)
    stroke = solve_stroke(LEG, POSITION, angles, recorded_pedal_angle(), 85)
    held = leg_energy(stroke, INERTIA)
    ends = (stroke.hip_mm, stroke.knee_mm, stroke.ankle_mm, stroke.pedal_mm)
    rates = (stroke.motion.thigh_velocity_deg_s, stroke.motion.shank_velocity_deg_s, stroke.motion.foot_velocity_deg_s)
    per_second = 2 * np.pi * 85 / 60
    kinetic = height = 0.0
    for k in range(3):
        centre = (ends[k] + INERTIA.com_from_proximal[k] * (ends[k + 1] - ends[k])) / 1000
        speed = [fourier_curve(centre[:, axis]).at(angles, 1) * per_second for axis in (0, 1)]
        turning = INERTIA.mass_kg[k] * (INERTIA.radius_of_gyration[k] * LENGTHS[k] / 1000) ** 2
        height = height + INERTIA.mass_kg[k] * 9.80665 * centre[:, 1]
        kinetic = kinetic + INERTIA.mass_kg[k] * np.hypot(*speed) ** 2 / 2 + turning * np.radians(rates[k]) ** 2 / 2
    np.testing.assert_allclose(held.kinetic_energy_j, kinetic, atol=1e-7)
    np.testing.assert_allclose(held.height_energy_j, height, atol=1e-9)
    expected = fourier_curve(kinetic + height).at(angles, 1) * per_second
    np.testing.assert_allclose(held.energy_rate_w, expected, atol=1e-5)


def test_energy_without_gravity_and_its_limits():
    held = leg_energy(STROKE, INERTIA, gravity_m_s2=0)
    assert not held.height_energy_j.any()
    np.testing.assert_allclose(held.kinetic_energy_j, leg_energy(STROKE, INERTIA).kinetic_energy_j)
    leg_energy(STROKE, INERTIA, gravity_m_s2=20)
    for gravity in (-1, 20.1):
        with pytest.raises(OutOfRangeError):
            leg_energy(STROKE, INERTIA, gravity_m_s2=gravity)


def test_pedal_power_is_crank_torque_times_angular_velocity():
    angles = np.arange(0, 360, 10.0)
    stroke = solve_stroke(LEG, POSITION, angles, recorded_pedal_angle(), 90)
    forward, up = recorded_pedal_force(crank_angle_deg=angles)
    tangential = forward * np.cos(np.radians(angles)) - up * np.sin(np.radians(angles))
    expected = tangential * 0.170 * 2 * np.pi * 1.5
    np.testing.assert_allclose(inverse_dynamics(stroke, INERTIA, forward, up).pedal_power_w, expected, atol=1e-9)


# A leg hanging still: the hip carries its weight, no joint a moment (statics).
def test_a_hanging_leg():
    still = (0.0, 0.0, 0.0)
    joints = pose_loads(LENGTHS, INERTIA, (-90, -90, -90), still, still, 0, 0)
    weight = np.cumsum(np.array([1.015, 3.255, 7.0])) * 9.80665
    np.testing.assert_allclose(
        [joints.ankle_force_n[1], joints.knee_force_n[1], joints.hip_force_n[1]], weight, rtol=1e-12
    )
    for name in ("hip_extension_moment_nm", "knee_extension_moment_nm", "ankle_plantar_flexion_moment_nm"):
        np.testing.assert_allclose(getattr(joints, name), 0, atol=1e-12)


# A push straight down 300 mm ahead of the ankle, knee and hip in a massless leg (moment = force × lever arm).
def test_moments_of_a_massless_leg_are_force_times_lever_arm():
    massless = LegInertia((0.0, 0.0, 0.0), (0.4, 0.4, 0.5), (0.3, 0.3, 0.4))
    still = (0.0, 0.0, 0.0)
    joints = pose_loads((400, 400, 300), massless, (-90, -90, 0), still, still, 0, -100)
    np.testing.assert_allclose(joints.ankle_plantar_flexion_moment_nm, 30)
    np.testing.assert_allclose(joints.knee_extension_moment_nm, -30)
    np.testing.assert_allclose(joints.hip_extension_moment_nm, 30)
    np.testing.assert_allclose(joints.hip_force_n, [0, -100], atol=1e-12)


# A simple pendulum of one rod swinging freely: no moment at the pivot when α = -m g c cos φ / (I + m c²) (textbook).
def test_a_free_pendulum_needs_no_moment():
    rod = LegInertia((5.0, 0.0, 0.0), (0.5, 0.5, 0.5), (np.sqrt(1 / 12), 0.3, 0.3))
    change = np.degrees(-9.80665 * 0.5 * np.cos(np.radians(-50)) / (1 / 3))
    joints = pose_loads((1000, 1, 1), rod, (-50, 0, 0), (80, 0, 0), (change, 0, 0), 0, 0)
    np.testing.assert_allclose(joints.hip_extension_moment_nm, 0, atol=1e-12)


def test_powers_are_moments_times_joint_rates():
    stroke = solve_stroke(LEG, POSITION, pedal_angle_deg=recorded_pedal_angle(), cadence_rpm=90)
    joints = inverse_dynamics(stroke, INERTIA, 10, -150)
    motion = stroke.motion
    np.testing.assert_allclose(
        joints.hip_power_w, -joints.hip_extension_moment_nm * np.radians(motion.hip_flexion_velocity_deg_s)
    )
    np.testing.assert_allclose(
        joints.knee_power_w, -joints.knee_extension_moment_nm * np.radians(motion.knee_flexion_velocity_deg_s)
    )
    np.testing.assert_allclose(
        joints.ankle_power_w,
        joints.ankle_plantar_flexion_moment_nm * np.radians(motion.ankle_plantar_flexion_velocity_deg_s),
    )
    assert not joints.hip_transfer_w.any()


def test_riders_broadcast_and_equal_single_riders():
    masses = np.array([[7.0, 3.3, 1.0], [9.0, 4.0, 1.2]])
    many = inverse_dynamics(
        solve_stroke(Leg([420.0, 430.0], 430, 150), Position(700, 200, 170), cadence_rpm=[60, 90]),
        LegInertia(masses, INERTIA.com_from_proximal, INERTIA.radius_of_gyration),
        5.0,
        -100.0,
    )
    single = inverse_dynamics(
        solve_stroke(Leg(430, 430, 150), Position(700, 200, 170), cadence_rpm=90),
        LegInertia(masses[1], INERTIA.com_from_proximal, INERTIA.radius_of_gyration),
        5.0,
        -100.0,
    )
    for name in ALL:
        assert getattr(many, name).shape[:2] == (2, 72)
        np.testing.assert_allclose(getattr(many, name)[1], getattr(single, name), atol=1e-9)


def test_weight_is_scaled_by_gravity():
    still = (0.0, 0.0, 0.0)
    forces = [
        pose_loads(LENGTHS, INERTIA, (-30, -100, -30), still, still, 0, 0, gravity_m_s2=g).hip_force_n[1]
        for g in (0, 9.81)
    ]
    np.testing.assert_allclose(forces, [0, 11.27 * 9.81])
    stroke = solve_stroke(LEG, POSITION, cadence_rpm=60)
    light = inverse_dynamics(stroke, INERTIA, 0, 0, gravity_m_s2=0)
    heavy = inverse_dynamics(stroke, INERTIA, 0, 0, gravity_m_s2=20)
    np.testing.assert_allclose(heavy.hip_force_n[:, 1] - light.hip_force_n[:, 1], 11.27 * 20)


STILL = (0.0, 0.0, 0.0)
STROKE = solve_stroke(LEG, POSITION, cadence_rpm=60)


@pytest.mark.parametrize(
    "call",
    [
        lambda: inverse_dynamics(solve_stroke(LEG, POSITION), INERTIA, 0, 0),
        lambda: inverse_dynamics(STROKE, INERTIA, np.nan, 0),
        lambda: inverse_dynamics(STROKE, INERTIA, 0, np.nan),
        lambda: inverse_dynamics(STROKE, INERTIA, 0, 0, gravity_m_s2=-9.81),
        lambda: inverse_dynamics(STROKE, INERTIA, 0, 0, gravity_m_s2=20.1),
        lambda: inverse_dynamics(STROKE, LegInertia((-1, 3, 1), (0.4, 0.4, 0.5), (0.3, 0.3, 0.4)), 0, 0),
        lambda: inverse_dynamics(STROKE, LegInertia((101, 3, 1), (0.4, 0.4, 0.5), (0.3, 0.3, 0.4)), 0, 0),
        lambda: inverse_dynamics(STROKE, LegInertia((7, 3, 1), (43.3, 0.4, 0.5), (0.3, 0.3, 0.4)), 0, 0),
        lambda: inverse_dynamics(STROKE, LegInertia((7, 3, 1), (-0.1, 0.4, 0.5), (0.3, 0.3, 0.4)), 0, 0),
        lambda: inverse_dynamics(STROKE, LegInertia((7, 3, 1), (0.4, 0.4, 0.5), (0.3, 1.1, 0.4)), 0, 0),
        lambda: inverse_dynamics(STROKE, LegInertia((7, 3, 1), (0.4, 0.4, 0.5), (0.3, -0.1, 0.4)), 0, 0),
        lambda: inverse_dynamics(STROKE, LegInertia((7, 3), (0.4, 0.4, 0.5), (0.3, 0.3, 0.4)), 0, 0),
        lambda: inverse_dynamics(STROKE, LegInertia(7, (0.4, 0.4, 0.5), (0.3, 0.3, 0.4)), 0, 0),
        lambda: pose_loads((400, 400), INERTIA, STILL, STILL, STILL, 0, 0),
        lambda: pose_loads((400, 400, 0), INERTIA, STILL, STILL, STILL, 0, 0),
        lambda: pose_loads((400, 400, 2001), INERTIA, STILL, STILL, STILL, 0, 0),
        lambda: pose_loads(LENGTHS, INERTIA, (np.nan, 0, 0), STILL, STILL, 0, 0),
        lambda: pose_loads(LENGTHS, INERTIA, STILL, (np.nan, 0, 0), STILL, 0, 0),
        lambda: pose_loads(LENGTHS, INERTIA, STILL, STILL, (np.nan, 0, 0), 0, 0),
        lambda: pose_loads(LENGTHS, INERTIA, STILL, STILL, STILL, np.nan, 0),
        lambda: pose_loads(LENGTHS, INERTIA, STILL, STILL, STILL, 0, np.nan),
        lambda: pose_loads(LENGTHS, INERTIA, STILL, STILL, STILL, 0, 0, hip_velocity_mm_s=(np.nan, 0)),
        lambda: pose_loads(LENGTHS, INERTIA, STILL, STILL, STILL, 0, 0, hip_acceleration_mm_s2=(0, np.nan)),
        lambda: pose_loads(LENGTHS, INERTIA, STILL, STILL, STILL, 0, 0, gravity_m_s2=21),
    ],
)
def test_wrong_values_are_refused(call):
    with pytest.raises(OutOfRangeError, match=r"received .*; allowed: .*; "):
        call()
