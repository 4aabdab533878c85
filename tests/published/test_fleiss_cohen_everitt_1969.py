"""Fleiss, Cohen and Everitt 1969: standard errors of kappa and weighted kappa; 200 pieces in three categories.

Table and weights as the R package psych quotes them; worked by hand.
"""

import pytest

from autograde.award.agreement import weighted_kappa

SHARES = [[0.53, 0.05, 0.02], [0.11, 0.14, 0.05], [0.01, 0.06, 0.03]]
WEIGHTS = [[1.0, 0.0, 0.4444], [0.0, 1.0, 0.6666], [0.4444, 0.6666, 1.0]]
COUNTS = [[round(200 * share) for share in row] for row in SHARES]


def test_kappa():
    """By hand: p_o 0.70; margins .60 .30 .10 and .65 .25 .10, p_e 0.475; (0.70 − 0.475)/0.525."""
    assert weighted_kappa(COUNTS, "none").estimate.value == pytest.approx(0.225 / 0.525)


def test_weighted_kappa():
    """By hand: p_o .70 + .4444·.03 + .6666·.11 = .786658; p_e .475 + .4444·.125 + .6666·.055 = .567213."""
    found = weighted_kappa(COUNTS, WEIGHTS)
    assert found.observed == pytest.approx(0.786658, abs=1e-6)
    assert found.expected == pytest.approx(0.567213, abs=1e-6)
    assert found.estimate.value == pytest.approx(0.507, abs=5e-4)
