"""Hawkins and Hull 1990, J Biomech 23:487-494: muscle length / segment length from the joint angles.

The paper was not at hand. Calf: coefficients read in a public script that cites it. Thigh: coefficients of long biceps
femoris, semimembranosus and rectus femoris from memory and, with the others, in a public script without citation.
Angles: knee flexion κ; ankle φ = 90 in the neutral position, larger in dorsiflexion.
"""

import pytest

from pedalwright.muscles import models_with, moment_arms_mm, muscle_length_mm
from pedalwright.posture import Posture

MODEL = "hawkins_hull_1990"


@pytest.mark.parametrize(
    ("muscle", "knee", "expected"),
    [
        ("gastrocnemius, medial", 0, 1.0926),
        ("gastrocnemius, medial", 60, 1.0554),
        ("gastrocnemius, lateral", 0, 1.0866),
        ("soleus", 0, 0.7367),
    ],
)
def test_calf_lengths_of_a_shank_of_one(muscle, knee, expected):
    length = muscle_length_mm(muscle, Posture(0, knee), model=MODEL, shank_length_mm=1.0)
    assert length == pytest.approx(expected, abs=1e-4)


def test_ankle_arms_for_a_shank_of_430_mm():
    """0.00214 and 0.00193 of the shank a degree: 52.72 and 47.55 mm a radian, by hand."""
    gastrocnemius = moment_arms_mm("gastrocnemius, medial", Posture(), model=MODEL, shank_length_mm=430).ankle_mm
    soleus = moment_arms_mm("soleus", Posture(), model=MODEL, shank_length_mm=430).ankle_mm
    assert gastrocnemius == pytest.approx(52.72, abs=0.005)
    assert soleus == pytest.approx(47.55, abs=0.005)


@pytest.mark.parametrize(
    ("muscle", "by_hand"),
    [
        # from memory: 1.048 + 0.00209·90 − 0.0016·60, and so on, hip 90°, knee 60°
        ("biceps femoris, long head", 1.1401),
        ("semimembranosus", 1.0729),
        ("rectus femoris", 1.0914),
        # second-hand: 0.6 + 0.000103·60 − 0.0000121·3600; 0.569 + 0.00406·60 − 0.0000207·3600; 0.215 − 0.000726·90
        ("biceps femoris, short head", 0.56262),
        ("vastus lateralis", 0.73808),
        ("iliopsoas", 0.14966),
    ],
)
def test_thigh_lengths_of_a_thigh_of_one(muscle, by_hand):
    length = muscle_length_mm(muscle, Posture(90, 60), model=MODEL, thigh_length_mm=1.0)
    assert length == pytest.approx(by_hand, abs=1e-5)


def test_dorsiflexion_lengthens_the_calf_and_shortens_the_shin_muscle():
    """0.715 − 0.0013·φ for tibialis anterior (second-hand): 0.598 at φ = 90, 0.572 at 110."""
    shin = [muscle_length_mm("tibialis anterior", Posture(0, 0, -d), model=MODEL, shank_length_mm=1.0) for d in (0, 20)]
    assert shin == pytest.approx([0.598, 0.572])


def test_gluteus_maximus_is_missing():
    assert MODEL not in models_with("gluteus maximus")


def test_ankle_arm_agrees_with_the_leg_models_within_a_fifth():
    """47.5 mm (shank 430 mm) against 41.4 and 45.3 mm read from two leg models."""
    regression = moment_arms_mm("soleus", Posture(), model=MODEL, shank_length_mm=430).ankle_mm
    assert regression == pytest.approx(41.4, rel=0.2)
    assert regression == pytest.approx(45.3, rel=0.2)
