"""One pose of a moving leg, solved alike by five independent tools outside this package.

A Newton–Euler hand calculation, Lagrange's equations in a computer algebra system, two rigid-body libraries and a
musculoskeletal one agreed on it to 1e-8; segments after Winter 2009, table 4.1, gravity 9.81 m/s².
"""

import numpy as np

from pedalwright.dynamics import LegInertia, pose_loads

POSE = pose_loads(
    (428.75, 430.5, 150.0),
    LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475)),
    (-20.0, -100.0, -30.0),
    tuple(np.degrees((-2.0, 1.5, -1.0))),
    tuple(np.degrees((5.0, -8.0, 10.0))),
    30.0,
    -250.0,
    gravity_m_s2=9.81,
)


def test_moments():
    # Counter-clockwise on the lower segment: -64.834493, -3.866007, -29.352932 N·m.
    np.testing.assert_allclose(POSE.hip_extension_moment_nm, 64.834493, atol=1e-5)
    np.testing.assert_allclose(POSE.knee_extension_moment_nm, -3.866007, atol=1e-5)
    np.testing.assert_allclose(POSE.ankle_plantar_flexion_moment_nm, 29.352932, atol=1e-5)


def test_forces_on_the_upper_ends():
    np.testing.assert_allclose(POSE.hip_force_n, (16.0867, -115.9913), atol=1e-4)
    np.testing.assert_allclose(POSE.knee_force_n, (18.7490, -192.5450), atol=1e-4)
    np.testing.assert_allclose(POSE.ankle_force_n, (26.1513, -235.1302), atol=1e-4)


def test_powers_are_moment_times_joint_rate_by_hand():
    np.testing.assert_allclose(POSE.hip_power_w, -64.834493 * -2.0, atol=1e-4)
    np.testing.assert_allclose(POSE.knee_power_w, -3.866007 * 3.5, atol=1e-4)
    np.testing.assert_allclose(POSE.ankle_power_w, -29.352932 * -2.5, atol=1e-4)
