"""The closed chain around the turn: against general solvers, algebra, differences, and its own limits."""

import dataclasses

import numpy as np
import pytest
import sympy
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve

from pedalwright.chain import solve_chain
from pedalwright.errors import OutOfRangeError, UnreachablePositionError
from pedalwright.pedal_angle import constant_curve, fourier_curve, sinusoid_curve
from pedalwright.position import Leg, Position, hip_position_mm
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.stroke import knee_over_pedal_mm, solve_stroke
from pedalwright.targets import saddle_for_knee_flexion

LEG = Leg(428.75, 430.5, 150)
POSITION = Position(730, 200, 170)
EVERY_30 = np.arange(12) * 30.0
ANGLES = (
    "thigh_angle_deg",
    "shank_angle_deg",
    "foot_angle_deg",
    "hip_flexion_deg",
    "trunk_thigh_angle_deg",
    "knee_flexion_deg",
    "ankle_plantar_flexion_deg",
)

riders = st.builds(
    lambda thigh, shank, foot, slope: Leg(thigh, shank, foot, slope),
    st.floats(380, 480),
    st.floats(380, 480),
    st.floats(120, 180),
    st.floats(25, 45),
)
positions = st.builds(
    Position,
    saddle_height_mm=st.floats(620, 760),
    saddle_setback_mm=st.floats(100, 280),
    crank_length_mm=st.floats(145, 190),
    hip_above_saddle_mm=st.floats(0, 60),
    hip_ahead_of_saddle_mm=st.floats(-20, 50),
    pedal_behind_ball_mm=st.floats(-10, 40),
)


def solved_or_skipped(*arguments, **named):
    try:
        return solve_stroke(*arguments, **named)
    except UnreachablePositionError:
        assume(False)


def vector(length, angle_deg):
    return length * np.array([np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))])


@settings(max_examples=60)
@given(riders, positions, st.floats(0, 360), st.floats(-20, 30))
def test_a_general_solver_finds_the_same_knee(leg, position, crank, pedal):
    stroke = solved_or_skipped(leg, position, crank, pedal)
    ankle, hip = stroke.ankle_mm[0], hip_position_mm(position)
    assume(stroke.knee_flexion_deg[0] > 5)

    def gaps(knee):
        return [np.hypot(*(knee - hip)) - leg.thigh_length_mm, np.hypot(*(ankle - knee)) - leg.shank_length_mm]

    knee, _, status, _ = fsolve(gaps, stroke.knee_mm[0] + [15.0, 5.0], full_output=True, xtol=1e-12)
    assert status == 1
    np.testing.assert_allclose(stroke.knee_mm[0], knee, atol=1e-6)


@settings(max_examples=60)
@given(riders, positions, st.floats(-20, 30))
def test_the_chain_closes_and_the_knee_points_forward(leg, position, pedal):
    stroke = solved_or_skipped(leg, position, pedal_angle_deg=pedal)
    ahead = position.pedal_behind_ball_mm
    np.testing.assert_allclose(np.hypot(*np.moveaxis(stroke.knee_mm - stroke.hip_mm, -1, 0)), leg.thigh_length_mm)
    np.testing.assert_allclose(np.hypot(*np.moveaxis(stroke.ankle_mm - stroke.knee_mm, -1, 0)), leg.shank_length_mm)
    np.testing.assert_allclose(np.hypot(*np.moveaxis(stroke.pedal_mm, -1, 0)), position.crank_length_mm)
    # The sole turned level again: ankle to pedal axle is f·cos σ less the foot placement ahead, f·sin σ below.
    toe = stroke.pedal_mm - stroke.ankle_mm
    along = np.array([np.cos(np.radians(pedal)), -np.sin(np.radians(pedal))])
    down = np.array([-np.sin(np.radians(pedal)), -np.cos(np.radians(pedal))])
    slope = np.radians(leg.ankle_to_pedal_slope_deg)
    np.testing.assert_allclose(toe @ along, leg.ankle_to_pedal_mm * np.cos(slope) - ahead)
    np.testing.assert_allclose(toe @ down, leg.ankle_to_pedal_mm * np.sin(slope))
    assert np.all((stroke.knee_flexion_deg > 0) & (stroke.knee_flexion_deg < 180))


