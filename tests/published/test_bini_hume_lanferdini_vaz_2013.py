"""Bini and others 2013, abstract read: saddle forward, knee flexion with the crank forward is 22 % greater (21 riders).

How far those riders moved is not in the abstract, so only the direction is compared, whichever way the saddle is moved:
slid on level rails, or with its height above the bottom bracket kept.
"""

import numpy as np
import pytest

from pedalwright.position import Leg, Position, slid_back
from pedalwright.stroke import solve_stroke

LEG = Leg(428.75, 430.5, 150)
START = Position(715, 200, 170)


@pytest.mark.parametrize("moved", [slid_back, lambda _, by: Position(715, 200 + by, 170)], ids=["rails", "height kept"])
def test_saddle_forward_bends_the_knee_more_at_three_o_clock(moved):
    knee = [solve_stroke(LEG, moved(START, by), 90.0).knee_flexion_deg.item() for by in (50, 25, 0, -25, -50)]
    assert np.all(np.diff(knee) > 0)
