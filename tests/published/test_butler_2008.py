"""Butler and others 2008: arch height index norms, 0.363 ± 0.030 sitting and 0.340 ± 0.030 standing.

Values from memory; no page that prints them was found.
"""

import pytest

from pedalwright.arch_load import arch_rigidity_index
from pedalwright.foot import arch_class, arch_z


@pytest.mark.parametrize(("norm", "mean"), [("standing", 0.340), ("sitting", 0.363)])
def test_limits_one_standard_deviation_from_the_mean(norm, mean):
    assert arch_z([mean, mean + 0.030, mean - 0.060], norm) == pytest.approx([0.0, 1.0, -2.0])
    limits = [mean - 0.0301, mean - 0.0299, mean + 0.0299, mean + 0.0301]
    assert arch_class(limits, norm).tolist() == ["low", "medium", "medium", "high"]


def test_an_arch_on_the_limit_is_medium():
    assert arch_class([0.310, 0.370]).tolist() == ["medium", "medium"]


def test_mean_foot_keeps_94_percent_of_its_height():
    """0.340/0.363 = 0.937."""
    assert arch_rigidity_index(0.340, 0.363) == pytest.approx(0.937, abs=5e-4)
