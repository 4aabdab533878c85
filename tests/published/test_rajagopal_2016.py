"""Rajagopal et al. 2016, IEEE Trans Biomed Eng 63:2068-2079: a leg model of young adults.

Arms and lengths were computed with the model's own software from its shared file (commit 20a888b of its repository),
not with this package; the paper itself was not at hand. Extensors negative, as in that tool.
"""

import numpy as np
import pytest

from pedalwright.muscles import moment_arms_mm, muscle_length_mm, muscle_strength
from pedalwright.posture import Posture

HIP = (0, 30, 60, 90, 110)
KNEE = (0, 30, 60, 90, 110)
ANKLE_DORSIFLEXION = (-30, -15, 0, 10, 20)

KNEE_ARMS = {
    "rectus femoris": (-48.7, -46.0, -39.9, -24.8, -22.7),
    "vastus lateralis": (-40.3, -42.9, -33.4, -20.1, -22.3),
    "biceps femoris, long head": (29.4, 34.1, 36.7, 31.0, 22.1),
    "semimembranosus": (32.1, 42.9, 45.9, 36.9, 24.7),
    "gastrocnemius, medial": (17.6, 21.8, 29.1, 30.7, 26.3),
}
HIP_ARMS = {
    "gluteus maximus, superior": (-49.1, -44.9, -39.3, -30.8, -25.9),
    "gluteus maximus, middle": (-62.6, -52.7, -41.9, -28.3, -19.3),
    "biceps femoris, long head": (-48.0, -61.7, -57.8, -40.6, -24.3),
    "rectus femoris": (33.4, 47.7, 50.6, 39.1, 23.9),
    "psoas": (24.1, 27.6, 33.4, 33.0, 22.3),
}
ANKLE_ARMS_DORSIFLEXORS_POSITIVE = {
    "soleus": (-43.6, -43.9, -41.4, -38.3, -34.2),
    "tibialis anterior": (35.0, 39.4, 42.6, 43.8, 44.0),
}
# Length of muscle with tendon at the same tool's 0/30/60/90/120° of one joint, the others at 60°, 60°, 0°.
LENGTHS_OVER_HIP = {
    "gluteus maximus, superior": (191.5, 215.6, 237.9, 256.3, 271.0),
    "gluteus maximus, middle": (218.4, 248.5, 273.5, 291.8, 303.0),
    "gluteus maximus, inferior": (218.9, 258.6, 293.7, 320.6, 341.2),
    "rectus femoris": (559.1, 537.4, 511.1, 487.0, 472.5),
    "semimembranosus": (368.4, 394.4, 422.9, 446.5, 460.0),
    "psoas": (228.8, 215.4, 199.3, 181.5, 168.5),
}
LENGTHS_OVER_KNEE = {
    "vastus medialis": (270.2, 292.8, 311.7, 325.3, 335.7),
    "vastus lateralis": (295.7, 318.8, 338.7, 352.2, 363.6),
    "biceps femoris, long head": (475.8, 459.2, 440.4, 422.2, 409.5),
    "biceps femoris, short head": (237.9, 224.9, 207.0, 186.1, 174.8),
}


@pytest.mark.parametrize("muscle", KNEE_ARMS)
def test_knee_arms_at_60_deg_of_hip_flexion(muscle):
    arms = moment_arms_mm(muscle, Posture(60, np.array(KNEE)), model="rajagopal_2016").knee_mm
    assert arms == pytest.approx(KNEE_ARMS[muscle], abs=0.06)


@pytest.mark.parametrize("muscle", HIP_ARMS)
def test_hip_arms_at_60_deg_of_knee_flexion(muscle):
    arms = moment_arms_mm(muscle, Posture(np.array(HIP), 60), model="rajagopal_2016").hip_mm
    assert arms == pytest.approx(HIP_ARMS[muscle], abs=0.06)


@pytest.mark.parametrize("muscle", ANKLE_ARMS_DORSIFLEXORS_POSITIVE)
def test_ankle_arms_have_the_opposite_sign_of_the_tool(muscle):
    plantar = -np.array(ANKLE_DORSIFLEXION)
    arms = moment_arms_mm(muscle, Posture(60, 60, plantar), model="rajagopal_2016").ankle_mm
    assert -arms == pytest.approx(ANKLE_ARMS_DORSIFLEXORS_POSITIVE[muscle], abs=0.06)


@pytest.mark.parametrize("muscle", LENGTHS_OVER_HIP)
def test_lengths_over_the_hip_are_those_of_the_tools_own_paths(muscle):
    lengths = muscle_length_mm(muscle, Posture(np.array([0, 30, 60, 90, 120]), 60), model="rajagopal_2016")
    assert lengths == pytest.approx(LENGTHS_OVER_HIP[muscle], abs=0.7)


