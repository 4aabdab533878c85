"""Conversions agree with a units library and turn back."""

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.units import FACTORS, convert, kind_of_unit

REGISTRY = pint.UnitRegistry()
NAMES_IN_PINT = {
    "in": "inch",
    "mmhg": "mmHg",
    "mm2": "mm^2",
    "cm2": "cm^2",
    "m2": "m^2",
    "deg": "degree",
    "rad": "radian",
    "rad_s": "radian/second",
    "deg_s": "degree/second",
    "rad_s2": "radian/second^2",
    "deg_s2": "degree/second^2",
    "hz": "turn/second",
    "n": "newton",
    "kn": "kilonewton",
    "kgf": "kilogram_force",
    "lbf": "pound_force",
    "nm": "newton*meter",
    "nmm": "newton*millimeter",
    "pa": "pascal",
    "kpa": "kilopascal",
    "n_cm2": "newton/cm^2",
    "j": "joule",
    "kj": "kilojoule",
    "w": "watt",
    "kw": "kilowatt",
    "m_s": "meter/second",
    "mm_s": "millimeter/second",
    "km_h": "kilometer/hour",
    "1": "dimensionless",
    "pct": "percent",
    "kcal": "kilocalorie",
}
PAIRS = [(unit, other) for units in FACTORS.values() for unit in units for other in units if unit != other]


@pytest.mark.parametrize(("unit", "other"), PAIRS)
def test_agrees_with_a_units_library(unit, other):
    expected = REGISTRY.Quantity(3.7, NAMES_IN_PINT.get(unit, unit)).to(NAMES_IN_PINT.get(other, other)).magnitude
    np.testing.assert_allclose(convert(3.7, unit, other), expected, rtol=1e-9)


@given(st.floats(-1e6, 1e6), st.sampled_from(PAIRS))
def test_turns_back(value, pair):
    unit, other = pair
    np.testing.assert_allclose(convert(convert(value, unit, other), other, unit), value, rtol=1e-12, atol=1e-300)


def test_names_the_kind():
    assert kind_of_unit("kpa") == "pressure"


@pytest.mark.parametrize(("unit", "other"), [("furlong", "mm"), ("mm", "furlong"), ("mm", "kg")])
def test_refuses_unknown_and_mixed_units(unit, other):
    with pytest.raises(OutOfRangeError, match="allowed"):
        convert(1, unit, other)