def test_angles_are_the_directions_of_the_segments():
    stroke = solve_stroke(LEG, POSITION, EVERY_30, recorded_pedal_angle())
    for k in range(12):
        np.testing.assert_allclose(
            stroke.knee_mm[k] - stroke.hip_mm[k], vector(428.75, stroke.thigh_angle_deg[k]), atol=1e-9
        )
        np.testing.assert_allclose(
            stroke.ankle_mm[k] - stroke.knee_mm[k], vector(430.5, stroke.shank_angle_deg[k]), atol=1e-9
        )
        np.testing.assert_allclose(
            stroke.pedal_mm[k] - stroke.ankle_mm[k], vector(150, stroke.foot_angle_deg[k]), atol=1e-9
        )


def test_knee_flexion_is_180_less_the_included_angle():
    stroke = solve_stroke(LEG, POSITION, EVERY_30)
    up, down = stroke.hip_mm - stroke.knee_mm, stroke.ankle_mm - stroke.knee_mm
    cosine = np.sum(up * down, axis=-1) / (428.75 * 430.5)
    np.testing.assert_allclose(stroke.knee_flexion_deg, 180 - np.degrees(np.arccos(cosine)))


def test_hip_and_ankle_conventions():
    level = solve_stroke(LEG, POSITION, EVERY_30, 0.0, pelvis_forward_tilt_deg=0, trunk_angle_deg=90)
    # Upright pelvis: a thigh straight down (-90°) has no hip flexion; upright trunk: 180° between trunk and thigh.
    np.testing.assert_allclose(level.hip_flexion_deg, level.thigh_angle_deg + 90)
    np.testing.assert_allclose(level.hip_flexion_deg + level.trunk_thigh_angle_deg, 180)
    # Rolling the pelvis 25° forward closes the hip by 25°; bending the trunk 50° closes trunk and thigh by 50°.
    rolled = solve_stroke(LEG, POSITION, EVERY_30, 0.0, pelvis_forward_tilt_deg=25, trunk_angle_deg=40)
    np.testing.assert_allclose(rolled.hip_flexion_deg - level.hip_flexion_deg, 25)
    np.testing.assert_allclose(level.trunk_thigh_angle_deg - rolled.trunk_thigh_angle_deg, 50)
    # Level sole: a shank straight down has 0° plantar flexion, a shank leaning forward is dorsiflexion.
    np.testing.assert_allclose(level.ankle_plantar_flexion_deg, 90 + level.shank_angle_deg)
    assert level.shank_angle_deg[0] < -90
    assert level.ankle_plantar_flexion_deg[0] < 0
    toe_down = solve_stroke(LEG, POSITION, 0.0, 20.0)
    sole, shank = -20.0, toe_down.shank_angle_deg[0]
    np.testing.assert_allclose(toe_down.ankle_plantar_flexion_deg, 90 - (sole - shank))


# The loop equation derived twice by a computer algebra system: the rates found must satisfy what it yields.
@pytest.mark.parametrize("order", [0, 1, 2])
def test_the_loop_equation_and_its_symbolic_derivatives_hold(order):
    time = sympy.symbols("time")
    thigh, shank = (sympy.Function(name)(time) for name in ("thigh", "shank"))
    turn = 3 * sympy.pi * time
    foot = -(sympy.rad(8) + sympy.rad(21) * sympy.sin(turn + sympy.rad(200)) + sympy.rad(35))
    lengths = {thigh: sympy.Rational("428.75"), shank: sympy.Rational("430.5"), foot: 150}
    loop = (
        -200 + sum(length * sympy.cos(angle) for angle, length in lengths.items()) - 170 * sympy.sin(turn),
        740 + sum(length * sympy.sin(angle) for angle, length in lengths.items()) - 170 * sympy.cos(turn),
    )
    stroke = solve_stroke(
        LEG, Position(np.hypot(200, 740), 200, 170, hip_above_saddle_mm=0), EVERY_30, sinusoid_curve(8, 21, 200), 90
    )
    motion = stroke.motion
    values = {
        thigh.diff(time, 2): motion.thigh_acceleration_deg_s2,
        shank.diff(time, 2): motion.shank_acceleration_deg_s2,
        thigh.diff(time): motion.thigh_velocity_deg_s,
        shank.diff(time): motion.shank_velocity_deg_s,
        thigh: stroke.thigh_angle_deg,
        shank: stroke.shank_angle_deg,
    }
    plain = sympy.symbols(f"u:{len(values)}")
    for equation in loop:
        derived = equation.diff(time, order) if order else equation
        for unknown, symbol in zip(values, plain, strict=True):
            derived = derived.subs(unknown, symbol)
        residual = sympy.lambdify((time, *plain), derived)(EVERY_30 / 540, *np.radians(list(values.values())))
        np.testing.assert_allclose(residual, 0, atol=1e-9 * 1000 * (3 * np.pi) ** order)