@pytest.mark.parametrize("muscle", LENGTHS_OVER_KNEE)
def test_lengths_over_the_knee_are_those_of_the_tools_own_paths(muscle):
    lengths = muscle_length_mm(muscle, Posture(60, np.array([0, 30, 60, 90, 120])), model="rajagopal_2016")
    assert lengths == pytest.approx(LENGTHS_OVER_KNEE[muscle], abs=0.7)


def test_length_of_the_soleus_over_the_ankle():
    lengths = muscle_length_mm("soleus", Posture(60, 60, np.array([20, 0, -20])), model="rajagopal_2016")
    assert lengths == pytest.approx([307.8, 322.8, 336.1], abs=0.2)


def test_extended_gastrocnemius_contradicts_itself_in_the_tool():
    """The tool's arm at a knee of 5° is 18.1 mm, yet its length changes by 1.9 mm a radian: an artefact of wrapping.

    Lengths from 60° (439.4 mm) to 0° (456.7 mm) therefore come out 5 to 10 mm longer here; arm and length agree here.
    """
    straight = muscle_length_mm("gastrocnemius, medial", Posture(60, 0), model="rajagopal_2016")
    assert 456.7 + 5 < straight < 456.7 + 10


def test_strengths():
    """Maximal isometric force and optimal fibre length in the shared file."""
    soleus = muscle_strength("soleus", "rajagopal_2016")
    assert (soleus.max_isometric_force_n, soleus.optimal_fibre_length_mm) == (6195, 44.0)
    vasti = muscle_strength("vasti", "rajagopal_2016")
    assert vasti.max_isometric_force_n == pytest.approx(2748 + 5149 + 1697, abs=1)


def test_soleus_recomputed_from_its_attachments():
    """The path by hand: a line from tibia (−7.6, −91.6, 9.8) to heel (4.4, 31, −5.3) mm; ankle 400 mm below the knee.

    The heel frame lies (−48.77, −41.95, 7.92) mm from the ankle. Turning about an axis square to the sagittal plane is
    a simplification (the model's axis is tilted by 12°), so 4 % of difference are allowed.
    """

    def length(dorsiflexion_deg):
        turn = np.radians(dorsiflexion_deg)
        heel = np.array([-48.77 + 4.4, -41.95 + 31.0])
        turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) @ heel
        origin, insertion = np.array([-7.6, -91.6]), np.array([-10.0, -400.0]) + turned
        return np.sqrt(np.sum((insertion - origin) ** 2) + (9.8 - (7.92 - 5.3)) ** 2)

    step = 1e-4
    for dorsiflexion in (-20, 0, 20):
        posture = Posture(60, 60, -dorsiflexion)
        slope = (length(dorsiflexion + step) - length(dorsiflexion - step)) / np.radians(2 * step)
        assert moment_arms_mm("soleus", posture, model="rajagopal_2016").ankle_mm == pytest.approx(slope, rel=0.04)
        assert muscle_length_mm("soleus", posture, model="rajagopal_2016") == pytest.approx(
            length(dorsiflexion), rel=0.01
        )


def test_biceps_femoris_over_the_hip_recomputed_from_its_attachments():
    """A line from the seat bone to the fibula, no bone in between; hip and knee centres from the model, by hand.

    Pelvis point (−104, −119.1, 58.6), hip (−56.28, −78.49, 77.26); tibia point (−33.7, −35, 25.3) below a knee that
    lies 404.4 mm under the hip. At 60° of knee flexion, in the sagittal plane plus the fixed sideways offset.
    """
    seat = np.array([-104 + 56.28, -119.1 + 78.49])

    def length(hip_deg, knee_deg):
        thigh, shank = np.radians(hip_deg), np.radians(hip_deg - knee_deg)
        knee = 404.4 * np.array([np.sin(thigh), -np.cos(thigh)])
        turned = np.array([[np.cos(shank), -np.sin(shank)], [np.sin(shank), np.cos(shank)]])
        return np.sqrt(np.sum((knee + turned @ [-33.7, -35.0] - seat) ** 2) + (58.6 - 77.26 - 25.3) ** 2)

    step = 1e-4
    for hip in (30, 60, 90):
        slope = (length(hip + step, 60) - length(hip - step, 60)) / np.radians(2 * step)
        arm = moment_arms_mm("biceps femoris, long head", Posture(hip, 60), model="rajagopal_2016").hip_mm
        assert arm == pytest.approx(-slope, rel=0.12)
