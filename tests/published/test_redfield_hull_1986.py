"""Redfield and Hull 1986: the pedal angle as one sine wave a turn, A1 + A2·sin(θ + A3) (from memory)."""

import numpy as np

from pedalwright.pedal_angle import PeriodicCurve, fourier_curve, sinusoid_curve
from pedalwright.recorded import PARK_CALDWELL_2022_PEDAL_ANGLE_DEG


def test_form():
    np.testing.assert_allclose(sinusoid_curve(22, 18, 10).at(80), 22 + 18 * np.sin(np.radians(90)))


def test_one_wave_holds_most_of_a_recorded_pedal_angle():
    curve = fourier_curve(PARK_CALDWELL_2022_PEDAL_ANGLE_DEG)
    one_wave = PeriodicCurve(curve.mean, curve.cosine[:1], curve.sine[:1])
    angles = np.arange(360.0)
    rest = curve.at(angles) - one_wave.at(angles)
    assert np.var(rest) < 0.03 * np.var(curve.at(angles))
