"""Cohen 1960, kappa for two raters: formula from memory, worked by hand on a 2 × 2 table of fifty proposals."""

import pytest

from pedalwright.kappa import cohen_kappa


def test_textbook_table():
    """20, 5, 10, 15 of 50: observed 0.70, by chance 0.50, kappa 0.40."""
    assert cohen_kappa([[20, 5], [10, 15]]) == pytest.approx(0.40)


def test_perfect_agreement_and_agreement_by_chance():
    assert cohen_kappa([[10, 0], [0, 5]]) == pytest.approx(1.0)
    assert cohen_kappa([[4, 4], [4, 4]]) == pytest.approx(0.0)