def test_rates_agree_with_spectral_differentiation():
    stroke = solve_stroke(LEG, POSITION, np.arange(360.0), recorded_pedal_angle(), 80)
    per_second = 2 * np.pi * 80 / 60
    for name in ("thigh", "shank", "foot"):
        curve = fourier_curve(getattr(stroke, f"{name}_angle_deg"))
        for order, kind in ((1, "velocity_deg_s"), (2, "acceleration_deg_s2")):
            expected = curve.at(np.arange(360.0), order) * per_second**order
            np.testing.assert_allclose(
                getattr(stroke.motion, f"{name}_{kind}"), expected, atol=1e-6 * np.abs(expected).max()
            )


def test_joint_rates_are_the_rates_of_the_joint_angles():
    stroke = solve_stroke(LEG, POSITION, np.arange(360.0), recorded_pedal_angle(), 80)
    for name in ("hip_flexion", "knee_flexion", "ankle_plantar_flexion"):
        expected = fourier_curve(getattr(stroke, f"{name}_deg")).at(np.arange(360.0), 1) * 2 * np.pi * 80 / 60
        np.testing.assert_allclose(getattr(stroke.motion, f"{name}_velocity_deg_s"), expected, atol=1e-5)


def test_rates_scale_with_the_cadence_and_its_square():
    slow, fast = (solve_stroke(LEG, POSITION, EVERY_30, recorded_pedal_angle(), rpm).motion for rpm in (45, 90))
    np.testing.assert_allclose(fast.shank_velocity_deg_s, 2 * slow.shank_velocity_deg_s)
    np.testing.assert_allclose(fast.thigh_acceleration_deg_s2, 4 * slow.thigh_acceleration_deg_s2)
    assert solve_stroke(LEG, POSITION, EVERY_30).motion is None
    assert fast.cadence_rpm.tolist() == [90]


def test_evenly_spaced_pedal_angles_count_as_a_curve():
    angles = recorded_pedal_angle().at(EVERY_30)
    given_as_samples = solve_stroke(LEG, POSITION, EVERY_30, angles, 90)
    given_as_curve = solve_stroke(LEG, POSITION, EVERY_30, recorded_pedal_angle(), 90)
    np.testing.assert_allclose(given_as_samples.motion.shank_velocity_deg_s, given_as_curve.motion.shank_velocity_deg_s)
    np.testing.assert_allclose(given_as_samples.knee_flexion_deg, given_as_curve.knee_flexion_deg)


def test_uneven_pedal_angles_give_angles_but_no_rates():
    uneven = [0, 30, 100.0]
    stroke = solve_stroke(LEG, POSITION, uneven, [10, 0, -10])
    assert stroke.pedal_angle_deg.tolist() == [10, 0, -10]
    np.testing.assert_allclose(stroke.knee_flexion_deg[2], solve_stroke(LEG, POSITION, 100, -10).knee_flexion_deg[0])
    with pytest.raises(
        OutOfRangeError, match=r"^pedal_angle_deg: received .*; allowed with a cadence: .*; build a curve"
    ):
        solve_stroke(LEG, POSITION, uneven, [10, 0, -10], 90)
    with pytest.raises(
        OutOfRangeError,
        match=r"^pedal_angle_deg: received 2 .*1 or 3, one a crank angle; for one value a rider add a last",
    ):
        solve_stroke(LEG, POSITION, uneven, [10, 0])


