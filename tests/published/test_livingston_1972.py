"""Livingston 1972, K²: formula from memory, worked by hand."""

import pytest

from pedalwright.reliability import livingston_k2


def test_worked_by_hand():
    """ρ 0.8, σ 5, mean 30, cut 25: (0.8·25 + 25)/(25 + 25) = 0.90."""
    assert livingston_k2(0.8, 5, 30, 25) == pytest.approx(0.90)


def test_cut_at_the_mean_leaves_the_reliability():
    assert livingston_k2(0.8, 5, 30, 30) == pytest.approx(0.8)
