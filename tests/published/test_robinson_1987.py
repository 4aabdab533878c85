"""Robinson, Herzog and Nigg 1987: symmetry index; formula read in papers that quote it, values worked by hand."""

import pytest

from pedalwright.symmetry import asymmetry_pct, right_share_pct, shortfall_pct, symmetry_index_pct


def test_same_data_three_numbers():
    """110 against 90: index 20 %, share 55 to 45, shortfall 18.2 %."""
    assert symmetry_index_pct(110, 90) == pytest.approx(20.0)
    assert right_share_pct(110, 90) == pytest.approx(55.0)
    assert shortfall_pct(110, 90) == pytest.approx(18.2, abs=0.05)


def test_balance_of_52_to_48_is_an_index_of_8():
    assert asymmetry_pct(52, 48) == pytest.approx(8.0)
