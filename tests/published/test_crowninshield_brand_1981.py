"""Crowninshield and Brand 1981, J Biomech 14:793-801: muscle forces from the least sum of cubed stresses.

The paper was not at hand; the ratio below is the well-known consequence of the criterion (from memory), worked by hand:
for one joint F1/F2 = (r1/r2)^(1/(p−1)) · (A1/A2)^(p/(p−1)), with maximal forces in place of areas A.
"""

import pytest

from pedalwright.recruit import share_load


@pytest.mark.parametrize(
    ("power", "ratio"),
    [
        (3, 2.0),  # arms 4:1, strengths 1:1 → √4
        (2, 4.0),  # the same with the square: 4
    ],
)
def test_forces_follow_the_arms(power, ratio):
    first, second = share_load([10.0], [[40.0], [10.0]], [2000.0, 2000.0], exponent=power).force_n
    assert first / second == pytest.approx(ratio, rel=1e-5)


@pytest.mark.parametrize(("power", "ratio"), [(3, 8.0), (2, 16.0)])
def test_forces_follow_the_strengths(power, ratio):
    """Strengths 4:1, equal arms: 4^(3/2) and 4²."""
    first, second = share_load([10.0], [[30.0], [30.0]], [4000.0, 1000.0], exponent=power).force_n
    assert first / second == pytest.approx(ratio, rel=1e-5)
