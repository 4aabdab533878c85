"""Farrell and others 2003, abstract read: least knee flexion about 33°, near a crank angle of 170°, not at the bottom.

The saddle is set so that the knee has 33° at 170°; checked is where the knee is straightest. Riders of the study moved
their pedals in their own way, hence the width of the window.
"""

import numpy as np
import pytest

from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle
from pedalwright.stroke import solve_stroke
from pedalwright.targets import saddle_for_knee_flexion
from pedalwright.turn import lowest_point

LEG = Leg(428.75, 430.5, 150)


@pytest.mark.parametrize("pedal", [0.0, recorded_pedal_angle()], ids=["level pedal", "recorded pedal angle"])
def test_the_knee_is_straightest_shortly_before_the_bottom(pedal):
    position = saddle_for_knee_flexion(LEG, Position(730, 200, 170), 33, crank_angle_deg=170)
    knee = solve_stroke(LEG, position, np.arange(0, 360, 1.0), pedal).knee_flexion_deg
    least, where = lowest_point(knee)
    assert where == pytest.approx(170, abs=15)
    assert where < 180 - 2
    assert least < 33
