"""Priego Quesada et al. 2016, J Sci Cycling 5(1):26-31: targets counted from standing shift the fitted saddle.

Abstract read: 17 riders, targets 40, 30 and 20°; subtracting the standing value changes the saddle height.
"""

import pytest

from pedalwright.angle_conventions import relative_to_standing_deg
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke


@pytest.mark.parametrize("target", [40, 30, 20])
def test_the_same_target_counted_from_standing_means_a_lower_saddle(target):
    """A knee that stands at 5° reaches the target from standing while it is 5° more bent; the saddle is then lower."""

    def angle(saddle_height_mm):
        return solve_stroke(Leg(430, 430, 150), Position(saddle_height_mm, 200, 170), 180.0).knee_flexion_deg.item()

    def height(flexion):
        low, high = 600.0, 790.0
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if angle(middle) > flexion else (low, middle)
        return low

    plain = height(target)
    from_standing = height(target + 5)
    assert relative_to_standing_deg(angle(from_standing), 5) == pytest.approx(target, abs=1e-6)
    assert from_standing < plain - 5
