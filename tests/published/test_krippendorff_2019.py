"""Krippendorff 2019: alpha of three coders with gaps, as the documentation of a public package gives them."""

import pytest

from pedalwright.kappa import krippendorff_alpha

NAN = float("nan")
CODERS = [
    [NAN, NAN, NAN, NAN, NAN, 3, 4, 1, 2, 1, 1, 3, 3, NAN, 3],
    [1, NAN, 2, 1, 3, 3, 4, 3, NAN, NAN, NAN, NAN, NAN, NAN, NAN],
    [NAN, NAN, 2, 1, 3, 4, 4, NAN, 2, 1, 1, 3, 3, NAN, 4],
]
PUBLISHED = {"nominal": 0.691, "ordinal": 0.807, "interval": 0.811}


@pytest.mark.parametrize("level", PUBLISHED)
def test_three_coders(level):
    assert krippendorff_alpha(CODERS, level) == pytest.approx(PUBLISHED[level], abs=1e-3)
