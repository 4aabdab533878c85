"""Weir 2005: SEM = SD·√(1 − ICC), smallest difference = SEM·1.96·√2. Formulas from memory, values worked by hand."""

import pytest

from pedalwright.repeatability import smallest_detectable_change, standard_error_of_measurement


@pytest.mark.parametrize(("deviation", "icc", "sem", "change"), [(3.0, 0.90, 0.949, 2.630), (5.0, 0.80, 2.236, 6.198)])
def test_standard_error_and_smallest_difference(deviation, icc, sem, change):
    found = standard_error_of_measurement(deviation, icc)
    assert found == pytest.approx(sem, abs=5e-4)
    assert smallest_detectable_change(found) == pytest.approx(change, abs=5e-4)
