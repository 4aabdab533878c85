import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from pedalwright.errors import OutOfRangeError
from pedalwright.hill import (
    HILL_CONSTANTS,
    activation_rate_per_s,
    active_force_length,
    force_velocity,
    passive_force,
    tendon_force,
)
from pedalwright.hill_muscle import capacity, isometric_force_n, rigid_tendon_fibre
from pedalwright.muscles import MUSCLES, Strength, muscle_length_mm, muscle_strength
from pedalwright.posture import Posture, Rates

SETS = st.sampled_from(sorted(HILL_CONSTANTS))
LENGTH = st.floats(0.2, 1.8)


@given(LENGTH, SETS)
def test_the_bell_is_highest_at_the_optimal_length_and_even(length, constants):
    assert 0 < active_force_length(length, constants) <= active_force_length(1, constants) == 1
    assert active_force_length(length, constants) == pytest.approx(active_force_length(2 - length, constants))


@given(LENGTH, LENGTH, SETS)
def test_a_stretched_fibre_never_pulls_less(first, second, constants):
    shorter, longer = sorted((first, second))
    assert passive_force(shorter, constants) <= passive_force(longer, constants)


@pytest.mark.parametrize("constants", HILL_CONSTANTS)
def test_passive_force_reaches_the_maximal_force_at_its_stated_strain(constants):
    assert passive_force(1 + HILL_CONSTANTS[constants].passive_strain, constants) == pytest.approx(1)
    assert passive_force(1, constants) == 0


@given(st.floats(-2, 5), st.floats(-2, 5), SETS, st.floats(0, 1))
def test_faster_shortening_never_gives_more_force(first, second, constants, activation):
    fast, slow = sorted((first, second))
    values = force_velocity([fast, slow], constants, activation=activation)
    assert 0 <= values[0] <= values[1] + 1e-12
    assert values[1] < HILL_CONSTANTS[constants].lengthening_force


@pytest.mark.parametrize("constants", HILL_CONSTANTS)
def test_slope_doubles_from_shortening_to_lengthening(constants):
    """Slopes at rest, by the formula's derivative: 1 + 1/Af and twice that."""
    step = 1e-7
    shape = HILL_CONSTANTS[constants].velocity_shape
    below = (1 - force_velocity(-step, constants)) / step
    above = (force_velocity(step, constants) - 1) / step
    assert below == pytest.approx(1 + 1 / shape, rel=1e-4)
    assert above == pytest.approx(2 * (1 + 1 / shape), rel=1e-4)


def test_a_half_active_muscle_reaches_its_greatest_velocity_sooner():
    """0.25 + 0.75 · 0.5 = 0.625 of the greatest velocity."""
    assert force_velocity(-0.625, activation=0.5) == 0
    assert force_velocity(-0.625, activation=1) > 0
    assert force_velocity(-0.25, activation=0) == 0


@given(st.floats(-0.5, 0.1), st.floats(-0.5, 0.1), SETS)
def test_tendon_stiffens_and_never_pushes(first, second, constants):
    short, long = sorted((first, second))
    forces = tendon_force([short, long], constants)
    assert 0 <= forces[0] <= forces[1]


@pytest.mark.parametrize("constants", HILL_CONSTANTS)
def test_tendon_is_smooth_where_the_toe_ends(constants):
    end = 0.609 * HILL_CONSTANTS[constants].tendon_strain
    step = 1e-6
    before = (tendon_force(end, constants) - tendon_force(end - step, constants)) / step
    after = (tendon_force(end + step, constants) - tendon_force(end, constants)) / step
    assert before == pytest.approx(after, rel=0.01)
    assert tendon_force(end, constants) == pytest.approx(0.33)


@given(st.floats(0, 1), st.floats(0, 1), SETS)
def test_activation_moves_towards_the_excitation(drive, active, constants):
    assert np.sign(activation_rate_per_s(drive, active, constants)) == np.sign(drive - active)


@given(st.floats(260, 420), st.floats(-900, 900), st.floats(0, 30))
def test_rigid_tendon_keeps_the_distance_of_the_fibres_and_their_velocity(length, velocity, pennation):
    strength = Strength(1000, 100, 250, pennation)
    fibre = rigid_tendon_fibre(length, velocity, strength)
    across = 100 * fibre.length_ratio * np.sqrt(1 - fibre.cos_pennation**2)
    assert across == pytest.approx(100 * np.sin(np.radians(pennation)), abs=1e-5)
    assert 250 + 100 * fibre.length_ratio * fibre.cos_pennation == pytest.approx(length)
    step = 1e-4
    ahead = rigid_tendon_fibre(length + velocity * step, 0, strength).length_ratio
    behind = rigid_tendon_fibre(length - velocity * step, 0, strength).length_ratio
    assert fibre.velocity_ratio * 10 == pytest.approx((ahead - behind) / (2 * step), abs=1e-3)


