"""Inside, outside, not sure: against scipy's distributions, drawing, and the rule itself."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from pedalwright.decision import decide, probability_inside, uncertainty_needed
from pedalwright.errors import OutOfRangeError

values = st.floats(-100, 100)


@given(values, st.floats(0.01, 20), values, st.floats(0, 50))
def test_probability_is_that_of_the_normal_distribution(value, spread, lower, width):
    upper = lower + width
    expected = stats.norm(value, spread).cdf(upper) - stats.norm(value, spread).cdf(lower)
    assert probability_inside(value, spread, lower, upper) == pytest.approx(expected, abs=1e-9)


def test_few_readings_make_it_less_sure():
    few = probability_inside(30.0, 2.0, 25.0, 35.0, degrees_of_freedom=3)
    many = probability_inside(30.0, 2.0, 25.0, 35.0)
    assert few == pytest.approx(stats.t(3, 30.0, 2.0).cdf(35.0) - stats.t(3, 30.0, 2.0).cdf(25.0))
    assert few < many


def test_against_drawing():
    rng = np.random.default_rng(6)
    drawn = rng.normal(33.0, 2.2, 400_000)
    assert probability_inside(33.0, 2.2, 25.0, 35.0) == pytest.approx(np.mean((drawn > 25) & (drawn < 35)), abs=0.003)


@given(values, st.floats(0, 20), values, st.floats(0, 50), st.floats(0.5, 0.999))
def test_verdict_follows_the_probability(value, spread, lower, width, confidence):
    found = decide(value, spread, lower, lower + width, confidence=confidence)
    probability = float(found.probability_inside)
    assert -1e-12 <= probability <= 1 + 1e-12
    expected = "inside" if probability >= confidence else "outside" if 1 - probability >= confidence else "not sure"
    assert found.verdict == expected


def test_exact_values_include_the_ends_of_the_window():
    assert probability_inside([24.9, 25.0, 30.0, 35.0, 35.1], 0.0, 25.0, 35.0).tolist() == [0.0, 1.0, 1.0, 1.0, 0.0]


@given(st.floats(-50, 50), st.floats(0.1, 40), st.floats(0.55, 0.99))
def test_with_the_uncertainty_needed_only_the_middle_is_inside(lower, width, confidence):
    upper, middle = lower + width, lower + width / 2
    needed = float(uncertainty_needed(lower, upper, confidence))
    assert probability_inside(middle, needed, lower, upper) == pytest.approx(confidence)
    assert probability_inside(middle + width / 10, needed, lower, upper) < confidence


def test_open_windows():
    assert probability_inside(0.0, 1.0) == 1.0
    assert probability_inside(0.0, 1.0, lower=0.0) == pytest.approx(0.5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: probability_inside(1.0, -1.0, 0.0, 1.0),
        lambda: probability_inside(1.0, 1.0, 2.0, 1.0),
        lambda: probability_inside(1.0, 1.0, float("nan"), 1.0),
        lambda: probability_inside(float("inf"), 1.0),
        lambda: probability_inside(1.0, 1.0, degrees_of_freedom=0),
        lambda: decide(1.0, 1.0, confidence=0.4),
        lambda: decide(1.0, 1.0, confidence=1.0),
        lambda: uncertainty_needed(0.0, np.inf),
        lambda: uncertainty_needed(2.0, 1.0),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()
