"""Nordeen-Snyder 1977: saddle to pedal as a share of trochanter height, 100 % cheapest in oxygen (from memory)."""

import numpy as np

from pedalwright.saddle_rules import SADDLE_RULES, saddle_height_rule_mm


def test_96_and_100_percent():
    for share in (96, 100):
        height = saddle_height_rule_mm(None, f"trochanter {share} %", trochanter_height_mm=900, crank_length_mm=170)
        np.testing.assert_allclose(height + 170, 9 * share)
        assert SADDLE_RULES[f"trochanter {share} %"].source == "nordeen_snyder_1977"
