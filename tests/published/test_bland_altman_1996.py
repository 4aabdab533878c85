"""Bland and Altman 1996, BMJ 313:744, table 1: four peak flow readings of each child.

The first sixteen of twenty rows were read.
"""

import numpy as np
import pytest

from pedalwright.repeatability import smallest_detectable_change, within_subject_sd

# readings, printed mean, printed standard deviation
TABLE_1 = [
    ((190, 220, 200, 200), 202.50, 12.58),
    ((220, 200, 240, 230), 222.50, 17.08),
    ((260, 260, 240, 280), 260.00, 16.33),
    ((210, 300, 280, 265), 263.75, 38.60),
    ((270, 265, 280, 270), 271.25, 6.29),
    ((280, 280, 270, 275), 276.25, 4.79),
    ((260, 280, 280, 300), 280.00, 16.33),
    ((275, 275, 275, 305), 282.50, 15.00),
    ((280, 290, 300, 290), 290.00, 8.16),
    ((320, 290, 300, 290), 300.00, 14.14),
    ((300, 300, 310, 300), 302.50, 5.00),
    ((270, 250, 330, 370), 305.00, 55.08),
    ((320, 330, 330, 330), 327.50, 5.00),
    ((335, 320, 335, 375), 341.25, 23.58),
    ((350, 320, 340, 365), 343.75, 18.87),
    ((360, 320, 350, 345), 343.75, 17.02),
]


@pytest.mark.parametrize(("readings", "mean", "deviation"), TABLE_1)
def test_standard_deviation_of_each_child(readings, mean, deviation):
    assert np.mean(readings) == pytest.approx(mean)
    assert within_subject_sd([readings]) == pytest.approx(deviation, abs=0.005)


def test_pooled_over_the_children_is_the_root_mean_square_of_the_printed_deviations():
    printed = np.array([deviation for _, _, deviation in TABLE_1])
    pooled = within_subject_sd([readings for readings, _, _ in TABLE_1])
    assert pooled == pytest.approx(np.sqrt(np.mean(printed**2)), abs=0.005)


def test_repeatability_is_2_77_times_the_within_subject_deviation():
    """The paper: 95 % of pairs differ by less than 2.77 times the deviation, √2 × 1.96."""
    assert smallest_detectable_change(1.0) == pytest.approx(2.77, abs=0.005)
