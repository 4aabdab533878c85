"""Every value that cannot be used is refused under its own name, and every end of an allowed range is allowed.

One table for the functions of force, stroke, position, targets and dynamics; ends are those stated in the docstrings.
"""

import dataclasses
import inspect

import numpy as np
import pytest

from pedalwright import (
    chain,
    conventions,
    effectiveness,
    foot_on_pedal,
    force,
    knee,
    pedal_angle,
    position,
    stroke,
    targets,
    torque,
    turn,
)
from pedalwright.errors import OutOfRangeError
from pedalwright.position import Leg, Position

NOTHING = (None, None)
LEG = Leg(430.0, 430.0, 150.0)
BIKE = Position(715.0, 200.0, 170.0)
CURVE = [10.0, 20.0, 5.0]

# function, arguments that work, and for each number the lowest and highest value allowed (None: any finite number)
FUNCTIONS = [
    (force.crank_force_from_pedal, (300.0, 20.0, 5.0),
     {"normal_force_n": NOTHING, "shear_force_n": NOTHING, "pedal_angle_deg": (-180, 180)}),
    (force.pedal_force_from_crank, (30.0, -300.0, 5.0),
     {"forward_force_n": NOTHING, "up_force_n": NOTHING, "pedal_angle_deg": (-180, 180)}),
    (force.resolve_on_crank, (30.0, -300.0, 90.0),
     {"forward_force_n": NOTHING, "up_force_n": NOTHING, "crank_angle_deg": NOTHING}),
    (torque.crank_torque_nm, (200.0, 170.0), {"tangential_force_n": NOTHING, "crank_length_mm": (50, 300)}),
    (torque.power_w, (20.0, 90.0), {"torque_nm": NOTHING, "cadence_rpm": (0, 300)}),
    (torque.torque_for_power_nm, (200.0, 90.0), {"power_w": NOTHING, "cadence_rpm": (None, 300)}),
    (torque.work_by_sector_j, (CURVE, 4, 0.0), {"torque_nm": NOTHING, "first_edge_deg": NOTHING}),
    (torque.both_legs_torque_nm, (CURVE, CURVE), {"right_torque_nm": NOTHING, "left_torque_nm": NOTHING}),
    (effectiveness.index_of_effectiveness, (CURVE, CURVE),
     {"tangential_force_n": NOTHING, "resultant_force_n": (0, None)}),
    (effectiveness.torque_effectiveness_pct, (CURVE,), {"torque_nm": NOTHING}),
    (effectiveness.pedal_smoothness_pct, (CURVE,), {"torque_nm": NOTHING}),
    (effectiveness.torques_seen_by_meter_nm, (CURVE, CURVE), {"right_torque_nm": NOTHING, "left_torque_nm": NOTHING}),
    (turn.mean_over_turn, (CURVE,), {"values": NOTHING}),
    (turn.at_crank_angle, (CURVE, 90.0), {"values": NOTHING, "crank_angle_deg": NOTHING}),
    (turn.integral_to, (CURVE, 90.0), {"values": NOTHING, "crank_angle_deg": NOTHING}),
    (turn.sector_edges_deg, (4, 0.0), {"first_edge_deg": NOTHING}),
    (turn.highest_point, (CURVE,), {"values": NOTHING}),
    (turn.lowest_point, (CURVE,), {"values": NOTHING}),
    (conventions.crank_direction, (90.0,), {"crank_angle_deg": NOTHING}),
    (conventions.tangent_direction, (90.0,), {"crank_angle_deg": NOTHING}),
    (conventions.pedal_place_mm, (90.0, 170.0), {"crank_angle_deg": NOTHING, "crank_length_mm": NOTHING}),
    (conventions.opposite_crank_angle_deg, (90.0,), {"crank_angle_deg": NOTHING}),
    (conventions.sector_of, (90.0, 16, 0.0), {"crank_angle_deg": NOTHING, "first_edge_deg": NOTHING}),
    (conventions.flexion_from_included_deg, (145.0,), {"included_angle_deg": (0, 360)}),
    (conventions.included_from_flexion_deg, (35.0,), {"flexion_deg": (-180, 180)}),
    (pedal_angle.constant_curve, (5.0,), {"value": NOTHING}),
    (pedal_angle.sinusoid_curve, (5.0, 20.0, 90.0), {"mean": NOTHING, "amplitude": NOTHING, "phase_deg": NOTHING}),
    (pedal_angle.fourier_curve, (CURVE,), {"samples": NOTHING}),
    (chain.solve_chain, (-200.0, 740.0, 430.0, 430.0, 150.0, 170.0, 90.0, 5.0, 35.0),
     {"hip_x_mm": NOTHING, "hip_y_mm": NOTHING, "thigh_length_mm": NOTHING, "shank_length_mm": NOTHING,
      "ankle_to_pedal_mm": NOTHING, "crank_length_mm": NOTHING, "crank_angle_deg": NOTHING, "pedal_angle_deg": NOTHING,
      "ankle_to_pedal_slope_deg": NOTHING}),
    (stroke.solve_stroke, (LEG, BIKE, 90.0, 5.0, 90.0),
     {"crank_angle_deg": NOTHING, "pedal_angle_deg": (-90, 90), "cadence_rpm": (None, 300)}),
    (stroke.knee_over_pedal_mm, (LEG, BIKE, 5.0), {"pedal_angle_deg": (-90, 90)}),
    (foot_on_pedal.ankle_to_pedal_from_foot, (68.0, 120.0, 22.0),
     {"ankle_height_mm": (20, 200), "ankle_to_ball_mm": (20, 300), "sole_and_pedal_mm": (0, 100)}),
    (position.leg_splay_deg, (BIKE, 170.0), {"hip_joint_width_mm": (50, 400)}),
    (position.raised, (BIKE, 5.0), {"by_mm": NOTHING}),
    (position.slid_back, (BIKE, 5.0), {"by_mm": NOTHING}),
    (targets.saddle_for_knee_flexion, (LEG, BIKE, 30.0), {"knee_flexion_deg": (0, 150)}),
    (targets.setback_for_knee_over_pedal, (LEG, BIKE, 0.0), {"knee_ahead_mm": NOTHING}),
    (knee.knee_load, (40.0, 60.0), {"knee_extension_moment_nm": NOTHING, "knee_flexion_deg": (0, 90)}),
    (knee.quadriceps_arm_mm, (60.0,), {"knee_flexion_deg": (0, 90)}),
    (knee.patellar_tendon_arm_mm, (60.0,), {"knee_flexion_deg": (0, 90)}),
    (knee.patellofemoral_ratio, (60.0,), {"knee_flexion_deg": (0, 90)}),
]  # fmt: skip
KEYWORDS = [
    (stroke.solve_stroke, (LEG, BIKE), "pelvis_forward_tilt_deg", (-60, 120)),
    (stroke.solve_stroke, (LEG, BIKE), "trunk_angle_deg", (-20, 120)),
    (stroke.knee_over_pedal_mm, (LEG, BIKE), "front_of_knee_mm", (-100, 150)),
    (targets.saddle_for_knee_flexion, (LEG, BIKE, 60.0), "pedal_angle_deg", (-90, 90)),
    (targets.saddle_for_knee_flexion, (LEG, BIKE, 30.0), "crank_angle_deg", NOTHING),
    (targets.setback_for_knee_over_pedal, (LEG, BIKE), "front_of_knee_mm", (-100, 150)),
    (targets.setback_for_knee_over_pedal, (LEG, BIKE), "pedal_angle_deg", (-90, 90)),
]
FIELDS = [
    (stroke.solve_stroke, "leg", "thigh_length_mm", (100, 1000)),
    (stroke.solve_stroke, "leg", "shank_length_mm", (100, 1000)),
    (stroke.solve_stroke, "leg", "ankle_to_pedal_mm", (20, 400)),
    (stroke.solve_stroke, "leg", "ankle_to_pedal_slope_deg", NOTHING),
    (stroke.solve_stroke, "position", "crank_length_mm", (50, 300)),
    (stroke.solve_stroke, "position", "saddle_height_mm", (100, 2000)),
    (stroke.solve_stroke, "position", "saddle_setback_mm", NOTHING),
    (stroke.solve_stroke, "position", "hip_above_saddle_mm", (-100, 300)),
    (stroke.solve_stroke, "position", "hip_ahead_of_saddle_mm", (-300, 300)),
    (stroke.solve_stroke, "position", "pedal_behind_ball_mm", (-100, 150)),
    (targets.saddle_for_knee_flexion, "leg", "thigh_length_mm", (100, 1000)),
    (targets.saddle_for_knee_flexion, "leg", "shank_length_mm", (100, 1000)),
    (targets.saddle_for_knee_flexion, "position", "crank_length_mm", (50, 300)),
    (targets.setback_for_knee_over_pedal, "position", "crank_length_mm", (50, 300)),
    (position.leg_splay_deg, "position", "stance_width_mm", (0, 600)),
    (position.leg_splay_deg, "position", "crank_length_mm", (50, 300)),
]


