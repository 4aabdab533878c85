import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.muscle_curves import muscle_curve
from pedalwright.muscles import (
    MUSCLES,
    PATH_MODELS,
    gluteal_lengthening_mm,
    length_change_mm,
    lengthening_velocity_mm_s,
    models_with,
    moment_arms_by_model,
    moment_arms_mm,
    muscle_length_mm,
    muscle_strength,
)
from pedalwright.position import Leg, Position
from pedalwright.posture import Posture, Rates
from pedalwright.stroke import solve_stroke

PAIRS = [(muscle, model) for muscle in MUSCLES for model in models_with(muscle)]
SIZE = {"thigh_length_mm": 425.0, "shank_length_mm": 420.0}
HIP = st.floats(1, 119)
KNEE = st.floats(1, 119)
ANKLE = st.floats(-29, 29)
JOINTS = ("hip", "knee", "ankle")


def shifted(posture, joint, step):
    values = [posture.hip_flexion_deg, posture.knee_flexion_deg, posture.ankle_plantar_flexion_deg]
    values[JOINTS.index(joint)] += step
    return Posture(*values)


@pytest.mark.parametrize(("muscle", "model"), PAIRS)
@settings(max_examples=20, deadline=None)
@given(st.builds(Posture, HIP, KNEE, ANKLE), st.sampled_from(JOINTS))
def test_virtual_work_arm_is_minus_the_slope_of_length(muscle, model, posture, joint):
    step = 1e-3
    change = length_change_mm(
        muscle, shifted(posture, joint, -step), shifted(posture, joint, step), model=model, **SIZE
    )
    arm = getattr(moment_arms_mm(muscle, posture, model=model, **SIZE), f"{joint}_mm")
    assert arm == pytest.approx(-change / np.radians(2 * step), abs=2e-3)


@pytest.mark.parametrize(("muscle", "model"), PAIRS)
@settings(max_examples=20, deadline=None)
@given(st.builds(Posture, HIP, KNEE, ANKLE), st.floats(0.5, 2))
def test_everything_grows_in_proportion_to_the_body(muscle, model, posture, factor):
    larger = {name: factor * value for name, value in SIZE.items()}
    small, large = (moment_arms_mm(muscle, posture, model=model, **size) for size in (SIZE, larger))
    for joint in JOINTS:
        assert getattr(large, f"{joint}_mm") == pytest.approx(factor * getattr(small, f"{joint}_mm"))
    if model != "grieve_1978":
        lengths = [muscle_length_mm(muscle, posture, model=model, **size) for size in (SIZE, larger)]
        assert lengths[1] == pytest.approx(factor * lengths[0])


@pytest.mark.parametrize(("muscle", "model"), PAIRS)
@settings(max_examples=20, deadline=None)
@given(st.builds(Posture, HIP, KNEE, ANKLE), st.builds(Posture, HIP, KNEE, ANKLE))
def test_change_of_length_is_a_difference_and_turns_round(muscle, model, before, after):
    change = length_change_mm(muscle, before, after, model=model, **SIZE)
    assert length_change_mm(muscle, after, before, model=model, **SIZE) == pytest.approx(-change, abs=1e-9)
    if model != "grieve_1978":
        lengths = [muscle_length_mm(muscle, posture, model=model, **SIZE) for posture in (before, after)]
        assert lengths[1] - lengths[0] == pytest.approx(change, abs=1e-9)


