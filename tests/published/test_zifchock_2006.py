"""Zifchock, Davis, Hillstrom and Song 2006: arch drop from 10 to 50 % of body weight (loads read in a citing paper)."""

import pytest

from pedalwright.arch_load import arch_drop_mm, arch_flexibility_mm_per_kn


def test_flexibility_is_the_drop_over_four_tenths_of_body_weight():
    """A drop of 4 mm in a person of 1 kN body weight: 4/0.4 = 10 mm/kN, worked by hand."""
    assert arch_flexibility_mm_per_kn(66.0, 62.0, 1000 / 9.80665) == pytest.approx(10.0)


def test_the_spring_gives_the_drop_back_under_the_same_load():
    flexibility = arch_flexibility_mm_per_kn(66.0, 62.0, 70.0)
    assert arch_drop_mm(flexibility, 0.4 * 70.0 * 9.80665) == pytest.approx(4.0)
