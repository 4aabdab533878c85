"""Kuder and Richardson 1937, formulas 20 and 21, from memory; worked by hand on a Guttman pattern."""

import numpy as np
import pytest

from pedalwright.reliability import cronbach_alpha, kr20, kr21

GUTTMAN = np.tril(np.ones((6, 6)), -1)[:, :5]


def test_guttman_pattern_of_six_persons_and_five_items():
    """Shares right 5/6…1/6: Σpq = 35/36, variance of totals 35/12; formula 20 gives 5/6, formula 21 gives 5/7."""
    assert kr20(GUTTMAN) == pytest.approx(5 / 6)
    assert kr21(GUTTMAN) == pytest.approx(5 / 7)
    assert kr20(GUTTMAN) == pytest.approx(cronbach_alpha(GUTTMAN))
