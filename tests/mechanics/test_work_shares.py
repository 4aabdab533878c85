"""Shares of joint work: built cases worked by hand."""

from dataclasses import replace

import numpy as np
import pytest

from pedalwright.dynamics import LegInertia, inverse_dynamics
from pedalwright.errors import OutOfRangeError
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import solve_stroke
from pedalwright.work_shares import DEFAULT_WORK_SHARES, PUBLISHED_WORK_SHARES, work_shares

INERTIA = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
STROKE = solve_stroke(
    Leg(428.75, 430.5, 150), Position(730, 200, 170), pedal_angle_deg=recorded_pedal_angle(), cadence_rpm=60
)
JOINTS = inverse_dynamics(STROKE, INERTIA, *recorded_pedal_force(crank_angle_deg=STROKE.crank_angle_deg))


def built(**curves):
    return replace(JOINTS, **{name: np.array(values, dtype=float) for name, values in curves.items()})


def test_by_hand():
    joints = built(
        hip_extension_moment_nm=[10, 10, -5, -5], hip_power_w=[30, -90, 10, 0],
        knee_extension_moment_nm=[20, -20, 20, -20], knee_power_w=[20, 10, -5, 5],
        ankle_plantar_flexion_moment_nm=[1, 1, -1, -1], ankle_power_w=[15, 5, 4, 1],
    )  # fmt: skip
    shares = work_shares(joints)
    found = [
        shares.hip_extension_pct, shares.hip_flexion_pct, shares.knee_extension_pct, shares.knee_flexion_pct,
        shares.ankle_plantar_flexion_pct, shares.ankle_dorsiflexion_pct,
    ]  # fmt: skip
    np.testing.assert_allclose(found, [30, 10, 20, 15, 20, 5])


def test_shares_add_up_and_riders_stay_apart():
    two = replace(JOINTS, **{k: np.stack([v, v]) for k, v in vars(JOINTS).items()})
    shares = vars(work_shares(two))
    np.testing.assert_allclose(sum(shares.values()), [100, 100])


def test_joints_that_only_brake_are_refused():
    braking = {name: [-1.0, -1.0, 0.0, 0.0] for name in ("hip_power_w", "knee_power_w", "ankle_power_w")}
    with pytest.raises(OutOfRangeError, match="positive work"):
        work_shares(
            built(
                **braking,
                hip_extension_moment_nm=[1] * 4,
                knee_extension_moment_nm=[1] * 4,
                ankle_plantar_flexion_moment_nm=[1] * 4,
            )
        )


def test_the_default_has_a_reason():
    assert "Default" in PUBLISHED_WORK_SHARES[DEFAULT_WORK_SHARES].finding
