"""How likely a second, equivalent assessment would decide alike."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy import stats

from autograde.award.errors import AwardError

__all__ = ["Consistency", "decision_consistency"]


@dataclass(frozen=True)
class Consistency:
    """How likely a second, equivalent assessment would lead to the same decisions.

    Parameters
    ----------
    agreement : float
        Expected share of trainees decided alike both times, 0 to 1.
    chance : float
        The share that would agree if both decisions were independent, 0 to 1.
    kappa : float
        Agreement beyond chance, at most 1.
    """

    agreement: float
    chance: float
    kappa: float


def decision_consistency(mean: float, sd: float, reliability: float, cut: float) -> Consistency:
    """Estimate from one assessment how far a second one would decide alike.

    Parameters
    ----------
    mean, sd : float
        Of the totals; the standard deviation greater than 0.
    reliability : float
        0 to 1; a negative estimate counts as 0.
    cut : float
        Totals from here on pass.

    Returns
    -------
    Consistency
        Agreement, chance agreement and kappa.

    Raises
    ------
    AwardError
        If a number is out of range.

    Notes
    -----
    The totals of two equivalent assessments are taken as bivariate normal with the reliability as their correlation:
    with z = (cut − mean)/sd, agreement = 1 − 2(Φ(z) − Φ₂(z, z; ρ)). This is the published normal approximation of the
    beta-binomial method; marks here come in fractions, so no half-mark correction is made.

    References
    ----------
    huynh_1976, peng_subkoviak_1980

    Examples
    --------
    >>> round(decision_consistency(mean=60, sd=10, reliability=0.5, cut=60).agreement, 4)
    0.6667
    """
    if not (all(map(math.isfinite, (mean, sd, cut))) and sd > 0 and reliability <= 1):
        raise AwardError(
            f"received mean {mean!r}, standard deviation {sd!r}, reliability {reliability!r}, cut {cut!r}; "
            "the standard deviation is greater than 0 and the reliability at most 1"
        )
    z = (cut - mean) / sd
    rho = min(max(reliability, 0.0), 1.0)
    below = float(stats.norm.cdf(z))
    both = below if rho == 1 else float(stats.multivariate_normal.cdf([z, z], cov=[[1.0, rho], [rho, 1.0]]))
    agreement = min(1.0, 1 - 2 * (below - both))
    chance = below**2 + (1 - below) ** 2
    kappa = 1.0 if chance == 1 else (agreement - chance) / (1 - chance)
    return Consistency(agreement, chance, kappa)
