"""The teaching model of effort and saddle place, checked by physics and by what was published."""

from dataclasses import replace

import numpy as np
import pytest

from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.force import index_of_effectiveness, mean_over_turn
from pedalwright.leg_weight import leg_weight_torque_nm
from pedalwright.lever import (
    TEACHING_LEG,
    TEACHING_POSITION,
    TEACHING_SEGMENTS,
    hip_line_angle_deg,
    lever_stroke,
    peak_angle_deg,
    turned_with_the_leg,
)
from pedalwright.pedal_angle import constant_curve, sinusoid_curve
from pedalwright.position import Position
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.stroke import solve_stroke

TURN = np.arange(360.0)


def with_masses(thigh_kg, shank_kg, foot_kg, foot_part=0.5):
    parts = TEACHING_SEGMENTS
    return replace(
        parts,
        thigh=replace(parts.thigh, mass_kg=np.asarray(float(thigh_kg))),
        shank=replace(parts.shank, mass_kg=np.asarray(float(shank_kg))),
        foot=replace(parts.foot, mass_kg=np.asarray(float(foot_kg)), com_from_proximal=np.asarray(float(foot_part))),
    )


# The weight of the leg


def test_a_mass_on_the_pedal_axle_turns_the_crank_by_its_weight_times_the_lever():
    # closed form: 1 kg at the pedal, lever 0.170 m · sin θ, g = 9.80665 m/s²; at 30°, 90°, 270° by hand
    only_pedal = with_masses(0, 0, 1, foot_part=1)
    torque = leg_weight_torque_nm(
        TEACHING_LEG, TEACHING_POSITION, recorded_pedal_angle(), only_pedal, [30, 90, 180, 270]
    )
    assert torque == pytest.approx([0.833565, 1.667131, 0, -1.667131], abs=1e-6)


@pytest.mark.parametrize("back_mm", [-40.0, 0.0, 40.0])
def test_weight_gives_back_what_it_takes_and_equals_the_slope_of_potential_energy(back_mm):
    position = replace(TEACHING_POSITION, saddle_setback_mm=198.0 + back_mm)
    foot = sinusoid_curve(8.0, 20.0, 250.0)
    torque = leg_weight_torque_nm(TEACHING_LEG, position, foot, TEACHING_SEGMENTS, TURN)

    def potential_energy_j(angle_deg):
        # heights of the centres of mass straight from the joint centres, fractions of table 4.1 of winter_2009
        s = solve_stroke(TEACHING_LEG, position, angle_deg, foot)
        heights = (
            (7.0, 0.433, s.hip_mm, s.knee_mm),
            (3.255, 0.433, s.knee_mm, s.ankle_mm),
            (1.015, 0.5, s.ankle_mm, s.pedal_mm),
        )
        return sum(m * 9.80665 * (a + c * (b - a))[..., 1] / 1000 for m, c, a, b in heights)

    step = 1e-3
    slope = (potential_energy_j(TURN + step) - potential_energy_j(TURN - step)) / np.radians(2 * step)
    assert torque == pytest.approx(-slope, abs=1e-6)
    assert mean_over_turn(torque) == pytest.approx(0, abs=1e-12)
    assert torque[45:135].min() > 0 > torque[225:315].max()


# Moving the saddle


def test_hip_line_of_a_three_four_five_triangle():
    assert hip_line_angle_deg(Position(500.0, 300.0, 170.0, hip_above_saddle_mm=0.0)) == pytest.approx(36.8698976)


def test_a_turned_foot_reaches_its_angles_earlier_and_toe_up():
    turned = turned_with_the_leg(recorded_pedal_angle(), 3.0)
    assert turned.at(TURN) == pytest.approx(recorded_pedal_angle().at(TURN + 3) - 3, abs=1e-9)


def test_a_weightless_leg_only_turns_with_the_saddle():
    weightless = with_masses(0, 0, 0)
    start = lever_stroke(200.0, 0.0, segments=weightless)
    moved = lever_stroke(200.0, 40.0, segments=weightless)
    turn = float(moved.leg_turn_deg)
    # hip 158 → 198 mm behind and 30 mm over the saddle point at 735 mm: by hand, √(735² − 238²) + 30 = 725.4
    # and √(735² − 198²) + 30 = 737.8, atan(198/725.4) − atan(158/737.8) = 15.268° − 12.087°
    assert turn == pytest.approx(3.180, abs=0.002)
    for name in ("tangential_force_n", "radial_force_n", "resultant_force_n"):
        before = np.interp(TURN + turn, np.arange(-5.0, 370.0), np.take(getattr(start, name), np.arange(-5, 370) % 360))
        assert getattr(moved, name) == pytest.approx(before, abs=0.05)
    assert peak_angle_deg(start.right_torque_nm) - peak_angle_deg(moved.right_torque_nm) == pytest.approx(
        turn, abs=0.01
    )
    effectiveness = [float(index_of_effectiveness(s.tangential_force_n, s.resultant_force_n)) for s in (start, moved)]
    assert effectiveness[0] == pytest.approx(effectiveness[1], abs=1e-6)


def test_the_peak_moves_by_less_than_the_leg_turns_because_gravity_does_not_turn():
    moved, start = lever_stroke(200.0, 40.0), lever_stroke(200.0, 0.0)
    shift = peak_angle_deg(start.right_torque_nm) - peak_angle_deg(moved.right_torque_nm)
    assert 0 < shift < moved.leg_turn_deg


