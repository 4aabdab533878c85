"""Gregor, Cavanagh, LaFortune 1985, abstract read: a knee flexor moment from about mid-propulsion in five riders."""

import numpy as np
import pytest

from pedalwright.dynamics import LegInertia, inverse_dynamics
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import solve_stroke


@pytest.mark.parametrize("saddle_height_mm", [710, 725, 735])
def test_knee_moment_changes_sign_in_the_middle_of_the_push(saddle_height_mm):
    angles = np.arange(0, 181.0)
    inertia = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
    stroke = solve_stroke(
        Leg(428.75, 430.5, 150), Position(saddle_height_mm, 200, 170), angles, recorded_pedal_angle(), 60
    )
    moment = inverse_dynamics(stroke, inertia, *recorded_pedal_force(crank_angle_deg=angles)).knee_extension_moment_nm
    changes = angles[1:][np.sign(moment[1:]) != np.sign(moment[:-1])]
    assert len(changes) == 1
    assert 45 <= changes[0] <= 120
    assert moment[0] > 0
    assert moment[150] < 0
