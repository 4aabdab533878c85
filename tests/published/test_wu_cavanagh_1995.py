"""Wu and Cavanagh 1995, J Biomech 28:1257-1261: the frame of the biomechanics society; and plain geometry.

Frame (y up, x forward, z to the right) read in a discussion of the recommendation, not in the paper.
"""

import numpy as np
import pytest

from pedalwright.joints import included_angle_deg, knee_flexion_deg
from pedalwright.projection import project_sagittal_mm


def test_axes_of_the_frame_are_the_default_of_the_projection():
    """x forward, y up, z to the right, right-handed: x cross y is z."""
    points = np.array([[1.0, 0, 0], [0, 1, 0]]) * 100 + np.array([0, 0, 50])
    assert project_sagittal_mm(points).tolist() == [[100, 0], [0, 100]]


@pytest.mark.parametrize(
    ("ankle", "included", "flexion"),
    [((0, -600), 90, 90), ((600, -600), 180, 0)],
)
def test_right_angle_and_straight_leg(ankle, included, flexion):
    """Hip (0, 0), knee (300, −300): exact by construction."""
    points = ((0, 0), (300, -300), ankle)
    assert included_angle_deg(*points) == pytest.approx(included)
    assert knee_flexion_deg(*points) == pytest.approx(flexion)
