"""JCGM 100:2008 (GUM), worked examples of annex H.

H.2: readings as re-typed in the documentation of a public uncertainty library, which also prints the rounded results;
results of the tables to the last digit from memory.
H.1: inputs and budget as the same documentation prints them; degrees of freedom of the result and factor from memory.
"""

import numpy as np
import pytest

from pedalwright.coverage import coverage_factor, effective_degrees_of_freedom
from pedalwright.repeatability import repeats_needed
from pedalwright.uncertainty import propagate, summarise_readings

READINGS = [
    [5.007, 4.994, 5.005, 4.990, 4.999],
    [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3],
    [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
]


def impedance(volt, ampere, phase):
    size = volt / ampere
    return size * np.cos(phase), size * np.sin(phase), size


def test_h2_means_uncertainties_and_correlations_of_the_readings():
    summary = summarise_readings(READINGS)
    assert summary.mean == pytest.approx([4.9990, 19.6610e-3, 1.04446], abs=5e-7)
    assert summary.standard_uncertainty == pytest.approx([0.0032, 9.5e-6, 0.00075], rel=0.02)
    assert summary.correlation[0, 1] == pytest.approx(-0.36, abs=0.006)
    assert summary.correlation[0, 2] == pytest.approx(0.86, abs=0.006)
    assert summary.correlation[1, 2] == pytest.approx(-0.65, abs=0.006)
    assert summary.degrees_of_freedom == 4


def test_h2_resistance_reactance_and_impedance_with_correlation():
    summary = summarise_readings(READINGS)
    found = propagate(impedance, summary.mean, summary.standard_uncertainty, summary.correlation)
    assert found.value == pytest.approx([127.732, 219.847, 254.260], abs=5e-4)
    assert found.standard_uncertainty == pytest.approx([0.071, 0.295, 0.236], abs=6e-4)
    assert found.correlation[0, 1] == pytest.approx(-0.588, abs=1e-3)
    assert found.correlation[0, 2] == pytest.approx(-0.485, abs=1e-3)
    assert found.correlation[1, 2] == pytest.approx(0.993, abs=1e-3)


def test_h2_rounded_inputs_change_the_correlations():
    """With the inputs as printed, two correlations shift in the third digit: a trap of rounding."""
    matrix = [[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]]
    found = propagate(impedance, [4.9990, 19.6610e-3, 1.04446], [0.0032, 9.5e-6, 0.00075], matrix)
    assert found.correlation[0, 1] == pytest.approx(-0.591, abs=1e-3)
    assert found.correlation[0, 2] == pytest.approx(-0.491, abs=1e-3)


def test_h1_degrees_of_freedom_of_the_comparator():
    """u(d) of 9.7 nm from 5.8, 3.9 and 6.7 nm with 24, 5 and 8 degrees of freedom has 25.6, as the guide
    finds from the rounded 9.7."""
    parts = [5.8, 3.9, 6.7]
    assert np.hypot.reduce(parts) == pytest.approx(9.7, abs=0.05)
    assert effective_degrees_of_freedom(parts, [24, 5, 8]) == pytest.approx(25.6, abs=0.25)


def test_h1_expanded_uncertainty_of_the_end_gauge():
    parts, freedom = [25.0, 9.7, 2.9, 16.6], [18, 25.6, 50, 2]
    combined = np.hypot.reduce(parts)
    assert combined == pytest.approx(32, abs=0.5)
    found = effective_degrees_of_freedom(parts, freedom)
    assert found == pytest.approx(16.7, abs=0.1)
    factor = coverage_factor(0.99, np.floor(found))
    assert factor == pytest.approx(2.92, abs=0.005)
    assert factor * combined == pytest.approx(93, abs=1)


def test_g2_coverage_factors_of_student():
    """Table G.2 (Student's t), from memory: 12.71 for 1, 2.78 for 4, 1.96 for infinite degrees of freedom, 95 %."""
    assert coverage_factor(0.95, [1, 4, np.inf]) == pytest.approx([12.71, 2.78, 1.960], abs=0.005)


def test_4_2_3_the_mean_of_n_readings_has_the_uncertainty_over_the_root_of_n():
    assert repeats_needed(1.0, 0.5) == 4
    assert repeats_needed(3.0, 1.0) == 9
