"""Bini and others 2013, review, abstract read: effectiveness rises with power and falls with cadence.

Both follow from weight and inertia alone: the part of the muscles grows with power, inertia with the cadence.
"""

import numpy as np

from pedalwright.dynamics import LegInertia
from pedalwright.force import index_of_effectiveness, resolve_on_crank
from pedalwright.force_parts import pedal_force_parts
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import solve_stroke

ANGLES = np.arange(0, 360, 5.0)
INERTIA = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))


def parts(cadence_rpm):
    stroke = solve_stroke(Leg(428.75, 430.5, 150), Position(700, 200, 170), ANGLES, recorded_pedal_angle(), cadence_rpm)
    return pedal_force_parts(stroke, INERTIA, *recorded_pedal_force(crank_angle_deg=ANGLES))


def effectiveness(muscles, inertia, effort=1.0):
    forward = (
        muscles.weight_forward_force_n + inertia.inertial_forward_force_n + effort * muscles.muscular_forward_force_n
    )
    up = muscles.weight_up_force_n + inertia.inertial_up_force_n + effort * muscles.muscular_up_force_n
    force = resolve_on_crank(forward, up, ANGLES)
    return index_of_effectiveness(force.tangential_force_n, force.resultant_force_n).item()


def test_rises_with_power():
    at_80 = parts(80)
    assert np.all(np.diff([effectiveness(at_80, at_80, effort) for effort in (0.6, 1.0, 1.5, 2.5)]) > 0)


def test_falls_with_cadence():
    muscles = parts(60)
    assert np.all(np.diff([effectiveness(muscles, parts(cadence)) for cadence in (60, 80, 100, 120)]) < 0)
