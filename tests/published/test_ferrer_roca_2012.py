"""Ferrer-Roca and others 2012: saddle height of 23 elite riders by inseam and knee angle (coefficients from memory)."""

import numpy as np
import pytest

from pedalwright.saddle_rules import SADDLE_RULES, saddle_height_rule_mm


# 22.1 + 0.896·84 - 0.15·35 = 92.11 cm to the pedal (by hand).
def test_worked_example():
    height = saddle_height_rule_mm(840, "knee regression", crank_length_mm=170, knee_flexion_deg=35)
    assert height + 170 == pytest.approx(921.1, abs=0.05)


def test_ten_degrees_more_flexion_is_15_mm_lower():
    heights = saddle_height_rule_mm(840, "knee regression", knee_flexion_deg=[25, 35])
    np.testing.assert_allclose(heights[0] - heights[1], 15)


def test_it_is_a_regression_of_how_riders_sat():
    assert SADDLE_RULES["knee regression"].source == "ferrer_roca_2012"
    assert "not how riders should sit" in SADDLE_RULES["knee regression"].remark
