"""Hamley and Thomas 1967: saddle to pedal 109 % of the inseam (from memory; the rule is described in Peveler 2005)."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.saddle_rules import SADDLE_RULES, saddle_height_rule_mm


def test_109_percent_to_the_pedal():
    to_pedal = saddle_height_rule_mm([800, 850, 900], "inseam 109 %", crank_length_mm=172.5) + 172.5
    np.testing.assert_allclose(to_pedal, (872.0, 926.5, 981.0), atol=0.06)
    assert SADDLE_RULES["inseam 109 %"].source == "hamley_thomas_1967"


# 1.09·I - 0.883·I = 0.207·I, 171.8 mm for an inseam of 830 mm: the crank that makes both rules agree (arithmetic).
def test_crank_for_which_both_rules_agree():
    by_pedal = saddle_height_rule_mm(830, "inseam 109 %", crank_length_mm=171.8)
    np.testing.assert_allclose(by_pedal, saddle_height_rule_mm(830, "inseam 0.883"), atol=0.02)


# An uncertainty of 5 mm in the inseam is 5.45 mm in the saddle (linear rule, by hand).
@given(st.floats(700, 950))
def test_uncertainty_of_the_inseam(inseam):
    moved = saddle_height_rule_mm(inseam + 5, "inseam 109 %") - saddle_height_rule_mm(inseam, "inseam 109 %")
    np.testing.assert_allclose(moved, 5.45)