def test_three_even_crank_angles_are_enough_for_rates():
    motion = solve_stroke(LEG, POSITION, [0, 120, 240], [10, 0, 5], 90).motion
    expected = -fourier_curve([10, 0, 5]).at([0, 120, 240], 1) * 3 * np.pi
    np.testing.assert_allclose(motion.foot_velocity_deg_s, expected)


def test_a_leg_bent_by_a_right_angle_has_rates():
    # Thigh level and shank upright: products of their directions that vanish must not pass for a straight leg.
    found = saddle_for_knee_flexion(LEG, POSITION, 90, crank_angle_deg=90)
    motion = solve_stroke(LEG, found, np.arange(0, 360, 1.0), 0.0, 60).motion
    assert np.all(np.isfinite(motion.shank_acceleration_deg_s2))


def test_broadcasting_over_riders_positions_and_angles():
    many = solve_stroke(
        Leg([[410.0], [430.0]], 430, 150),
        Position([690.0, 700.0, 710.0], 200, 170),
        EVERY_30,
        constant_curve([0.0, 5.0, 10.0]),
        [60, 75, 90],
    )
    assert many.knee_flexion_deg.shape == (2, 3, 12)
    assert many.knee_mm.shape == many.hip_mm.shape == many.pedal_mm.shape == (2, 3, 12, 2)
    assert many.motion.foot_velocity_deg_s.shape == many.pedal_angle_deg.shape == (2, 3, 12)
    one = solve_stroke(Leg(430, 430, 150), Position(710, 200, 170), EVERY_30, 10.0, 90)
    for name in ANGLES:
        np.testing.assert_allclose(getattr(many, name)[1, 2], getattr(one, name))
    np.testing.assert_allclose(many.motion.thigh_acceleration_deg_s2[1, 2], one.motion.thigh_acceleration_deg_s2)


def test_default_is_every_five_degrees_from_the_top():
    assert solve_stroke(LEG, POSITION).crank_angle_deg.tolist() == list(range(0, 360, 5))


def test_low_level_chain_broadcasts_and_agrees():
    stroke = solve_stroke(LEG, POSITION, EVERY_30, 5.0)
    hip = hip_position_mm(POSITION)
    chain = solve_chain(hip[0], hip[1], 428.75, 430.5, 150, 170, EVERY_30, 5.0)
    for name in ("knee_mm", "ankle_mm", "pedal_mm", "thigh_angle_deg", "shank_angle_deg", "foot_angle_deg"):
        np.testing.assert_allclose(getattr(chain, name), getattr(stroke, name))
    np.testing.assert_allclose(chain.hip_ankle_mm, np.hypot(*np.moveaxis(stroke.ankle_mm - stroke.hip_mm, -1, 0)))
    level = solve_chain(hip[0], hip[1], 428.75, 430.5, 150, 170, 90, 5.0, ankle_to_pedal_slope_deg=20)
    assert level.foot_angle_deg == -25


def test_knee_over_pedal():
    stroke = solve_stroke(LEG, POSITION, 90.0, 4.0)
    expected = stroke.knee_mm[0, 0] - 170
    np.testing.assert_allclose(knee_over_pedal_mm(LEG, POSITION, 4.0), expected)
    np.testing.assert_allclose(knee_over_pedal_mm(LEG, POSITION, constant_curve(4.0)), expected)
    np.testing.assert_allclose(knee_over_pedal_mm(LEG, POSITION, 4.0, front_of_knee_mm=45), expected + 45)
    assert knee_over_pedal_mm(LEG, POSITION, [0.0, 4.0]).shape == (2,)
    assert knee_over_pedal_mm(LEG, Position(730, [180, 200, 220], 170)).shape == (3,)
    assert knee_over_pedal_mm(LEG, POSITION) == knee_over_pedal_mm(LEG, POSITION, 0.0)
    assert knee_over_pedal_mm(LEG, POSITION).shape == ()


@settings(max_examples=60)
@given(riders, positions, st.floats(1, 25))
def test_a_higher_saddle_straightens_the_knee_at_the_bottom(leg, position, by):
    higher = dataclasses.replace(position, saddle_height_mm=position.saddle_height_mm + by)
    low = solved_or_skipped(leg, position, 180.0)
    high = solved_or_skipped(leg, higher, 180.0)
    assert high.knee_flexion_deg < low.knee_flexion_deg


