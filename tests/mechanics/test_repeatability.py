"""Repeatability: the closed form for an angle of landmarks against drawing, and round trips."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.repeatability import (
    included_angle_uncertainty_deg,
    repeats_needed,
    smallest_detectable_change,
    standard_error_from_change,
    standard_error_of_measurement,
    within_subject_sd,
)

positive = st.floats(0.01, 100)


@pytest.mark.parametrize("angle", [30.0, 90.0, 145.0, 175.0])
def test_angle_of_landmarks_against_drawing(angle):
    rng = np.random.default_rng(11)
    first = np.array([400.0, 0.0])
    second = 300.0 * np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))])
    middle, one, other = (where + rng.normal(0, 2.0, (200_000, 2)) for where in (np.zeros(2), first, second))
    a, b = one - middle, other - middle
    drawn = np.degrees(np.arccos(np.sum(a * b, axis=1) / np.linalg.norm(a, axis=1) / np.linalg.norm(b, axis=1)))
    assert included_angle_uncertainty_deg(400.0, 300.0, angle, 2.0) == pytest.approx(drawn.std(), rel=0.02)


def test_middle_landmark_counts_most_and_longer_arms_help():
    short, long = included_angle_uncertainty_deg([200.0, 400.0], [200.0, 400.0], 145.0, 5.0)
    assert short == pytest.approx(2 * long)


@given(positive, st.floats(0.5, 0.99))
def test_change_and_error_are_inverse(error, confidence):
    change = smallest_detectable_change(error, confidence)
    assert standard_error_from_change(change, confidence) == pytest.approx(error)


@given(st.floats(0, 50), st.floats(0, 1), st.floats(0, 1))
def test_better_reliability_never_gives_a_larger_error(deviation, one, other):
    low, high = sorted((one, other))
    assert standard_error_of_measurement(deviation, high) <= standard_error_of_measurement(deviation, low)


@given(positive, positive)
def test_enough_repeats_and_not_one_more(single, wanted):
    count = float(repeats_needed(single, wanted))
    assert single / np.sqrt(count) <= wanted * (1 + 1e-9)
    assert count == 1 or single / np.sqrt(count - 1) > wanted * (1 - 1e-9)


def test_groups_of_subjects_on_leading_axes():
    rng = np.random.default_rng(0)
    table = rng.normal(size=(4, 10, 3))
    assert within_subject_sd(table) == pytest.approx([float(within_subject_sd(one)) for one in table])


@pytest.mark.parametrize(
    "call",
    [
        lambda: within_subject_sd([1.0, 2.0]),
        lambda: within_subject_sd([[1.0], [2.0]]),
        lambda: standard_error_of_measurement(-1.0, 0.5),
        lambda: standard_error_of_measurement(1.0, 1.1),
        lambda: smallest_detectable_change(1.0, 1.0),
        lambda: standard_error_from_change(-1.0),
        lambda: repeats_needed(1.0, 0.0),
        lambda: included_angle_uncertainty_deg(0.0, 1.0, 90.0, 1.0),
        lambda: included_angle_uncertainty_deg(1.0, 1.0, 190.0, 1.0),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()
