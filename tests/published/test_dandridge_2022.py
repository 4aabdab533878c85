"""Dandridge and others 2022, abstract read: patellar tendon arm of 24 knees.

Mean 46 mm, greatest at 15° of flexion (women) and 29° (men). The fit used here comes from other knees: a tenth of the
mean and 2° of the place are allowed.
"""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from pedalwright.knee import patellar_tendon_arm_mm


def test_mean_arm():
    assert np.mean(patellar_tendon_arm_mm(np.arange(0, 91.0))) == pytest.approx(46, rel=0.1)


def test_greatest_arm_at_moderate_flexion():
    top = minimize_scalar(lambda flexion: -patellar_tendon_arm_mm(flexion).item(), bounds=(0, 90), method="bounded")
    assert 15 - 2 <= top.x <= 29 + 2
