"""Ferrer-Roca and others 2014, abstract read: saddle ±2 %; from low to high the knee extended 7° more.

A chain whose foot is held at one angle must react more strongly than riders, who take up part of the change in ankle
and hip: about half of it.
"""

import numpy as np
import pytest

from pedalwright.pedal_angle import constant_curve
from pedalwright.position import Leg, Position, raised
from pedalwright.saddle_rules import HEIGHT_STUDIES
from pedalwright.stroke import solve_stroke

MEASURED_DEG = 7.0
LOW_TO_HIGH = 0.04


def test_a_held_foot_reacts_about_twice_as_strongly_as_riders():
    leg, position = Leg(428.75, 430.5, 150), Position(715, 200, 170)
    to_pedal = 715 + 170
    low, high = (
        solve_stroke(leg, raised(position, by * to_pedal), 180.0, constant_curve(0.0)).knee_flexion_deg.item()
        for by in (-LOW_TO_HIGH / 2, LOW_TO_HIGH / 2)
    )
    assert 0.4 <= MEASURED_DEG / (low - high) <= 0.65


def test_measured_sensitivity_lies_below_the_geometric_one():
    """7° over about 31 mm (4 % of a saddle height near 775 mm, our estimate) is 0.23 °/mm.

    A held foot moves the knee by d/(t·s·sin κ) a millimetre (law of cosines), 0.4 to 0.65 °/mm at 25 to 40°.
    """
    leg, position = Leg(428.75, 430.5, 150), Position(730, 200, 170)
    low, high = (solve_stroke(leg, raised(position, by), 180.0).knee_flexion_deg.item() for by in (-1, 1))
    knee = np.radians((low + high) / 2)
    distance = np.sqrt(428.75**2 + 430.5**2 + 2 * 428.75 * 430.5 * np.cos(knee))
    along = np.degrees(distance / (428.75 * 430.5 * np.sin(knee)))
    # the saddle moves along its line, a few degrees off the line from hip to ankle
    assert (low - high) / 2 == pytest.approx(along, rel=0.05)
    assert 0.4 <= along <= 0.65
    assert (low - high) / 2 > 1.5 * MEASURED_DEG / 31


def test_efficiency_points_the_other_way_than_an_earlier_study():
    """20.4 ± 1.3 % low against 19.9 ± 1.5 % high (read); Peveler and Green 2011 found the straighter knee cheaper."""
    assert HEIGHT_STUDIES["ferrer_roca_2014"].favours == "lower"
    assert "20.4 ± 1.3 %" in HEIGHT_STUDIES["ferrer_roca_2014"].finding
    assert HEIGHT_STUDIES["peveler_green_2011"].favours == "higher"