def tried(call):
    """Return the message of an OutOfRangeError about a value, or nothing if the value itself is allowed."""
    try:
        call()
    except OutOfRangeError as error:
        return str(error)
    except ValueError:
        pass
    return ""


def check(name, value, ends, call):
    """Call with the value made wrong in every way and with both ends of its range."""
    array = np.asarray(value, dtype=float)
    for bad in (np.nan, np.inf, -np.inf):
        spoilt = array.copy()
        spoilt.flat[0] = bad
        assert tried(lambda spoilt=spoilt: call(spoilt)).startswith(f"{name}: received {bad:g}; allowed: ")
    low, high = ends
    for end, beyond in ((low, -1e-6), (high, 1e-6)):
        if end is not None:
            assert not tried(lambda end=end: call(np.full_like(array, end))).startswith(f"{name}: ")
            message = tried(lambda end=end, beyond=beyond: call(np.full_like(array, end + beyond)))
            assert message.startswith(f"{name}: received ")
            assert message.split("; ")[1].startswith("allowed: a")


def positional_cases():
    for function, arguments, numbers in FUNCTIONS:
        names = list(inspect.signature(function).parameters)
        for name, ends in numbers.items():
            yield pytest.param(function, arguments, names.index(name), name, ends, id=f"{function.__name__}-{name}")


