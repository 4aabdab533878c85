"""Im, Goltzer and Sheehan 2015, abstract read: living knees of 30 women and 10 men.

Effective arm of the quadriceps 32.9 to 45.5 mm (women) and 31.5 to 47.1 mm (men) from 50° to 10° of flexion.
"""

import numpy as np
import pytest

from pedalwright.knee import quadriceps_arm_mm


@pytest.mark.parametrize("measured", [(45.5, 32.9), (47.1, 31.5)], ids=["women", "men"])
def test_the_fit_lies_within_a_fifth_of_living_knees(measured):
    np.testing.assert_allclose(quadriceps_arm_mm([10, 50]), measured, rtol=0.2)


def test_the_arm_shrinks_as_the_knee_bends():
    assert np.all(np.diff(quadriceps_arm_mm([20, 35, 50, 70, 90])) < 0)
