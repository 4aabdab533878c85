"""Delp et al. 1990, IEEE Trans Biomed Eng 37:757-767: the older leg model, in the form commonly shared ("gait2392").

Computed with the model's own software from its shared file (commit 20a888b of its repository); paper not at hand.
"""

import numpy as np
import pytest

from pedalwright.muscles import moment_arms_mm, muscle_length_mm, muscle_strength
from pedalwright.posture import Posture

MODEL = "gait2392"


def test_knee_arm_of_the_middle_vastus():
    arms = moment_arms_mm("vastus intermedius", Posture(0, np.array([0, 30, 60, 90])), model=MODEL).knee_mm
    assert -arms == pytest.approx([48.7, 44.7, 37.3, 27.7], abs=0.06)


def test_upper_gluteus_turns_into_a_hip_flexor_which_is_an_artefact():
    assert moment_arms_mm("gluteus maximus, superior", Posture(110), model=MODEL).hip_mm == pytest.approx(4.2, abs=0.06)
    for other in ("rajagopal_2016", "lai_2017"):
        assert moment_arms_mm("gluteus maximus, superior", Posture(110), model=other).hip_mm < -20


def test_gastrocnemius_falls_with_knee_flexion_where_the_newer_model_rises():
    """21 → 11 mm against 18 → 31 mm between a straight knee and 110° (older) or 90° (newer)."""
    older = moment_arms_mm("gastrocnemius, medial", Posture(60, np.array([0, 110])), model=MODEL).knee_mm
    newer = moment_arms_mm("gastrocnemius, medial", Posture(60, np.array([0, 90])), model="rajagopal_2016").knee_mm
    assert older == pytest.approx([21, 11], abs=0.7)
    assert newer == pytest.approx([18, 31], abs=0.7)


def test_ankle_arm_of_the_soleus():
    assert moment_arms_mm("soleus", Posture(), model=MODEL).ankle_mm == pytest.approx(45.3, abs=0.06)


@pytest.mark.parametrize(
    ("muscle", "posture", "lengths"),
    [
        ("gluteus maximus, middle", Posture(np.array([0, 30, 60, 90, 120]), 60), (209.5, 236.3, 256.8, 269.3, 273.0)),
        ("vastus lateralis", Posture(60, np.array([0, 30, 60, 90, 120])), (200.2, 223.8, 245.0, 261.4, 274.2)),
        ("gastrocnemius, medial", Posture(60, np.array([0, 30, 60, 90, 120])), (450.7, 439.0, 428.8, 420.4, 414.4)),
        ("tibialis anterior", Posture(60, 60, np.array([40, 20, 0, -20])), (329.7, 317.7, 303.8, 288.8)),
    ],
)
def test_lengths_are_those_of_the_tools_own_paths(muscle, posture, lengths):
    assert muscle_length_mm(muscle, posture, model=MODEL) == pytest.approx(lengths, abs=0.6)


def test_muscles_have_about_half_the_strength_of_the_newer_model():
    older = muscle_strength("soleus", MODEL)
    assert (older.max_isometric_force_n, older.optimal_fibre_length_mm, older.pennation_deg) == (3549, 50.0, 25.0)
    assert older.max_isometric_force_n / muscle_strength("soleus", "rajagopal_2016").max_isometric_force_n < 0.6