@pytest.mark.parametrize(("function", "arguments", "index", "name", "ends"), [*positional_cases()])
def test_arguments(function, arguments, index, name, ends):
    check(name, arguments[index], ends, lambda value: function(*arguments[:index], value, *arguments[index + 1 :]))


@pytest.mark.parametrize(("function", "arguments", "name", "ends"), KEYWORDS)
def test_keywords(function, arguments, name, ends):
    check(name, 5.0, ends, lambda value: function(*arguments, **{name: value}))


@pytest.mark.parametrize(("function", "holder", "name", "ends"), FIELDS)
def test_fields_of_leg_and_position(function, holder, name, ends):
    extra = (30.0,) if function is targets.saddle_for_knee_flexion else ()

    def call(value):
        leg = dataclasses.replace(LEG, **{name: value}) if holder == "leg" else LEG
        bike = dataclasses.replace(BIKE, **{name: value}) if holder == "position" else BIKE
        return function(bike) if function is position.leg_splay_deg else function(leg, bike, *extra)

    check(name, getattr(LEG if holder == "leg" else BIKE, name), ends, call)


@pytest.mark.parametrize(
    "call",
    [
        lambda value: torque.torque_for_power_nm(200, value),
        lambda value: stroke.solve_stroke(LEG, BIKE, cadence_rpm=value),
        lambda value: conventions.pedal_place_mm(90, value),
        lambda value: chain.solve_chain(-200, 740, value, 430, 150, 170, 90, 0),
        lambda value: chain.solve_chain(-200, 740, 430, value, 150, 170, 90, 0),
        lambda value: chain.solve_chain(-200, 740, 430, 430, value, 170, 90, 0),
        lambda value: chain.solve_chain(-200, 740, 430, 430, 150, value, 90, 0),
    ],
)
@pytest.mark.parametrize("value", [0.0, -1.0])
def test_what_must_be_above_zero(call, value):
    assert "allowed: above 0" in tried(lambda: call(value))


@pytest.mark.parametrize("slope", [0.0, 90.0, -5.0])
def test_slope_lies_between_zero_and_a_right_angle(slope):
    assert "above 0 and below 90" in tried(lambda: stroke.solve_stroke(Leg(430, 430, 150, slope), BIKE))


def test_advice_in_millimetres():
    for leg, bike in (
        (Leg(0.43, 430, 150), BIKE), (Leg(430, 43, 150), BIKE), (Leg(430, 430, 15), BIKE),
        (LEG, Position(71.5, 20, 170)),
        (LEG, Position(715, 200, 17)),
    ):  # fmt: skip
        assert tried(lambda leg=leg, bike=bike: stroke.solve_stroke(leg, bike)).endswith(
            "give the length in millimetres"
        )
    assert tried(lambda: chain.solve_chain(-200, 740, 0, 430, 150, 170, 90, 0)).endswith(
        "give the length in millimetres"
    )