def test_a_slack_muscle_gives_nothing():
    fibre = rigid_tendon_fibre([200, 250], 100, Strength(1000, 100, 250, 0))
    assert fibre.cos_pennation.tolist() == [0, 0]
    assert isometric_force_n([200, 250], Strength(1000, 100, 250, 20)).tolist() == [0, 0]


@pytest.mark.parametrize("muscle", MUSCLES)
def test_capacity_is_the_bell_times_the_hyperbola_along_the_tendon(muscle):
    posture, rates = Posture(70, 80, 5), Rates(-120, -200, 60)
    strength = muscle_strength(muscle)
    along = muscle_length_mm(muscle, posture) - strength.tendon_slack_length_mm
    across = strength.optimal_fibre_length_mm * np.sin(np.radians(strength.pennation_deg))
    ratio = np.hypot(along, across) / strength.optimal_fibre_length_mm
    still = capacity(muscle, posture)
    by_hand = strength.max_isometric_force_n * np.exp(-((ratio - 1) ** 2) / 0.45) * along / np.hypot(along, across)
    assert still.active_n == pytest.approx(by_hand)
    assert 0 < capacity(muscle, posture, rates).active_n < 1.4 * by_hand
    assert capacity(muscle, posture, rates).passive_n == still.passive_n


def test_muscles_pull_less_while_shortening_fast():
    slow, fast = (
        capacity("vasti", Posture(60, 60), Rates(knee_flexion_velocity_deg_s=rate)).active_n for rate in (-100, -500)
    )
    assert fast < slow < capacity("vasti", Posture(60, 60)).active_n


@given(st.floats(320, 420), st.floats(0.1, 1), SETS, st.floats(0, 25))
def test_elastic_tendon_is_in_equilibrium(length, activation, constants, pennation):
    """Against a general root finder on the same balance of tendon and fibre, all of it written out here."""
    strength = Strength(1000, 100, 250, pennation)
    one = HILL_CONSTANTS[constants]
    width, k, e0 = one.active_width, one.passive_shape, one.passive_strain
    toe = 0.609 * one.tendon_strain
    across = 100 * np.sin(np.radians(pennation))

    def tendon(along):
        strain = (length - along - 250) / 250
        if strain > toe:
            return 0.33 + 1.712 / one.tendon_strain * (strain - toe)
        return max(0.33 * np.expm1(one.tendon_shape * strain / toe) / np.expm1(one.tendon_shape), 0)

    def gap(along):
        fibre = np.hypot(along, across) / 100
        pull = activation * np.exp(-((fibre - 1) ** 2) / width)
        pull += (np.exp(k * max(fibre - 1, 0) / e0) - 1) / (np.exp(k) - 1)
        return tendon(along) - pull * along / (100 * fibre)

    along = brentq(gap, 1e-6, length - 250)
    force = isometric_force_n(length, strength, constants, activation=activation)
    assert force == pytest.approx(1000 * tendon(along), rel=1e-6)


def test_an_elastic_tendon_lets_the_fibre_shorten():
    strength = Strength(1000, 100, 250, 0)
    rigid = 1000 * active_force_length(0.9)
    assert isometric_force_n(340, strength) < rigid


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: active_force_length(-0.1), ["length_ratio", "-0.1"]),
        (lambda: passive_force(1, "oak"), ["oak", "thelen_2003", "gait2392"]),
        (lambda: force_velocity(0, activation=1.1), ["activation", "1.1"]),
        (lambda: tendon_force(-1), ["tendon_strain", "above -1"]),
        (lambda: activation_rate_per_s(2, 0), ["excitation"]),
        (lambda: isometric_force_n(0, Strength(1000, 100, 250, 0)), ["muscle_tendon_length_mm"]),
        (lambda: capacity("vasti", Posture(0, 20), model="hawkins_hull_1990"), ["states no strengths"]),
    ],
)
def test_errors_say_what_was_received_and_what_is_allowed(call, words):
    with pytest.raises(OutOfRangeError) as error:
        call()
    for word in words:
        assert word in str(error.value)
