"""JCGM 106:2012, conformity assessment. Example of a single upper limit, from memory."""

import pytest

from pedalwright.decision import decide, probability_inside


def test_breakdown_voltage_of_a_diode_against_an_upper_limit():
    """Measured −5.47 V, standard uncertainty 0.05 V, limit −5.40 V: conforms with 92 %, the normal curve up to 1.4."""
    assert probability_inside(-5.47, 0.05, upper=-5.40) == pytest.approx(0.92, abs=0.005)
    assert decide(-5.47, 0.05, upper=-5.40).verdict == "not sure"
    assert decide(-5.47, 0.05, upper=-5.40, confidence=0.90).verdict == "inside"


def test_a_value_on_a_single_limit_is_inside_with_one_half():
    assert probability_inside(35.0, 2.0, upper=35.0) == pytest.approx(0.5)
