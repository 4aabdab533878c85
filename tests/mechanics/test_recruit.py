import clarabel
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import sparse
from scipy.optimize import linprog

from pedalwright.activity import (
    ACTIVITY_WINDOWS,
    ActivityWindow,
    active_arc_deg,
    active_at,
    compare_with_activity,
)
from pedalwright.body import leg_inertia
from pedalwright.dynamics import inverse_dynamics
from pedalwright.errors import OutOfRangeError
from pedalwright.muscles import MUSCLES, moment_arms_mm, muscle_strength
from pedalwright.position import Leg, Position
from pedalwright.posture import Posture, Rates
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.recruit import InfeasibleMomentError, recruit, share_load
from pedalwright.stroke import solve_stroke

NAMES = tuple(MUSCLES)
FORCES = np.array([muscle_strength(name).max_isometric_force_n for name in NAMES])
POSTURE = Posture(70.0, 80.0, 5.0)


def arms_at(posture):
    arms = [moment_arms_mm(name, posture) for name in NAMES]
    return np.stack([np.stack([arm.hip_mm, arm.knee_mm, arm.ankle_mm], axis=-1) for arm in arms], axis=-2)


ARMS = arms_at(POSTURE)
MOMENTS = st.tuples(st.floats(-150, 60), st.floats(-120, 40), st.floats(-20, 90)).map(np.array)
POWERS = st.sampled_from([1.5, 2.0, 3.0, 5.0])


def feasible(moment, arms, forces, top=1.0):
    """A general linear solver on the constraints alone."""
    result = linprog(
        np.zeros(len(forces)), A_eq=(arms / 1000 * forces[:, None]).T, b_eq=moment, bounds=[(0, top)] * len(forces)
    )
    return result.status == 0


@settings(max_examples=60, deadline=None)
@given(MOMENTS, POWERS, st.floats(0.3, 1))
def test_optimality_conditions_hold(moment, power, top):
    """Karush, Kuhn and Tucker, written out: one price a joint makes each muscle's marginal cost fit its place.

    Whether such prices exist is asked of a linear solver.
    """
    assume(feasible(moment * 1.01, ARMS, FORCES, top))
    share = share_load(moment, ARMS, FORCES, exponent=power, upper_activation=top)
    pull = ARMS / 1000 * FORCES[:, None]
    assert pull.T @ share.activation == pytest.approx(moment, abs=1e-9 * (1 + np.abs(moment).max()))
    assert np.all((share.activation >= 0) & (share.activation <= top))
    cost = power * share.activation ** (power - 1)
    slack = 1e-4 * (cost.max() + 1e-3)
    not_idle, not_full = share.activation > 1e-5, share.activation < top - 1e-5
    prices = linprog(
        np.zeros(3),
        A_ub=np.vstack([pull[not_full], -pull[not_idle]]),
        b_ub=np.concatenate([cost[not_full], -cost[not_idle]]) + slack,
        bounds=(None, None),
    )
    assert prices.status == 0


def least_by_cones(moments, pull, top, power):
    """All instants as one problem for a conic interior-point solver of another library.

    a^p ≤ t is the power cone t^(1/p) · 1^(1−1/p) ≥ |a|; unknowns are all activations, then all t.
    """
    instants, muscles, joints = pull.shape
    count = instants * muscles
    eye, none = sparse.identity(count, format="csc"), sparse.csc_matrix((count, count))
    meets = sparse.hstack([sparse.block_diag([one.T for one in pull]), sparse.csc_matrix((instants * joints, count))])
    rows = np.arange(count)
    cone = sparse.csc_matrix(
        (-np.ones(2 * count), (np.concatenate([3 * rows, 3 * rows + 2]), np.concatenate([count + rows, rows]))),
        shape=(3 * count, 2 * count),
    )
    rows_of = sparse.vstack([meets, sparse.hstack([-eye, none]), sparse.hstack([eye, none]), cone], format="csc")
    right = np.concatenate([moments.ravel(), np.zeros(count), np.full(count, top), np.tile([0.0, 1.0, 0.0], count)])
    settings_ = clarabel.DefaultSettings()
    settings_.verbose = False
    found = clarabel.DefaultSolver(
        sparse.csc_matrix((2 * count, 2 * count)),
        np.concatenate([np.zeros(count), np.ones(count)]),
        rows_of,
        right,
        [
            clarabel.ZeroConeT(instants * joints),
            clarabel.NonnegativeConeT(2 * count),
            *[clarabel.PowerConeT(1 / power)] * count,
        ],
        settings_,
    ).solve()
    assert str(found.status) in ("Solved", "AlmostSolved")
    return np.array(found.x[:count]).reshape(instants, muscles)


