"""Grieve, Pheasant and Cavanagh 1978, Biomechanics VI-A: 405-412: calf length change in percent of the shank.

Coefficients read in two public scripts that cite it; the paper was not at hand. Values below worked by hand from
−22.18468 + 0.30141φ − 0.00061φ² (ankle, 90 neutral, dorsiflexion larger) and 6.46251 − 0.07987κ + 0.00011κ² (knee).
"""

import pytest

from pedalwright.errors import OutOfRangeError
from pedalwright.muscles import length_change_mm, moment_arms_mm, muscle_length_mm
from pedalwright.posture import Posture

ANKLE = {60: -6.2961, 90: 0.0012, 120: 5.2005}
KNEE = {0: 6.4625, 60: 2.0663, 90: 0.1652, 120: -1.5379}


@pytest.mark.parametrize("muscle", ["gastrocnemius", "soleus"])
@pytest.mark.parametrize("phi", [60, 120])
def test_ankle(muscle, phi):
    change = length_change_mm(
        muscle, Posture(0, 90, 0), Posture(0, 90, 90 - phi), model="grieve_1978", shank_length_mm=100
    )
    assert change == pytest.approx(ANKLE[phi] - ANKLE[90], abs=2e-4)


@pytest.mark.parametrize("kappa", [0, 60, 120])
def test_knee(kappa):
    change = length_change_mm(
        "gastrocnemius", Posture(0, 90, 0), Posture(0, kappa, 0), model="grieve_1978", shank_length_mm=100
    )
    assert change == pytest.approx(KNEE[kappa] - KNEE[90], abs=2e-4)


def test_ankle_arm_of_a_shank_of_430_mm():
    """(0.30141 − 2·0.00061·90) % of 430 mm a degree is 47.2 mm a radian."""
    arm = moment_arms_mm("gastrocnemius", Posture(0, 90), model="grieve_1978", shank_length_mm=430).ankle_mm
    assert arm == pytest.approx(47.2, abs=0.05)


def test_it_knows_no_lengths():
    with pytest.raises(OutOfRangeError, match="length_change_mm"):
        muscle_length_mm("soleus", Posture(), model="grieve_1978", shank_length_mm=430)