@settings(max_examples=40)
@given(riders, positions, st.floats(0.6, 1.5))
def test_angles_do_not_depend_on_size(leg, position, size):
    def scaled(thing, but=()):
        values = {k: v * size if k.endswith("_mm") else v for k, v in dataclasses.asdict(thing).items()}
        return type(thing)(**values)

    small = solved_or_skipped(leg, position, cadence_rpm=90, pedal_angle_deg=recorded_pedal_angle())
    large = solve_stroke(scaled(leg), scaled(position), cadence_rpm=90, pedal_angle_deg=recorded_pedal_angle())
    np.testing.assert_allclose(large.knee_mm, small.knee_mm * size)
    for name in ANGLES:
        np.testing.assert_allclose(getattr(large, name), getattr(small, name), atol=1e-6)
    np.testing.assert_allclose(
        large.motion.shank_velocity_deg_s, small.motion.shank_velocity_deg_s, rtol=1e-6, atol=1e-6
    )


@settings(max_examples=40)
@given(riders, positions)
def test_mirror_the_left_leg_half_a_turn_later_has_the_same_angles(leg, position):
    curve = recorded_pedal_angle()
    right = solved_or_skipped(leg, position, pedal_angle_deg=curve)
    left = solve_stroke(leg, position, right.crank_angle_deg + 180, curve.at(right.crank_angle_deg + 180))
    for name in ANGLES:
        np.testing.assert_allclose(getattr(left, name), np.roll(getattr(right, name), 36), atol=1e-7)


@settings(max_examples=150)
@given(
    st.floats(100, 1000),
    st.floats(100, 1000),
    st.floats(20, 400),
    st.floats(100, 2000),
    st.floats(-90, 90),
    st.floats(50, 300),
    st.floats(-90, 90),
)
def test_reachable_or_the_one_clear_error_but_never_nan(thigh, shank, foot, height, setback, crank, pedal):
    leg, position = Leg(thigh, shank, foot), Position(height, setback, crank)
    hip = hip_position_mm(position)
    try:
        stroke = solve_stroke(leg, position, EVERY_30, pedal)
    except UnreachablePositionError:
        down = np.radians(pedal + 35)
        turn = np.radians(EVERY_30)
        gap = np.hypot(
            crank * np.sin(turn) - foot * np.cos(down) - hip[0], crank * np.cos(turn) + foot * np.sin(down) - hip[1]
        )
        assert np.any(gap > (thigh + shank) * (1 - 1e-9)) or np.any(gap < abs(thigh - shank) * (1 + 1e-9) + 1e-3)
    else:
        for name in (*ANGLES, "knee_mm", "ankle_mm"):
            assert np.all(np.isfinite(getattr(stroke, name)))


def test_the_error_says_where_how_far_and_what_to_do():
    with pytest.raises(
        UnreachablePositionError,
        match=r"at crank angle 1\d0° hip and ankle lie \d+\.\d mm further apart .*859\.2 mm"
        r".*the worst of \d+ places.*lower the saddle",
    ):
        solve_stroke(LEG, Position(820, 200, 170), np.arange(0, 360, 10.0))
    with pytest.raises(
        UnreachablePositionError, match=r"at crank angle 350° hip and ankle come .* closer .*raise the saddle"
    ):
        solve_stroke(Leg(600, 300, 150), Position(480, 200, 170), np.arange(0, 360, 10.0))
    with pytest.raises(UnreachablePositionError, match=r"at crank angle 180° .* reach \(859\.2 mm\); lower"):
        solve_stroke(LEG, Position(820, 200, 170), 180.0)


def test_the_error_names_the_rider_among_many():
    with pytest.raises(UnreachablePositionError, match=r"at crank angle 1\d0° of entry \[2\] hip"):
        solve_stroke(LEG, Position([700, 710, 830, 820], 200, 170), np.arange(0, 360, 10.0))
    with pytest.raises(UnreachablePositionError, match=r"of entry \[1, 0\] hip"):
        solve_stroke(LEG, Position([[700], [830]], [200, 230], 170), np.arange(0, 360, 10.0))


