"""Periodic curves: they pass through their points and their derivatives are exact."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from pedalwright.errors import OutOfRangeError
from pedalwright.pedal_angle import constant_curve, fourier_curve, sinusoid_curve
from pedalwright.recorded import recorded_pedal_angle

samples = st.integers(3, 40).flatmap(lambda n: arrays(float, n, elements=st.floats(-60, 60)))


@given(samples)
def test_passes_through_every_sample(values):
    curve = fourier_curve(values)
    np.testing.assert_allclose(curve.at(np.arange(len(values)) * 360 / len(values)), values, atol=1e-9)
    np.testing.assert_allclose(curve.mean, values.mean(), atol=1e-9)


def test_trigonometric_polynomials_are_met_exactly_between_the_samples():
    def wave(degrees):
        turn = np.radians(degrees)
        return 3 - 2 * np.cos(turn) + 5 * np.sin(2 * turn) + 0.5 * np.cos(4 * turn)

    anywhere = np.linspace(-400, 400, 97)
    for count in (9, 10, 24):
        curve = fourier_curve(wave(np.arange(count) * 360 / count))
        np.testing.assert_allclose(curve.at(anywhere), wave(anywhere), atol=1e-12)


# Derivatives of mean + A·sin(θ + φ) written out by hand.
@given(st.floats(-30, 30), st.floats(-40, 40), st.floats(-360, 360), st.floats(-360, 360))
def test_sinusoid_and_its_derivatives(mean, size, lead, crank):
    curve = sinusoid_curve(mean, size, lead)
    phase = np.radians(crank + lead)
    np.testing.assert_allclose(curve.at(crank), mean + size * np.sin(phase), atol=1e-9)
    np.testing.assert_allclose(curve.at(crank, 1), size * np.cos(phase), atol=1e-9)
    np.testing.assert_allclose(curve.at(crank, 2), -size * np.sin(phase), atol=1e-9)


def test_derivatives_of_a_recorded_curve_agree_with_differences():
    curve, angles, step = recorded_pedal_angle(), np.arange(0, 360, 7.0), 1e-3
    turn = np.radians(step)
    first = (curve.at(angles + step) - curve.at(angles - step)) / (2 * turn)
    second = (curve.at(angles + step, 1) - curve.at(angles - step, 1)) / (2 * turn)
    np.testing.assert_allclose(curve.at(angles, 1), first, atol=1e-4)
    np.testing.assert_allclose(curve.at(angles, 2), second, atol=1e-4)


def test_constant_curves_do_not_move():
    curve = constant_curve([5.0, -3.0])
    assert curve.at([0, 100]).tolist() == [[5, 5], [-3, -3]]
    assert not curve.at([0, 100], 1).any()
    assert curve.at(10).tolist() == [5, -3]


def test_many_riders_broadcast():
    curve = fourier_curve(np.arange(24.0).reshape(2, 12))
    assert curve.at(np.arange(7)).shape == (2, 7)
    assert curve.at(np.zeros((2, 7))).shape == (2, 7)
    assert curve.at(3.0).shape == (2,)
    assert sinusoid_curve(0, [1, 2], [[0], [90]]).at([0, 90]).shape == (2, 2, 2)


def test_wrong_values_are_refused():
    for call in (
        lambda: fourier_curve([1, 2]),
        lambda: fourier_curve([1, np.nan, 2]),
        lambda: constant_curve(np.inf),
        lambda: sinusoid_curve(np.nan, 1, 0),
        lambda: sinusoid_curve(0, np.nan, 0),
        lambda: sinusoid_curve(0, 1, np.nan),
        lambda: constant_curve(1).at(np.nan),
    ):
        with pytest.raises(OutOfRangeError):
            call()