@pytest.mark.parametrize("model", ["lai_2017", "rajagopal_2016", "gait2392"])
@pytest.mark.parametrize("muscle", [name for name, heads in MUSCLES.items() if len(heads) > 1])
def test_a_lumped_muscle_works_like_its_heads_sharing_the_force_by_strength(muscle, model):
    heads = MUSCLES[muscle]
    forces = np.array([muscle_strength(head, model).max_isometric_force_n for head in heads])
    posture = Posture(70, 80, 10)
    whole = moment_arms_mm(muscle, posture, model=model)
    for joint in JOINTS:
        arms = [getattr(moment_arms_mm(head, posture, model=model), f"{joint}_mm") for head in heads]
        assert getattr(whole, f"{joint}_mm") * forces.sum() == pytest.approx(forces @ arms)
    lengths = [muscle_length_mm(head, posture, model=model) for head in heads]
    assert muscle_length_mm(muscle, posture, model=model) * forces.sum() == pytest.approx(forces @ lengths)
    whole_strength = muscle_strength(muscle, model)
    fibres = [muscle_strength(head, model).optimal_fibre_length_mm for head in heads]
    assert whole_strength.max_isometric_force_n == forces.sum()
    assert whole_strength.optimal_fibre_length_mm * forces.sum() == pytest.approx(forces @ fibres)


# What each muscle does at each joint while pedalling (hip 40 to 100°, knee 30 to 115°, ankle −15 to 25°): anatomy, from
# memory.
ACTIONS = {
    "gluteus maximus": (-1, 0, 0),
    "vasti": (0, -1, 0),
    "rectus femoris": (1, -1, 0),
    "biceps femoris, long head": (-1, 1, 0),
    "semimembranosus": (-1, 1, 0),
    "biceps femoris, short head": (0, 1, 0),
    "gastrocnemius": (0, 1, 1),
    "soleus": (0, 0, 1),
    "tibialis anterior": (0, 0, -1),
    "iliopsoas": (1, 0, 0),
}


@pytest.mark.parametrize("model", ["lai_2017", "rajagopal_2016"])
@pytest.mark.parametrize("muscle", MUSCLES)
def test_muscles_act_on_their_joints_as_anatomy_says(muscle, model):
    hip, knee, ankle = np.meshgrid(np.arange(40, 101, 10), np.arange(30, 116, 5), np.arange(-15, 26, 10))
    arms = moment_arms_mm(muscle, Posture(hip, knee, ankle), model=model)
    for joint, sign in zip(JOINTS, ACTIONS[muscle], strict=True):
        values = getattr(arms, f"{joint}_mm")
        assert values.shape == hip.shape
        assert np.all(np.sign(values) == sign)


@given(HIP, HIP)
def test_a_more_closed_hip_means_a_longer_gluteus(before, after):
    change = gluteal_lengthening_mm(before, after)
    assert np.sign(change) == np.sign(after - before)
    assert gluteal_lengthening_mm(after, before) == pytest.approx(-change, abs=1e-9)


def test_gluteus_lengthens_by_arm_times_angle():
    """Superior part: 33.7, 30.8 and 28.2 mm at 80, 90, 100° (the model's own software), Simpson's rule by hand."""
    by_hand = np.radians(20) / 6 * (33.7 + 4 * 30.8 + 28.2)
    change = length_change_mm("gluteus maximus, superior", Posture(80), Posture(100))
    assert change == pytest.approx(by_hand, rel=2e-3)


def test_velocity_is_the_rate_of_length_around_the_stroke():
    """Against central differences of the length over crank angles a hundredth of a degree apart, at 90 rpm."""
    leg, position = Leg(425, 420, 150), Position(710, 200, 170)
    angles = np.arange(0, 360, 15.0)
    step = 0.01

    def length(muscle, crank):
        return muscle_length_mm(muscle, solve_stroke(leg, position, crank, 10.0), **SIZE)

    now, next_ = (solve_stroke(leg, position, angles + shift, 10.0) for shift in (-step, step))
    seconds = 2 * step / (90 * 6)
    rates = Rates(
        (next_.hip_flexion_deg - now.hip_flexion_deg) / seconds,
        (next_.knee_flexion_deg - now.knee_flexion_deg) / seconds,
        (next_.ankle_plantar_flexion_deg - now.ankle_plantar_flexion_deg) / seconds,
    )
    posture = solve_stroke(leg, position, angles, 10.0)
    for muscle in MUSCLES:
        expected = (length(muscle, angles + step) - length(muscle, angles - step)) / seconds
        assert lengthening_velocity_mm_s(muscle, posture, rates, **SIZE) == pytest.approx(expected, abs=0.5)


