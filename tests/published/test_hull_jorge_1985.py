"""Hull and Jorge 1985: the leg on the bicycle as a five-bar linkage, and the pedal force resolved on the crank.

Checked by counting: five links with five hinges in a plane leave two freedoms, crank angle and pedal angle, so these
two and the lengths fix everything else; and by the exact algebra of a force in the tilting pedal.
"""

import numpy as np
import pytest

from pedalwright.force import crank_force_from_pedal, resolve_on_crank
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke


def test_crank_and_pedal_angle_leave_nothing_free():
    leg, position = Leg(428.75, 430.5, 150), Position(715, 200, 170)
    here = solve_stroke(leg, position, 130.0, 12.0)
    again = solve_stroke(leg, position, 130.0 + 360, 12.0)
    np.testing.assert_allclose(again.knee_mm, here.knee_mm)
    for crank, pedal in ((131.0, 12.0), (130.0, 13.0)):
        moved = solve_stroke(leg, position, crank, pedal)
        assert np.hypot(*(moved.ankle_mm - here.ankle_mm)[0]) > 1


# (normal, shear, pedal angle, crank angle) → (forward, up, tangential, radial), worked by hand, ±0.01 N.
@pytest.mark.parametrize(
    ("given", "ground", "crank"),
    [
        ((300, 0, 0, 90), (0, -300), (300, 0)),
        ((300, 0, 0, 180), (0, -300), (0, 300)),
        ((300, 50, -10, 90), (101.34, -286.76), (286.76, 101.34)),
        ((100, -20, 25, 270), (-60.39, -82.18), (-82.18, 60.39)),
    ],
)
def test_exact_algebra(given, ground, crank):
    force = crank_force_from_pedal(*given[:3])
    np.testing.assert_allclose(force, ground, atol=0.01)
    np.testing.assert_allclose(resolve_on_crank(*force, given[3])[:2], crank, atol=0.01)
