"""Hancock, Hepworth and Wembridge 2018, abstract read: minimum significant difference of ways to read a knee angle."""

import math

import pytest

from pedalwright.decision import uncertainty_needed
from pedalwright.repeatability import KNEE_ANGLE_INSTRUMENTS

ABSTRACT = {"inclinometer": 6.0, "long goniometer": 10.0, "phone": 12.0, "short goniometer": 14.0}


@pytest.mark.parametrize("name", ABSTRACT)
def test_smallest_change_of_each_instrument(name):
    """The standard error is that difference over 1.96·√2, by hand 2.16, 3.61, 4.33 and 5.05°."""
    instrument = KNEE_ANGLE_INSTRUMENTS[name]
    assert instrument.smallest_change_deg == ABSTRACT[name]
    assert instrument.standard_error_deg == pytest.approx(ABSTRACT[name] / (1.959964 * math.sqrt(2)), rel=1e-6)


def test_only_the_inclinometer_can_ever_call_a_knee_inside_a_window_of_ten_degrees():
    """Half of 10° over 1.96 is 2.55°: above the 2.16° of the inclinometer, below the 3.61° of the long goniometer."""
    needed = uncertainty_needed(25.0, 35.0)
    assert needed == pytest.approx(2.551, abs=5e-4)
    able = {name for name, one in KNEE_ANGLE_INSTRUMENTS.items() if one.standard_error_deg <= needed}
    assert able == {"inclinometer"}
