"""Lai, Arnold and Wakeling 2017, Ann Biomed Eng 45:2762-2774: muscle paths for deeply bent hips and knees.

Arms and lengths were computed with the model's own software from its shared file (with later changes to passive forces
that do not touch the paths; commit 20a888b of the repository), not with this package. The paper was not at hand.
"""

import numpy as np
import pytest

from pedalwright.muscles import moment_arms_mm, muscle_length_mm, muscle_strength
from pedalwright.posture import Posture

# Knee arms at 0/30/60/90/120° (hip 60°), flexor positive.
KNEE_ARMS = {
    "rectus femoris": (-44.8, -46.3, -40.9, -25.3, -25.6),
    "vastus lateralis": (-36.5, -43.3, -34.5, -19.2, -23.3),
    "biceps femoris, short head": (22.4, 20.1, 24.4, 26.8, 15.9),
    "semimembranosus": (32.4, 35.6, 37.6, 32.1, 18.4),
    "gastrocnemius, lateral": (27.1, 23.1, 26.9, 29.4, 24.8),
}
LENGTHS_OVER_KNEE = {  # same tool, 0/30/60/90/120°, hip 60°
    "rectus femoris": (464.3, 488.5, 511.4, 529.0, 540.3),
    "vastus intermedius": (282.7, 305.0, 325.3, 340.7, 351.3),
    "biceps femoris, long head": (483.2, 468.4, 453.1, 437.1, 423.9),
    "semimembranosus": (468.0, 450.3, 430.8, 412.2, 398.7),
    "biceps femoris, short head": (230.0, 219.3, 207.8, 194.1, 182.2),
}
LENGTHS_OVER_HIP = {  # same tool, 0/30/60/90/120°, knee 60°
    "gluteus maximus, middle": (218.4, 248.5, 273.5, 291.8, 303.0),
    "biceps femoris, long head": (391.7, 421.2, 453.1, 479.2, 493.8),
    "iliacus": (207.7, 188.9, 167.9, 145.0, 130.0),
}
LENGTHS_OVER_ANKLE = {  # same tool, plantar flexion 40/20/0/−20°
    "gastrocnemius, medial": (407.3, 421.4, 436.5, 450.8),
    "soleus": (292.6, 307.8, 322.8, 336.1),
    "tibialis anterior": (332.2, 320.0, 305.9, 290.6),
}
STEPS = np.array([0, 30, 60, 90, 120])


@pytest.mark.parametrize("muscle", KNEE_ARMS)
def test_knee_arms(muscle):
    assert moment_arms_mm(muscle, Posture(60, STEPS)).knee_mm == pytest.approx(KNEE_ARMS[muscle], abs=0.06)


@pytest.mark.parametrize("muscle", LENGTHS_OVER_KNEE)
def test_lengths_over_the_knee(muscle):
    assert muscle_length_mm(muscle, Posture(60, STEPS)) == pytest.approx(LENGTHS_OVER_KNEE[muscle], abs=0.9)


@pytest.mark.parametrize("muscle", LENGTHS_OVER_HIP)
def test_lengths_over_the_hip(muscle):
    assert muscle_length_mm(muscle, Posture(STEPS, 60)) == pytest.approx(LENGTHS_OVER_HIP[muscle], abs=0.7)


@pytest.mark.parametrize("muscle", LENGTHS_OVER_ANKLE)
def test_lengths_over_the_ankle(muscle):
    plantar = np.array([40, 20, 0, -20])
    assert muscle_length_mm(muscle, Posture(60, 60, plantar)) == pytest.approx(LENGTHS_OVER_ANKLE[muscle], abs=0.2)


@pytest.mark.parametrize("muscle", ["rectus femoris", "biceps femoris, long head", "semimembranosus"])
def test_two_joint_muscles_are_nearly_the_sum_of_their_joints(muscle):
    """The tool's length with both joints moved (hip 100°, knee 100°) lies within 4 mm of the sum used here."""
    tool = {"rectus femoris": 501.8, "biceps femoris, long head": 464.3, "semimembranosus": 435.6}
    assert muscle_length_mm(muscle, Posture(100, 100)) == pytest.approx(tool[muscle], abs=4)


def test_fibres_of_vasti_and_calf_are_longer_than_in_the_gait_model():
    """Optimal fibre lengths in the shared files: vastus lateralis 117, was 99.4 mm; gastrocnemius 59, was 51 mm."""
    assert muscle_strength("vastus lateralis", "lai_2017").optimal_fibre_length_mm == 117.0
    assert muscle_strength("vastus lateralis", "rajagopal_2016").optimal_fibre_length_mm == 99.4
    assert muscle_strength("gastrocnemius, medial", "lai_2017").optimal_fibre_length_mm == 59.0
    assert muscle_strength("gastrocnemius, medial", "rajagopal_2016").optimal_fibre_length_mm == 51.0
