"""Redfield and Hull 1986: the pedal angle as one sine wave a turn, A1 + A2·sin(θ + A3) (from memory)."""

import numpy as np

from pedalwright.pedal_angle import sinusoid_curve

# Mean pedal angle of 15 riders every 30° (park_caldwell_umberger_2022, re-typed).
RECORDED = (11.0, -1.0, -9.2, -13.6, -13.1, -7.2, 3.3, 14.8, 23.8, 29.1, 28.1, 21.6)


def test_form():
    np.testing.assert_allclose(sinusoid_curve(22, 18, 10).at(80), 22 + 18 * np.sin(np.radians(90)))


def test_one_wave_holds_nearly_all_of_a_recorded_pedal_angle():
    """Best sine wave through the twelve points by least squares; what it leaves is under 1 % of their variance."""
    turn = np.radians(np.arange(12) * 30.0)
    mean, sine, cosine = np.linalg.lstsq(
        np.column_stack([np.ones(12), np.sin(turn), np.cos(turn)]), np.array(RECORDED), rcond=None
    )[0]
    curve = sinusoid_curve(mean, np.hypot(sine, cosine), np.degrees(np.arctan2(cosine, sine)))
    assert np.var(RECORDED - curve.at(np.degrees(turn))) < 0.01 * np.var(RECORDED)