def test_riders_of_different_size_over_the_stroke():
    thighs, shanks = np.array([400.0, 430.0]), np.array([405.0, 425.0])
    stroke = solve_stroke(Leg(thighs, shanks, 150), Position(700, 200, 170))
    together = moment_arms_mm("semimembranosus", stroke, thigh_length_mm=thighs, shank_length_mm=shanks)
    assert together.hip_mm.shape == (2, 72)
    for i in range(2):
        alone = solve_stroke(Leg(thighs[i], shanks[i], 150), Position(700, 200, 170))
        expected = moment_arms_mm("semimembranosus", alone, thigh_length_mm=thighs[i])
        assert together.knee_mm[i] == pytest.approx(expected.knee_mm)


def test_riders_of_different_size_in_one_posture():
    lengths = muscle_length_mm("soleus", Posture(), shank_length_mm=[400, 440])
    assert lengths.shape == (2,)
    assert lengths[1] / lengths[0] == pytest.approx(1.1)


def test_models_stand_side_by_side_and_disagree():
    arms = moment_arms_by_model("gluteus maximus, superior", Posture(110))
    assert set(arms) == {"lai_2017", "rajagopal_2016", "gait2392"}
    assert arms["gait2392"].hip_mm > 0 > arms["lai_2017"].hip_mm
    assert set(moment_arms_by_model("gastrocnemius", Posture(0, 60))) == set(PATH_MODELS)


def test_postures_broadcast():
    length = muscle_length_mm("gastrocnemius", Posture(0, np.arange(0, 100, 10.0)[:, None], np.arange(-10, 11, 5.0)))
    assert length.shape == (10, 5)
    assert np.all(np.diff(length, axis=0) < 0)  # bending the knee shortens it
    assert np.all(np.diff(length, axis=1) < 0)  # and so does pointing the toe


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: moment_arms_mm("gluteus maximus", Posture(130)), ["hip_flexion_deg", "130", "120", "lai_2017"]),
        (lambda: moment_arms_mm("vasti", Posture(0, -1)), ["knee_flexion_deg", "-1"]),
        (lambda: moment_arms_mm("vasti", Posture(0, 130), model="rajagopal_2016"), ["130", "rajagopal_2016"]),
        (lambda: moment_arms_mm("soleus", Posture(0, 0, 60)), ["ankle_plantar_flexion_deg", "60"]),
        (lambda: moment_arms_mm("soleus", Posture(0, 0, np.nan)), ["nan"]),
        (lambda: moment_arms_mm("heart", Posture()), ["heart", "gluteus maximus"]),
        (lambda: moment_arms_mm("soleus", Posture(), model="oak"), ["oak", "lai_2017"]),
        (
            lambda: moment_arms_mm("gluteus maximus", Posture(), model="hawkins_hull_1990"),
            ["hawkins_hull_1990", "lai_2017"],
        ),
        (lambda: muscle_length_mm("soleus", Posture(), model="hawkins_hull_1990"), ["shank_length_mm", "regression"]),
        (lambda: muscle_length_mm("vasti", Posture(), model="hawkins_hull_1990"), ["thigh_length_mm"]),
        (lambda: muscle_length_mm("vasti", Posture(), thigh_length_mm=0), ["thigh_length_mm", "above 0"]),
        (lambda: muscle_strength("soleus", "hawkins_hull_1990"), ["hawkins_hull_1990", "rajagopal_2016"]),
        (lambda: gluteal_lengthening_mm(90, 130), ["130"]),
    ],
)
def test_errors_say_what_was_received_and_what_is_allowed(call, words):
    with pytest.raises(OutOfRangeError) as error:
        call()
    for word in words:
        assert word in str(error.value)


def test_a_joint_that_a_muscle_does_not_cross_may_be_anywhere():
    assert moment_arms_mm("soleus", Posture(170, 150, 0)).knee_mm == 0


def test_curves_are_computed_once():
    assert muscle_curve("vasti", "lai_2017") is muscle_curve("vasti", "lai_2017")