@pytest.mark.parametrize("power", [1.5, 2.0, 3.0, 5.0])
def test_a_solver_of_another_library_finds_nothing_better_and_the_same_forces(power):
    draw = np.random.default_rng(3)
    pull = ARMS / 1000 * FORCES[:, None]
    moments = (draw.uniform(0, 0.6, (60, 10)) * draw.choice([0.05, 1], (60, 10))) @ pull
    share = share_load(moments, ARMS, FORCES, exponent=power, upper_activation=0.6)
    other = least_by_cones(moments, np.broadcast_to(pull, (60, 10, 3)), 0.6, power)
    cost = np.sum(share.activation**power, axis=-1)
    assert np.all(cost <= np.sum(np.abs(other) ** power, axis=-1) * (1 + 1e-5))
    assert share.activation == pytest.approx(other, abs=1e-3 if power <= 3 else 2e-2)


@settings(max_examples=100, deadline=None)
@given(st.tuples(st.floats(-400, 400), st.floats(-400, 400), st.floats(-300, 500)).map(np.array), st.floats(0.2, 1))
def test_what_is_infeasible_is_refused_and_nothing_else(moment, top):
    """Against a general linear solver; within a thousandth of the border both answers are right."""
    inside, outside = feasible(moment * 1.001, ARMS, FORCES, top), not feasible(moment * 0.999, ARMS, FORCES, top)
    assume(inside or outside)
    if outside:
        with pytest.raises(InfeasibleMomentError):
            share_load(moment, ARMS, FORCES, upper_activation=top)
    else:
        share_load(moment, ARMS, FORCES, upper_activation=top)


def test_one_joint_closed_form():
    """Σ (F/F_max)² is least with F in proportion to arm · F_max²: worked with Lagrange's multiplier."""
    arms, most = np.array([50.0, 30.0, 40.0]), np.array([1000.0, 3000.0, 500.0])
    share = share_load([40.0], arms[:, None], most)
    weight = arms * most**2
    assert share.force_n == pytest.approx(40 / (arms / 1000 @ weight) * weight, rel=1e-7)


def test_a_saturated_muscle_leaves_the_rest_to_the_others():
    share = share_load([40.0], [[50.0], [50.0]], [1000.0, 3000.0], upper_activation=[1.0, 0.2])
    assert share.force_n == pytest.approx([200.0, 600.0])


def test_reserves_give_what_the_muscles_cannot():
    """One muscle of 1000 N at 50 mm gives 50 N·m; of 80 asked for, 30 are missing."""
    share = share_load([80.0], [[50.0]], [1000.0], allow_reserve=True)
    assert share.activation == pytest.approx([1.0])
    assert share.reserve_nm == pytest.approx([30.0])
    assert share_load([20.0], [[50.0]], [1000.0], allow_reserve=True).reserve_nm.tolist() == [0]


def test_reserves_are_the_least_that_will_do():
    """A two-joint muscle of 1000 N gives (30, 40) N·m at most, and along that line only: feet of perpendiculars."""
    share = share_load([[10.0, 5.0], [40.0, 60.0]], [[30.0, 40.0]], [1000.0], allow_reserve=True)
    assert share.activation == pytest.approx(np.array([[0.2], [1.0]]))
    assert share.reserve_nm == pytest.approx(np.array([[4.0, -3.0], [10.0, 20.0]]))


@given(MOMENTS, st.floats(1, 8), POWERS)
@settings(max_examples=40, deadline=None)
def test_muscles_and_reserves_add_up_and_no_muscle_could_make_the_reserve_smaller(moment, times, power):
    share = share_load(times * moment, ARMS, FORCES, exponent=power, allow_reserve=True)
    total = (ARMS / 1000).T @ share.force_n
    assert total + share.reserve_nm == pytest.approx(times * moment, abs=1e-9 * (1 + times * np.abs(moment).max()))
    useful = ARMS / 1000 * FORCES[:, None] @ share.reserve_nm
    slack = 1e-6 * (1 + np.abs(useful).max())
    assert np.all(useful[share.activation < 1 - 1e-6] <= slack)
    assert np.all(useful[share.activation > 1e-6] >= -slack)
    assert share.reserve_nm.any() != feasible(times * moment, ARMS, FORCES) or np.abs(share.reserve_nm).max() < 1e-3


