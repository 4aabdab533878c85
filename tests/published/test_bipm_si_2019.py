"""International System of Units, 9th edition: standard acceleration of free fall and exact conversions."""

import numpy as np

from pedalwright.constants import STANDARD_GRAVITY_M_S2
from pedalwright.units import convert


def test_standard_gravity():
    assert STANDARD_GRAVITY_M_S2.value == 9.80665


def test_exact_conversions():
    assert convert(1, "in", "mm") == 25.4
    np.testing.assert_allclose(convert(1, "lb", "kg"), 0.45359237)
    np.testing.assert_allclose(convert(60, "rpm", "deg_s"), 360)
    np.testing.assert_allclose(convert(1, "n_cm2", "kpa"), 10)
