"""Fischer and others 2018, abstract: eversion turned into tibial rotation by 0.68 ± 0.15 in eight specimens.

Beside it the ratio of running studies, 1.5 to 2 degrees of roll a degree of turn (Nawoczenski and others 1998), from
memory.
"""

import pytest

from pedalwright.foot_collapse import COUPLINGS, tibial_rotation_deg


def test_ten_degrees_of_roll():
    assert tibial_rotation_deg(10.0) == pytest.approx(6.8)
    assert (COUPLINGS["in vitro"].lower, COUPLINGS["in vitro"].upper) == pytest.approx((0.68 - 0.15, 0.68 + 0.15))


def test_ratios_of_running_studies():
    runners = COUPLINGS["runners"]
    assert (1 / runners.upper, 1 / runners.lower) == pytest.approx((1.5, 2.0))
    assert 1 / runners.share == pytest.approx(1.75)
    assert tibial_rotation_deg(10.0, "runners") == pytest.approx(5.714, abs=1e-3)


def test_the_two_ranges_overlap():
    assert COUPLINGS["in vitro"].lower < COUPLINGS["runners"].upper
