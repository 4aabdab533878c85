"""Bini and others 2013, abstract read: 21 riders, saddle forward against backward.

Knee flexion was 22 % greater with the crank forward and 36 % with it down. How far the riders moved is not in the
abstract, so only directions are compared. With the crank forward the knee bends more whichever way the saddle is moved:
slid on level rails, or with its distance from the bottom bracket kept; with the crank down it does so on rails only.
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


def test_slid_forward_on_rails_the_knee_bends_more_at_six_o_clock_too():
    knee = [solve_stroke(LEG, slid_back(START, by), 180.0).knee_flexion_deg.item() for by in (50, 25, 0, -25, -50)]
    assert np.all(np.diff(knee) > 0)