def test_moving_the_saddle_back_moves_the_knee_back_and_the_start_is_plumb():
    knee = lever_stroke(200.0, np.array([-40.0, -20.0, 0.0, 20.0, 40.0])).knee_over_pedal_mm
    assert np.all(np.diff(knee) < 0)
    assert knee[2] == pytest.approx(0, abs=0.5)
    stroke = solve_stroke(TEACHING_LEG, TEACHING_POSITION, 90.0, recorded_pedal_angle())
    assert knee[2] == pytest.approx(stroke.knee_mm[0, 0] - 170.0)


# Effort


def test_mean_power_is_the_effort_whatever_the_saddle():
    effort, back = np.array([100.0, 200.0, 300.0])[:, None], np.array([-40.0, 0.0, 40.0])
    stroke = lever_stroke(effort, back, cadence_rpm=80.0)
    power = mean_over_turn(stroke.both_legs_torque_nm) * 80 * 2 * np.pi / 60
    assert power == pytest.approx(np.broadcast_to(effort, (3, 3)), rel=1e-9)
    assert stroke.tangential_force_n.shape == (3, 3, 360)
    single = lever_stroke(300.0, -40.0, cadence_rpm=80.0)
    assert stroke.tangential_force_n[2, 0] == pytest.approx(single.tangential_force_n, abs=1e-9)
    assert stroke.knee_over_pedal_mm == pytest.approx(
        lever_stroke(100.0, back).knee_over_pedal_mm
    )  # effort is no part of it


def test_at_the_recorded_torque_the_model_is_the_record():
    # park_caldwell_umberger_2022: F_t = forward·cos θ − up·sin θ at the twelve recorded angles, by hand
    published = [32.7, 105.6, 177.0, 225.8, 218.6, 128.3, 20.1, -21.4, -42.8, -45.8, -29.7, -5.4]
    recorded_mean_n = 63.555  # of the 360 recorded samples
    effort = 2 * recorded_mean_n * 0.170 * 90 * 2 * np.pi / 60
    stroke = lever_stroke(effort, 0.0)
    assert stroke.tangential_force_n[::30] == pytest.approx(published, abs=0.15)
    assert peak_angle_deg(stroke.right_torque_nm) == pytest.approx(103, abs=0.5)  # of the 360 recorded samples
    assert index_of_effectiveness(stroke.tangential_force_n, stroke.resultant_force_n) == pytest.approx(
        0.5036, abs=5e-4
    )


def test_effectiveness_rises_with_effort_and_lies_where_riders_were_measured():
    # direction: review bini_hume_croft_kilding_2013 (abstract);
    # 48.0 ± 9.7 % of cyclists at 90 rpm: yamaguchi_2022 (abstract)
    strokes = [lever_stroke(effort) for effort in (100.0, 150.0, 200.0, 250.0, 300.0)]
    values = [float(index_of_effectiveness(s.tangential_force_n, s.resultant_force_n)) for s in strokes]
    assert np.all(np.diff(values) > 0)
    assert 0.48 - 0.097 < values[2] < 0.48 + 0.097


def test_the_peak_stays_in_sectors_four_to_six():
    # common practice, no source: sectors 4 to 6 of sixteen, 67.5° to 135°
    stroke = lever_stroke(np.arange(100.0, 301.0, 25.0)[:, None], np.arange(-40.0, 41.0, 10.0))
    peaks = peak_angle_deg(stroke.right_torque_nm)
    assert np.all((peaks > 67.5) & (peaks < 135))


def test_forces_agree_in_both_frames():
    stroke = lever_stroke(230.0, 15.0)
    assert np.hypot(stroke.forward_force_n, stroke.up_force_n) == pytest.approx(stroke.resultant_force_n)
    assert stroke.forward_force_n[0] == pytest.approx(stroke.tangential_force_n[0])
    assert stroke.up_force_n[90] == pytest.approx(-stroke.tangential_force_n[90])
    assert stroke.both_legs_torque_nm == pytest.approx(stroke.right_torque_nm + np.roll(stroke.right_torque_nm, 180))


def test_peak_between_samples():
    assert peak_angle_deg(np.cos(np.radians(TURN - 359.7))) == pytest.approx(359.7, abs=1e-3)
    assert peak_angle_deg(np.ones((2, 8))).tolist() == [0, 0]


@pytest.mark.parametrize(("effort", "cadence"), [(0, 90), (-200, 90), (np.nan, 90), (200, 0)])
def test_no_effort_or_cadence_is_told(effort, cadence):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed: above 0"):
        lever_stroke(effort, cadence_rpm=cadence)


def test_a_saddle_out_of_reach_is_told():
    with pytest.raises(UnreachablePositionError, match="lower the saddle"):
        lever_stroke(200.0, 0.0, position=replace(TEACHING_POSITION, saddle_height_mm=900.0))


def test_too_few_samples_are_told():
    with pytest.raises(OutOfRangeError, match="at least 3"):
        peak_angle_deg([1.0, 2.0])


def test_a_still_foot_needs_no_curve_of_its_own():
    torque = leg_weight_torque_nm(TEACHING_LEG, TEACHING_POSITION, constant_curve(0.0), TEACHING_SEGMENTS, TURN)
    assert mean_over_turn(torque) == pytest.approx(0, abs=1e-12)
