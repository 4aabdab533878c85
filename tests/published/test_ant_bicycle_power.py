"""Torque effectiveness and pedal smoothness as the open device profile defines them, restated in our own words.

100·(driving + braking work)/driving work and 100·mean/peak power over one turn, worked by hand on four samples.
"""

import pytest

from pedalwright.effectiveness import pedal_smoothness_pct, torque_effectiveness_pct


def test_four_samples_by_hand():
    torque = [36.0, 12.0, -8.0, 0.0]
    assert torque_effectiveness_pct(torque) == pytest.approx(100 * (48 - 8) / 48)
    assert pedal_smoothness_pct(torque) == pytest.approx(100 * 10 / 36)
