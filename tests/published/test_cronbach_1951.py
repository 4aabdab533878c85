"""Cronbach 1951, alpha: a hand-made covariance and the stored example of a statistics library."""

import numpy as np
import pingouin
import pytest

from pedalwright.reliability import cronbach_alpha


def test_example_data_of_the_statistics_library():
    """Eleven items, complete cases; the library prints 0.592 for its example."""
    table = pingouin.read_dataset("cronbach_alpha").pivot(index="Subj", columns="Items", values="Scores")
    assert cronbach_alpha(table.to_numpy()) == pytest.approx(0.592, abs=5e-4)


def test_equal_correlations_give_the_spearman_brown_value():
    """Three items that correlate 0.5 with each other and vary alike: 3·0.5/(1 + 2·0.5) = 0.75."""
    rng = np.random.default_rng(4)
    raw = rng.standard_normal((40, 3))
    raw -= raw.mean(axis=0)
    white = raw @ np.linalg.inv(np.linalg.cholesky(np.cov(raw.T)).T)
    wanted = np.full((3, 3), 0.5) + 0.5 * np.eye(3)
    assert cronbach_alpha(white @ np.linalg.cholesky(wanted).T) == pytest.approx(0.75)
