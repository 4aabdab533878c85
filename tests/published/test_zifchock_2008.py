"""Zifchock, Davis, Higginson and Royer 2008: symmetry angle (45° − arctan(left/right))/90°. Formula from memory."""

import math

import pytest

from pedalwright.symmetry import symmetry_angle_pct


@pytest.mark.parametrize(("right", "left"), [(110, 90), (90, 110), (1, 3), (250, 249)])
def test_formula_for_positive_values(right, left):
    expected = 100 * (45 - math.degrees(math.atan(left / right))) / 90
    assert symmetry_angle_pct(right, left) == pytest.approx(expected)


def test_values_of_opposite_sign_stay_within_100():
    """Formula as it stands: 45° − arctan(1/−2) = 71.57°, 79.5 %; equal and opposite values are the farthest apart."""
    assert symmetry_angle_pct(-2.0, 1.0) == pytest.approx(79.5, abs=0.05)
    assert abs(symmetry_angle_pct(1.0, -1.0)) == pytest.approx(100.0)


def test_no_explosion_near_zero():
    assert symmetry_angle_pct(1e-9, 1.0) == pytest.approx(-50.0, abs=1e-6)
