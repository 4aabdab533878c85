"""Elmer and others 2011, abstract read: hip extension does the largest share at every power.

Ericson and others 1986 found the knee extensors. The record of recreational riders used here sides with the newer
study. Its pedal angle and force come from one study, but not its leg, so the comparison is one of order, not of size.
"""

import numpy as np
import pytest

from pedalwright.dynamics import LegInertia, inverse_dynamics
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import solve_stroke
from pedalwright.work_shares import PUBLISHED_WORK_SHARES, work_shares


@pytest.mark.parametrize("cadence", [60, 80, 90])
def test_hip_extension_does_most_with_the_recorded_force(cadence):
    stroke = solve_stroke(
        Leg(428.75, 430.5, 150), Position(730, 200, 170), pedal_angle_deg=recorded_pedal_angle(), cadence_rpm=cadence
    )
    inertia = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
    shares = work_shares(inverse_dynamics(stroke, inertia, *recorded_pedal_force(crank_angle_deg=np.arange(72) * 5.0)))
    assert shares.hip_extension_pct == max(vars(shares).values())


def test_the_two_findings_stand_side_by_side():
    ericson, elmer = (PUBLISHED_WORK_SHARES[name] for name in ("ericson_1986", "elmer_2011"))
    assert "Knee extensors" in ericson.finding
    assert "Hip extension dominates" in elmer.finding