def test_the_error_counts_the_places_and_names_an_angle_of_the_turn():
    position, angles = Position(775, 200, 170), np.arange(360, 720, 10.0)
    hip = hip_position_mm(position)
    ankles = 170 * np.stack([np.sin(np.radians(angles)), np.cos(np.radians(angles))], -1) - vector(150, -35)
    gaps = np.hypot(*(ankles - hip).T) - 859.25
    places, worst = np.count_nonzero(gaps > 0), angles[np.argmax(gaps)] - 360
    assert places > 1
    with pytest.raises(
        UnreachablePositionError, match=rf"angle {worst:.0f}° hip .* \(the worst of {places} places\); lower"
    ):
        solve_stroke(LEG, position, angles)
    beyond, within = angles[gaps > 0], angles[gaps < 0]
    with pytest.raises(UnreachablePositionError, match=r"the worst of 2 places"):
        solve_stroke(LEG, position, [within[0], beyond[0], beyond[1]])
    # A place missed by half a millimetre counts as well: a leg just too short.
    spans = np.hypot(*(ankles - hip).T)
    for far in spans[gaps > 0]:
        short = Leg(428.75, far - 428.75 - 0.5, 150)
        count = np.count_nonzero(spans > far - 0.5)
        more = rf"\(the worst of {count} places\)" if count > 1 else r"reach \(\d+\.\d mm\); lower"
        with pytest.raises(UnreachablePositionError, match=more):
            solve_stroke(short, position, angles)
    with pytest.raises(UnreachablePositionError) as caught:
        solve_stroke(LEG, position, [within[0], beyond[0]])
    assert "worst" not in str(caught.value)


def test_the_gap_in_the_message_is_the_missing_length():
    hip = hip_position_mm(Position(820, 200, 170))
    ankle = np.array([0, -170]) - vector(150, -35)
    missing = np.hypot(*(ankle - hip)) - 859.25
    with pytest.raises(UnreachablePositionError, match=rf"lie {missing:.1f} mm further"):
        solve_stroke(LEG, Position(820, 200, 170), 180.0)


def test_a_leg_exactly_straight_is_reached_but_has_no_rates():
    # Hip straight above the ankle at the bottom of the stroke: distance 430 + 430 (built so).
    foot_down, foot_ahead = 150 * np.sin(np.radians(35)), 150 * np.cos(np.radians(35))
    height = np.hypot(foot_ahead, 860 - 170 + foot_down)
    position = Position(height, foot_ahead, 170, hip_above_saddle_mm=0)
    leg = Leg(430, 430, 150)
    stroke = solve_stroke(leg, position, 180.0)
    np.testing.assert_allclose(stroke.knee_flexion_deg, 0, atol=1e-3)
    with pytest.raises(
        UnreachablePositionError,
        match=r"straight at crank angle 180°, .*; allowed: a bent knee .*; lower the saddle a little$",
    ):
        solve_stroke(leg, position, [90.0, 540.0, 270.0], cadence_rpm=90)


@pytest.mark.parametrize(("shank", "position"), [(400, Position(350, 150, 170)), (300, Position(400, 150, 170))])
def test_a_shank_that_turns_past_level_is_counted_on(shank, position):
    stroke = solve_stroke(Leg(430, shank, 150), position, np.arange(0, 360, 5.0))
    assert stroke.shank_angle_deg.min() < -190
    up, down = stroke.hip_mm - stroke.knee_mm, stroke.ankle_mm - stroke.knee_mm
    cosine = np.sum(up * down, axis=-1) / (430 * shank)
    np.testing.assert_allclose(stroke.knee_flexion_deg, 180 - np.degrees(np.arccos(cosine)), atol=1e-6)
    assert np.abs(np.diff(stroke.shank_angle_deg)).max() < 60


def test_a_leg_folded_flat_is_the_last_that_is_allowed():
    # Hip exactly 300 mm above the ankle at the top of the stroke, thigh 600, shank 300 (built so).
    ankle = np.array([0, 170]) - vector(150, -35)
    hip = ankle + np.array([0, 300])
    position = Position(np.hypot(*hip), -hip[0], 170, hip_above_saddle_mm=0)
    np.testing.assert_allclose(solve_stroke(Leg(600, 300, 150), position, 0.0).knee_flexion_deg, 180, atol=1e-3)
    with pytest.raises(
        UnreachablePositionError, match=r"come 0\.5 mm closer .*300\.5 mm\); raise .* or shorten the crank$"
    ):
        solve_stroke(Leg(600.5, 300, 150), position, 0.0)


