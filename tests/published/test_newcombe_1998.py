"""Newcombe 1998, table of intervals for single proportions: Wilson's score method, four samples, from memory.

The summary of the paper was read; the four rows are remembered, and another program gives the same digits.
"""

import pytest
from statsmodels.stats.proportion import proportion_confint

from autograde.cohort.statistics import share_interval

ROWS = [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0000, 0.1611), (1, 29, 0.0061, 0.1718)]


@pytest.mark.parametrize(("right", "count", "low", "high"), ROWS)
def test_score_interval_without_continuity_correction(right, count, low, high):
    found = share_interval(right / count, count)
    assert found == pytest.approx((low, high), abs=5.1e-5)
    assert found == pytest.approx(proportion_confint(right, count, method="wilson"), abs=1e-12)