@given(MOMENTS, st.floats(0.05, 0.9), st.sampled_from([1.5, 2.0, 3.0]))
@settings(max_examples=30, deadline=None)
def test_half_the_moments_take_half_the_forces_while_no_muscle_is_full(moment, factor, power):
    assume(np.abs(moment).max() > 1)
    assume(feasible(moment * 1.05, ARMS, FORCES))
    full = share_load(moment, ARMS, FORCES, exponent=power)
    assume(full.activation.max() < 0.99)
    part = share_load(factor * moment, ARMS, FORCES, exponent=power)
    assert part.activation == pytest.approx(factor * full.activation, abs=2e-4)


@given(MOMENTS, st.permutations(range(10)), st.tuples(*[st.sampled_from([-1, 1])] * 3).map(np.array))
@settings(max_examples=30, deadline=None)
def test_order_of_muscles_and_sign_of_joints_do_not_matter(moment, order, signs):
    assume(feasible(moment * 1.05, ARMS, FORCES))
    order = list(order)
    plain = share_load(moment, ARMS, FORCES, exponent=3)
    other = share_load(moment * signs, (ARMS * signs)[order], FORCES[order], exponent=3)
    assert other.force_n == pytest.approx(plain.force_n[order], abs=0.5)


def test_a_joint_no_muscle_crosses_may_be_listed_if_nothing_is_asked_of_it():
    share = share_load([[40.0, 0.0], [0.0, 0.0]], [[50.0, 0.0], [50.0, 0.0]], [1000.0, 3000.0])
    assert share.force_n == pytest.approx(np.array([[80.0, 720.0], [0.0, 0.0]]), abs=1e-2)
    with pytest.raises(InfeasibleMomentError):
        share_load([40.0, 1.0], [[50.0, 0.0], [50.0, 0.0]], [1000.0, 3000.0])
    only = share_load([40.0, 1.0], [[50.0, 0.0], [50.0, 0.0]], [1000.0, 3000.0], allow_reserve=True)
    assert only.reserve_nm == pytest.approx([0.0, 1.0], abs=1e-9)
    none = share_load([40.0], [[50.0]], [1000.0], upper_activation=0, allow_reserve=True)
    assert (none.force_n.tolist(), none.reserve_nm.tolist()) == ([0.0], [40.0])
    assert share_load([0.0], [[0.0]], [1000.0]).force_n.tolist() == [0.0]
    assert share_load([1e-300], [[50.0]], [1000.0]).force_n == pytest.approx([0.0], abs=1e-9)


def test_a_higher_power_spreads_the_load():
    peaks = [share_load([-80, -40, 30], ARMS, FORCES, exponent=p).activation.max() for p in (1.2, 2, 3, 10)]
    assert peaks == sorted(peaks, reverse=True)


def test_instants_do_not_influence_each_other():
    rng = np.random.default_rng(5)
    moments = rng.uniform([-60, -40, 0], [0, 20, 40], (50, 2, 3))
    together = share_load(moments, ARMS, FORCES)
    assert together.force_n.shape == (50, 2, 10)
    for i in (0, 17, 49):
        assert together.force_n[i, 1] == pytest.approx(share_load(moments[i, 1], ARMS, FORCES).force_n, abs=1e-9)


def test_a_muscle_without_force_is_left_out():
    top = np.ones(10)
    top[1] = 0
    share = share_load([-60, -30, 20], ARMS, FORCES, upper_activation=top)
    rest = share_load([-60, -30, 20], np.delete(ARMS, 1, 0), np.delete(FORCES, 1))
    assert share.force_n[1] == 0
    assert np.delete(share.force_n, 1) == pytest.approx(rest.force_n, abs=0.05)


@pytest.fixture(scope="module")
def ride():
    leg = Leg(425, 425, 150)
    stroke = solve_stroke(leg, Position(710, 200, 170), pedal_angle_deg=recorded_pedal_angle(), cadence_rpm=90)
    loads = inverse_dynamics(
        stroke, leg_inertia(75, leg), *recorded_pedal_force(crank_angle_deg=stroke.crank_angle_deg)
    )
    moments = (
        loads.hip_extension_moment_nm,
        loads.knee_extension_moment_nm,
        loads.ankle_plantar_flexion_moment_nm,
    )
    return stroke, moments


