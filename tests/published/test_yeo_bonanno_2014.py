"""Wedges: angles worked by hand from atan(height/width); review of Yeo and Bonanno 2014 for what they are worth."""

import pytest

from pedalwright.fit_findings import WINDOWS
from pedalwright.footbed_tier import SUPPORT_EVIDENCE
from pedalwright.forefoot import wedge_angle_deg, wedge_height_mm


@pytest.mark.parametrize(
    ("height_mm", "width_mm", "angle_deg"),
    [(1, 60, 0.955), (2, 60, 1.909), (3, 60, 2.862), (3, 90, 1.909)],
)
def test_angles_by_hand(height_mm, width_mm, angle_deg):
    assert wedge_angle_deg(height_mm, width_mm) == pytest.approx(angle_deg, abs=1e-3)
    assert wedge_height_mm(angle_deg, width_mm) == pytest.approx(height_mm, abs=2e-3)


def test_evidence_is_called_weak_where_a_wedge_or_footbed_is_proposed():
    """Abstract read: six studies, no effect on kinematics, comfort or power."""
    assert WINDOWS["forefoot_tilt_left_deg"].evidence.startswith("Weak: six laboratory studies")
    assert "no change of kinematics, comfort or power" in SUPPORT_EVIDENCE
