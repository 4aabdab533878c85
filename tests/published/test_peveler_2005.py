"""Peveler and others 2005: the 0.883 and the 109 % rule side by side, no difference found on 19 riders.

Rule values worked by hand for inseams of 800, 850 and 900 mm and a crank of 172.5 mm.
"""

import numpy as np

from pedalwright.saddle_rules import SADDLE_RULES, saddle_height_rule_mm

INSEAMS = [800, 850, 900]


def test_heights_of_the_0883_rule():
    np.testing.assert_allclose(saddle_height_rule_mm(INSEAMS, "inseam 0.883"), (706.4, 750.55, 794.7), atol=0.06)


def test_the_two_rules_differ_by_a_few_millimetres_and_change_sign():
    by_pedal = saddle_height_rule_mm(INSEAMS, "inseam 109 %", crank_length_mm=172.5)
    np.testing.assert_allclose(by_pedal - saddle_height_rule_mm(INSEAMS, "inseam 0.883"), (-6.9, 3.5, 13.8), atol=0.1)


def test_the_rule_says_that_no_primary_study_stands_behind_it():
    assert SADDLE_RULES["inseam 0.883"].source == "peveler_2005"
    assert "No primary study" in SADDLE_RULES["inseam 0.883"].remark
