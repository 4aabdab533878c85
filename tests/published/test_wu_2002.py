"""Wu et al. 2002, J Biomech 35:543-548: signs of the joint angles in the society's frame (from memory)."""

import pytest

from pedalwright.angle_conventions import convert_ankle_angle_deg, convert_knee_angle_deg


def test_knee_flexion_is_negative_in_the_societys_frame():
    """From memory; clinical use counts flexion positive."""
    assert convert_knee_angle_deg(60, "flexion", "extension positive") == -60


def test_dorsiflexion_is_positive_in_the_societys_frame():
    """From memory; the package computes with plantar flexion."""
    assert convert_ankle_angle_deg(15, "plantar flexion", "dorsiflexion") == -15


@pytest.mark.parametrize(("included", "flexion"), [(145, 35), (155, 25)])
def test_included_angle_and_flexion_are_supplements(included, flexion):
    """The pairs that are most often confused: a published target of "155°" is 25° of flexion."""
    assert convert_knee_angle_deg(included, "included angle", "flexion") == flexion
