"""van Eijden and others 1986: lever arm and force ratio at the kneecap, as fitted in later papers (from memory).

Values of the two fits at 0, 30, 60 and 90° worked outside this package.
"""

import numpy as np
import pytest

from pedalwright.knee import knee_load, patellofemoral_ratio, quadriceps_arm_mm

FLEXION = [0, 30, 60, 90]


def test_lever_arm():
    np.testing.assert_allclose(quadriceps_arm_mm(FLEXION), (46.00, 44.86, 33.28, 24.22), atol=0.005)


def test_force_ratio():
    np.testing.assert_allclose(patellofemoral_ratio(FLEXION), (0.4620, 0.7430, 0.9465, 0.9813), atol=5e-5)


# 40 N·m at 60°: quadriceps 1202 N, kneecap 1138 N.
def test_worked_example():
    load = knee_load(40, 60)
    assert load.quadriceps_force_n == pytest.approx(1202, abs=0.5)
    assert load.patellofemoral_force_n == pytest.approx(1138, abs=0.5)


# Lever arm of the deep part of the quadriceps in two open musculoskeletal models at 0, 30, 60, 90° (run with them).
@pytest.mark.parametrize("model", [(45.9, 41.2, 35.0, 21.4), (48.7, 44.7, 37.3, 27.7)])
def test_models_of_the_knee_agree_within_a_sixth(model):
    np.testing.assert_allclose(quadriceps_arm_mm(FLEXION), model, rtol=1 / 6)
