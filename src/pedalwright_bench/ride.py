"""The invented rider on the recorded push, for benches that ask what joints and muscles must do."""

import numpy as np

from pedalwright.body import leg_inertia
from pedalwright.dynamics import JointLoads, inverse_dynamics
from pedalwright.force import resolve_on_crank
from pedalwright.lever import SAMPLES, TEACHING_LEG, TEACHING_POSITION, lever_stroke
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.stroke import Stroke, solve_stroke
from pedalwright_bench.shapes import Floats

BODY_MASS_KG = 70.0
INERTIA = leg_inertia(BODY_MASS_KG, TEACHING_LEG, table="winter_2009")


def scaled_push(effort_w: float, cadence_rpm: float, lean_deg: float = 0.0) -> tuple[Floats, Floats]:
    """Forward and up force of the record scaled to an effort, every force then turned forward by the same angle.

    The part along a crank that stands at an angle, and square to it, are the turned force: the same rotation.
    """
    push = lever_stroke(effort_w, cadence_rpm=cadence_rpm)
    turned = resolve_on_crank(push.forward_force_n, push.up_force_n, lean_deg)
    return turned.tangential_force_n, turned.radial_force_n


def ridden(
    effort_w: float, cadence_rpm: float, lean_deg: float = 0.0
) -> tuple[Stroke, tuple[Floats, Floats], JointLoads]:
    """Give the stroke, the force on the pedal and the joint loads, one sample a degree."""
    stroke = solve_stroke(
        TEACHING_LEG, TEACHING_POSITION, np.arange(float(SAMPLES)), recorded_pedal_angle(), cadence_rpm
    )
    force = scaled_push(effort_w, cadence_rpm, lean_deg)
    return stroke, force, inverse_dynamics(stroke, INERTIA, *force)
