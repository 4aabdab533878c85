"""Drillis and Contini 1966, body segment lengths as fractions of stature (as reprinted by Winter, figure 4.1).

Read in five independent public files that cite the figure.
"""

import pytest

from pedalwright._segment_tables import ANKLE_HEIGHT_OF_STATURE
from pedalwright.body import segment_lengths_mm

KNEE_HEIGHT, HIP_HEIGHT, ANKLE_HEIGHT, FOOT = 0.285, 0.530, 0.039, 0.152


def test_thigh_is_hip_height_less_knee_height():
    assert segment_lengths_mm(2000).thigh_length_mm == pytest.approx(2000 * (HIP_HEIGHT - KNEE_HEIGHT))


def test_shank_is_knee_height_less_ankle_height():
    lengths = segment_lengths_mm(2000)
    assert lengths.shank_length_mm == pytest.approx(2000 * (KNEE_HEIGHT - ANKLE_HEIGHT))
    assert lengths.ankle_height_mm == pytest.approx(2000 * ANKLE_HEIGHT)
    assert ANKLE_HEIGHT_OF_STATURE.value == ANKLE_HEIGHT


def test_foot_length():
    assert segment_lengths_mm(1750).foot_length_mm == pytest.approx(266.0)
