"""Preece and others 2008, abstract: pelves in one pose, iliac spines at 13 ± 5° (0 to 23°), 16 mm in height."""

import numpy as np
import pytest

from pedalwright.pelvis import pelvic_tilt_deg
from pedalwright.uneven_seat import pelvic_obliquity_deg


@pytest.mark.parametrize("tilt", [0.0, 13.0, 23.0])
def test_reads_back_a_line_laid_at_a_tilt_of_the_range(tilt):
    back = np.array([0.0, 0.0])
    front = 160.0 * np.array([np.cos(np.radians(tilt)), -np.sin(np.radians(tilt))])
    assert pelvic_tilt_deg(front, back) == pytest.approx(tilt)


def test_sixteen_millimetres_of_bone_look_like_a_slope():
    """16 mm over 240 mm between the spines: atan(16/240) = 3.81°, worked by hand, though nothing is uneven."""
    assert pelvic_obliquity_deg(16.0, 0.0, 240.0) == pytest.approx(3.81, abs=0.005)
