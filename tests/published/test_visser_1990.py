"""Visser et al. 1990, Eur J Appl Physiol 61:453-460: which joint rules the length of the two-joint thigh muscles.

Abstract read; its coefficients were not at hand.
"""

import numpy as np
import pytest

from pedalwright.muscles import length_change_mm, moment_arms_mm
from pedalwright.posture import Posture

UPRIGHT, HIP_BENT, KNEE_BENT = Posture(), Posture(90, 0), Posture(0, 90)
SIZE = {"thigh_length_mm": 420, "shank_length_mm": 420}


@pytest.mark.parametrize("model", ["lai_2017", "rajagopal_2016", "gait2392", "hawkins_hull_1990"])
def test_hip_angle_rules_the_length_of_the_long_biceps_femoris(model):
    hip = length_change_mm("biceps femoris, long head", UPRIGHT, HIP_BENT, model=model, **SIZE)
    knee = length_change_mm("biceps femoris, long head", UPRIGHT, KNEE_BENT, model=model, **SIZE)
    assert hip > -1.2 * knee > 0


# Change of length of the rectus femoris from upright, mm: hip bent by 90°, knee bent by 90°. Leg models: computed with
# their own software from the shared files; regression: 90·(−0.00150) and 90·0.00199 of a thigh of 420 mm, by hand.
RECTUS_FEMORIS = {
    "hawkins_hull_1990": (-56.7, 75.2),
    "lai_2017": (-72.2, 63.7),
    "rajagopal_2016": (-72.2, 63.6),
    "gait2392": (-75.7, 66.7),
}


@pytest.mark.parametrize("model", RECTUS_FEMORIS)
def test_which_angle_rules_the_length_of_the_rectus_femoris_is_open(model):
    """The abstract says the knee; a regression agrees, three leg models do not."""
    own_size = SIZE if model == "hawkins_hull_1990" else {}
    hip = length_change_mm("rectus femoris", UPRIGHT, HIP_BENT, model=model, **own_size)
    knee = length_change_mm("rectus femoris", UPRIGHT, KNEE_BENT, model=model, **own_size)
    assert (hip, knee) == pytest.approx(RECTUS_FEMORIS[model], abs=1.0)
    assert (knee > -hip) == (model == "hawkins_hull_1990")


def test_knee_arm_of_the_long_biceps_femoris_is_about_constant_in_the_default_model():
    """Abstract: constant over knee flexion. The model's own software gives 27.3 to 30.9 mm; the others vary more."""
    arms = moment_arms_mm("biceps femoris, long head", Posture(0, np.arange(0, 91, 10))).knee_mm
    assert (arms.min(), arms.max()) == pytest.approx((27.3, 30.9), abs=1.0)
    assert np.ptp(arms) < 0.15 * arms.mean()