def test_a_hip_in_the_ankle_is_refused():
    hip = np.array([0, 170]) - vector(150, -35) + [0, 1e-5]
    with pytest.raises(UnreachablePositionError, match="closer than the folded leg"):
        solve_stroke(Leg(430, 430, 150), Position(np.hypot(*hip), -hip[0], 170, hip_above_saddle_mm=0), 0.0)


def test_a_leg_straight_and_slanted_has_no_rates_either():
    # Hip 860 mm from the ankle along a line 15° off the vertical (built so).
    ankle = np.array([0, -170]) - vector(150, -35)
    hip = ankle + vector(430 + 430 - 1e-11, 105)
    leg, position = Leg(430, 430, 150), Position(np.hypot(*hip), -hip[0], 170, hip_above_saddle_mm=0)
    np.testing.assert_allclose(solve_stroke(leg, position, 180.0).knee_flexion_deg, 0, atol=1e-3)
    with pytest.raises(UnreachablePositionError, match="straight at crank angle 180°"):
        solve_stroke(leg, position, 180.0, cadence_rpm=90)


@pytest.mark.parametrize(
    "call",
    [
        lambda: solve_stroke(Leg(42.9, 430, 150), POSITION),
        lambda: solve_stroke(Leg(1001, 430, 150), POSITION),
        lambda: solve_stroke(Leg(430, 99, 150), POSITION),
        lambda: solve_stroke(Leg(430, 1001, 150), POSITION),
        lambda: solve_stroke(LEG, Position(730, 200, 49)),
        lambda: solve_stroke(LEG, Position(730, 200, 301)),
        lambda: solve_stroke(LEG, POSITION, np.nan),
        lambda: solve_stroke(LEG, POSITION, 0.0, 91),
        lambda: solve_stroke(LEG, POSITION, 0.0, -91),
        lambda: solve_stroke(LEG, POSITION, cadence_rpm=0),
        lambda: solve_stroke(LEG, POSITION, cadence_rpm=301),
        lambda: solve_stroke(LEG, POSITION, pelvis_forward_tilt_deg=121),
        lambda: solve_stroke(LEG, POSITION, pelvis_forward_tilt_deg=-61),
        lambda: solve_stroke(LEG, POSITION, trunk_angle_deg=121),
        lambda: solve_stroke(LEG, POSITION, trunk_angle_deg=-21),
        lambda: knee_over_pedal_mm(LEG, POSITION, 91),
        lambda: knee_over_pedal_mm(LEG, POSITION, -91),
        lambda: knee_over_pedal_mm(LEG, POSITION, front_of_knee_mm=151),
        lambda: knee_over_pedal_mm(LEG, POSITION, front_of_knee_mm=-101),
        lambda: solve_chain(-200, 740, 0, 430, 150, 170, 0, 0),
        lambda: solve_chain(-200, 740, 430, -1, 150, 170, 0, 0),
        lambda: solve_chain(-200, 740, 430, 430, 0, 170, 0, 0),
        lambda: solve_chain(-200, 740, 430, 430, 150, 0, 0, 0),
        lambda: solve_chain(np.nan, 740, 430, 430, 150, 170, 0, 0),
        lambda: solve_chain(-200, np.nan, 430, 430, 150, 170, 0, 0),
        lambda: solve_chain(-200, 740, 430, 430, 150, 170, np.nan, 0),
        lambda: solve_chain(-200, 740, 430, 430, 150, 170, 0, np.nan),
        lambda: solve_chain(-200, 740, 430, 430, 150, 170, 0, 0, np.nan),
    ],
)
def test_wrong_values_are_refused(call):
    with pytest.raises(OutOfRangeError, match=r"received .*; allowed: .*; "):
        call()


def test_limits_themselves_are_allowed():
    extreme = solve_stroke(LEG, POSITION, 0.0, pelvis_forward_tilt_deg=[-60, 120], trunk_angle_deg=[-20, 120])
    assert extreme.hip_flexion_deg.shape == (2, 1)
    solve_stroke(LEG, POSITION, cadence_rpm=300)