@pytest.mark.parametrize("model", ["lai_2017", "rajagopal_2016"])
@pytest.mark.parametrize("exponent", [2, 3])
def test_muscles_give_the_joint_moments_of_a_recorded_stroke(ride, model, exponent):
    stroke, moments = ride
    posture = Posture(stroke.hip_flexion_deg, stroke.knee_flexion_deg, stroke.ankle_plantar_flexion_deg + 13)
    shared = recruit(*moments, posture, model=model, exponent=exponent)
    assert shared.force_n.shape == (10, 72)
    for asked, by_muscle in zip(
        moments,
        (shared.hip_extension_moment_nm, shared.knee_extension_moment_nm, shared.ankle_plantar_flexion_moment_nm),
        strict=True,
    ):
        assert by_muscle.sum(axis=0) == pytest.approx(asked, abs=1e-5)
    assert np.all(shared.reserve_nm == 0)
    names = dict(zip(shared.muscles, shared.activation, strict=True))
    assert names["vasti"][:18].mean() > 3 * names["vasti"][27:54].mean()
    for two_joint in ("rectus femoris", "biceps femoris, long head", "semimembranosus", "gastrocnemius"):
        assert names[two_joint].max() > 0.02


def test_two_joint_muscles_extend_the_hip_and_flex_the_knee_at_once(ride):
    stroke, moments = ride
    shared = recruit(*moments, stroke)
    place = shared.muscles.index("semimembranosus")
    downstroke = slice(6, 24)
    assert np.all(shared.hip_extension_moment_nm[place, downstroke] > 0)
    assert np.all(shared.knee_extension_moment_nm[place, downstroke] < 0)


def test_length_and_velocity_lower_what_a_muscle_may_give(ride):
    stroke, moments = ride
    posture = Posture(stroke.hip_flexion_deg, stroke.knee_flexion_deg, stroke.ankle_plantar_flexion_deg + 20)
    shared = recruit(*moments, posture, stroke.motion, limits="length and velocity", allow_reserve=True)
    total = shared.knee_extension_moment_nm.sum(axis=0) + shared.reserve_nm[1]
    assert total == pytest.approx(moments[1], abs=1e-4)
    still = recruit(*moments, posture, limits="length and velocity", allow_reserve=True)
    fast = Rates(
        *(
            8 * np.asarray(rate)
            for rate in (
                stroke.motion.hip_flexion_velocity_deg_s,
                stroke.motion.knee_flexion_velocity_deg_s,
                stroke.motion.ankle_plantar_flexion_velocity_deg_s,
            )
        )
    )
    hurried = recruit(*moments, posture, fast, limits="length and velocity", allow_reserve=True)
    assert np.abs(hurried.reserve_nm).max() > np.abs(still.reserve_nm).max() + 1


def test_passive_force_of_a_stretched_muscle_is_taken_along():
    """Fully dorsiflexed and nothing asked for: the calf still pulls, and something must hold against it."""
    shared = recruit(
        [0.0], [0.0], [0.0], Posture([60.0], [60.0], [-25.0]), limits="length and velocity", allow_reserve=True
    )
    calf = shared.ankle_plantar_flexion_moment_nm[shared.muscles.index("soleus"), 0]
    assert calf > 5
    total = shared.ankle_plantar_flexion_moment_nm.sum(axis=0) + shared.reserve_nm[2]
    assert total == pytest.approx([0.0], abs=1e-6)


def test_riders_go_together(ride):
    stroke, moments = ride
    stronger = [np.stack([moment, 1.5 * moment]) for moment in moments]
    together = recruit(*stronger, stroke)
    assert together.force_n.shape == (2, 10, 72)
    assert together.force_n[1] == pytest.approx(recruit(*(1.5 * m for m in moments), stroke).force_n, abs=0.1)


def test_longer_legs_need_less_force(ride):
    stroke, moments = ride
    small, large = (recruit(*moments, stroke, thigh_length_mm=s, shank_length_mm=s).force_n for s in (400, 440))
    assert large.sum() == pytest.approx(small.sum() * 400 / 440, rel=1e-3)


def test_own_strengths_replace_those_of_the_model(ride):
    stroke, moments = ride
    weak = recruit(*moments, stroke, max_force_n={"vasti": 3000.0})
    usual = recruit(*moments, stroke)
    place = weak.muscles.index("vasti")
    assert weak.force_n[place].max() < usual.force_n[place].max()


def test_active_where_above_a_share_of_its_own_peak():
    assert active_at([0, 1, 5, 10, 2.1], threshold=0.2).tolist() == [False, False, True, True, True]
    assert not active_at(np.zeros(8)).any()


@pytest.mark.parametrize(
    ("activation", "arc"),
    [
        ([0, 1, 1, 0, 0, 0, 0, 0], (45, 135)),
        ([1, 0, 0, 0, 0, 0, 1, 1], (270, 45)),
        ([0, 1, 0, 1, 1, 1, 0, 0], (135, 270)),
        ([1, 1, 1, 1, 1, 1, 1, 1], (0, 360)),
    ],
)
def test_longest_arc_of_activity(activation, arc):
    assert active_arc_deg(activation) == arc


