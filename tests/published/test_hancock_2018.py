"""Hancock, Hepworth and Wembridge 2018, abstract: minimum significant difference of ways to measure a knee angle."""

import pytest

from pedalwright.decision import uncertainty_needed
from pedalwright.repeatability import KNEE_ANGLE_INSTRUMENTS, smallest_detectable_change

ABSTRACT = {"inclinometer": 6.0, "long goniometer": 10.0, "phone": 12.0, "short goniometer": 14.0}


@pytest.mark.parametrize("name", ABSTRACT)
def test_smallest_change_of_each_instrument(name):
    instrument = KNEE_ANGLE_INSTRUMENTS[name]
    assert instrument.smallest_change_deg == ABSTRACT[name]
    assert smallest_detectable_change(instrument.standard_error_deg) == pytest.approx(ABSTRACT[name])


def test_only_the_inclinometer_can_ever_call_a_knee_inside_a_window_of_ten_degrees():
    needed = uncertainty_needed(25.0, 35.0)
    able = {name for name, one in KNEE_ANGLE_INSTRUMENTS.items() if one.standard_error_deg <= needed}
    assert able == {"inclinometer"}
