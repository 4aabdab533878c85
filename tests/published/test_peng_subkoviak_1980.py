"""Peng and Subkoviak 1980: consistency of pass-fail decisions by the bivariate normal distribution."""

import math

import pytest

from autograde.award.consistency import decision_consistency

# Subkoviak 1988, tables of approximate values for a cut at the mean (z = 0): from memory.
AGREEMENT = {0.1: 0.53, 0.2: 0.56, 0.3: 0.60, 0.4: 0.63, 0.5: 0.67, 0.6: 0.70, 0.7: 0.75, 0.8: 0.80, 0.9: 0.86}
KAPPA = {0.1: 0.06, 0.2: 0.13, 0.3: 0.19, 0.4: 0.26, 0.5: 0.33, 0.6: 0.41, 0.7: 0.49, 0.8: 0.59, 0.9: 0.71}


@pytest.mark.parametrize("reliability", AGREEMENT)
def test_cut_at_the_mean(reliability):
    found = decision_consistency(mean=60, sd=10, reliability=reliability, cut=60)
    assert found.agreement == pytest.approx(AGREEMENT[reliability], abs=0.0051)
    assert found.kappa == pytest.approx(KAPPA[reliability], abs=0.0051)


@pytest.mark.parametrize("reliability", AGREEMENT)
def test_cut_at_the_mean_in_closed_form(reliability):
    """Sheppard's theorem: both on the same side of the mean with probability 1/2 + asin(ρ)/π."""
    found = decision_consistency(mean=0, sd=1, reliability=reliability, cut=0)
    assert found.agreement == pytest.approx(0.5 + math.asin(reliability) / math.pi, abs=1e-6)