def test_a_silent_muscle_has_no_arc():
    assert all(np.isnan(active_arc_deg(np.zeros(8))))


def test_comparison_counts_crank_angles(ride):
    """Window 0 to 90° against vasti predicted by hand in a made-up pattern: 45 to 135° active."""
    stroke, moments = ride
    shared = recruit(*moments, stroke)
    activation = np.zeros(shared.activation.shape)
    activation[shared.muscles.index("vasti"), 9:27] = 1  # 45° up to 135°
    made_up = type(shared)(**{**vars(shared), "activation": activation})
    (compared,) = compare_with_activity(made_up, windows=(ActivityWindow("vasti", 0, 90, "none", "made up"),))
    assert (compared.predicted_onset_deg, compared.predicted_offset_deg) == (45, 135)
    assert compared.published_share_covered == pytest.approx(0.5)
    assert compared.predicted_share_inside == pytest.approx(0.5)
    assert compared.overlap == pytest.approx(1 / 3)
    (over_the_top,) = compare_with_activity(made_up, windows=(ActivityWindow("vasti", 300, 90, "none", "made up"),))
    assert over_the_top.published_share_covered == pytest.approx(45 / 150)
    (silent,) = compare_with_activity(made_up, windows=(ActivityWindow("soleus", 340, 270, "none", "made up"),))
    assert silent.overlap == 0
    assert "predicted silent" in silent.in_words()


def test_every_window_of_a_predicted_muscle_is_compared(ride):
    stroke, moments = ride
    compared = compare_with_activity(recruit(*moments, stroke))
    assert [one.window for one in compared] == list(ACTIVITY_WINDOWS)
    only = compare_with_activity(recruit(*moments, stroke, muscles=NAMES, exponent=2), windows=ACTIVITY_WINDOWS[:1])
    assert len(only) == 1


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: share_load([[0, 0]], ARMS, FORCES), ["moment_arm_mm", "(10, 3)"]),
        (lambda: share_load([0, 0, 0], ARMS, FORCES[:4]), ["shape"]),
        (lambda: share_load([0, 0, 0], ARMS, -FORCES), ["max_force_n"]),
        (lambda: share_load([0, 0, 0], ARMS, FORCES, exponent=1), ["exponent", "above 1"]),
        (lambda: share_load([0, 0, np.nan], ARMS, FORCES), ["moment_nm", "nan"]),
        (lambda: share_load([0, 0, 0], ARMS, FORCES, upper_activation=3), ["upper_activation"]),
        (lambda: recruit([0.0], [0.0], [0.0], POSTURE, muscles=[]), ["muscles"]),
        (lambda: recruit([0.0], [0.0], [0.0], POSTURE, muscles=["soleus", "soleus"]), ["each once"]),
        (lambda: recruit([0.0], [0.0], [0.0], POSTURE, limits="none"), ["none", "isometric"]),
        (lambda: recruit([0.0], [0.0], [0.0], POSTURE, max_force_n={"heart": 1}), ["heart"]),
        (lambda: active_at([-1, 2]), ["activation"]),
        (lambda: active_at([1, 2], threshold=1), ["threshold"]),
        (lambda: active_arc_deg([[1, 2]]), ["one muscle"]),
    ],
)
def test_errors_say_what_was_received_and_what_is_allowed(call, words):
    with pytest.raises(OutOfRangeError) as error:
        call()
    for word in words:
        assert word in str(error.value)


def test_infeasible_moments_name_the_instant_and_the_way_out():
    moments = np.zeros((4, 3))
    moments[2] = [-2000, 0, 0]
    with pytest.raises(InfeasibleMomentError) as error:
        share_load(moments, ARMS, FORCES)
    for word in ("-2000", "instant 2", "allow_reserve"):
        assert word in str(error.value)


@pytest.mark.parametrize("joints", [1, 2, 4])
def test_infeasible_moments_are_refused_for_any_number_of_joints(joints):
    arms = np.eye(joints) * 50
    share_load(np.full(joints, 10.0), arms, np.full(joints, 1000.0))
    with pytest.raises(InfeasibleMomentError):
        share_load(np.full(joints, 51.0), arms, np.full(joints, 1000.0))
    with pytest.raises(InfeasibleMomentError):
        share_load(np.full(joints, -1.0), arms, np.full(joints, 1000.0))


def test_one_rider_is_compared_at_a_time(ride):
    stroke, moments = ride
    both = recruit(*(np.stack([m, m]) for m in moments), stroke)
    with pytest.raises(OutOfRangeError, match="one rider"):
        compare_with_activity(both)
