"""The elastic bed: balance of load and moments, symmetry, scaling, and a load that nothing can hold."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from pedalwright.bed import press, series_stiffness_kpa_mm
from pedalwright.errors import OutOfRangeError
from pedalwright.pressure import force_n
from pedalwright.pressure_summary import centre_of_pressure_mm

CELL = 5.0
ACROSS, ALONG = np.meshgrid(np.arange(-47.5, 50, CELL), np.arange(-37.5, 40, CELL))
DOME = (ACROSS**2 + ALONG**2) / 160


def bumpy(seed):
    rng = np.random.default_rng(seed)
    return DOME + rng.uniform(0, 4, DOME.shape), rng.uniform(0.5, 5, DOME.shape)


@settings(max_examples=60)
@given(st.integers(0, 10_000), st.floats(1, 2000), st.floats(-20, 20), st.floats(-15, 15))
def test_force_and_both_moments_balance(seed, load, across, along):
    gap, stiffness = bumpy(seed)
    found = press(
        gap, stiffness, load, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=across, load_along_mm=along
    )
    assert force_n(found.pressure) == pytest.approx(load, rel=1e-9)
    assert centre_of_pressure_mm(found.pressure) == pytest.approx([across, along], abs=1e-7)
    assert found.pressure.pressure_kpa.min() >= 0


def test_pressure_is_stiffness_times_depth_of_the_tilted_body():
    gap, stiffness = bumpy(3)
    found = press(gap, stiffness, 300.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=12, load_along_mm=-8)
    sunk = (
        found.depth_mm
        + np.tan(np.radians(found.tilt_across_deg)) * ACROSS
        + np.tan(np.radians(found.tilt_along_deg)) * ALONG
        - gap
    )
    assert found.pressure.pressure_kpa == pytest.approx(stiffness * np.maximum(sunk, 0), abs=1e-9)


def test_same_pose_as_a_general_minimiser_finds():
    gap, stiffness = bumpy(7)
    force_stiffness = stiffness * CELL**2 / 1000
    load, x, y = 250.0, -10.0, 5.0

    def energy(pose):
        depth = np.maximum(pose[0] + pose[1] * ACROSS / 50 + pose[2] * ALONG / 50 - gap, 0)
        return 0.5 * np.sum(force_stiffness * depth**2) - load * (pose[0] + pose[1] * x / 50 + pose[2] * y / 50)

    best = minimize(
        energy, [5.0, 0.0, 0.0], method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 5000}
    )
    found = press(gap, stiffness, load, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=x, load_along_mm=y)
    slopes = np.tan(np.radians([found.tilt_across_deg, found.tilt_along_deg])) * 50
    assert [found.depth_mm, *slopes] == pytest.approx(list(best.x), abs=1e-4)


@settings(max_examples=30)
@given(st.integers(0, 1000), st.floats(-20, 20))
def test_mirror_of_body_and_load_mirrors_the_pressure(seed, across):
    gap, stiffness = bumpy(seed)
    one = press(gap, stiffness, 200.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=across)
    other = press(
        gap[:, ::-1], stiffness[:, ::-1], 200.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=-across
    )
    assert other.pressure.pressure_kpa == pytest.approx(one.pressure.pressure_kpa[:, ::-1], abs=1e-7)
    assert other.tilt_across_deg == pytest.approx(-float(one.tilt_across_deg), abs=1e-9)


@settings(max_examples=30)
@given(st.integers(0, 1000), st.floats(0.1, 10))
def test_a_stiffer_bed_under_a_larger_load_sinks_the_same(seed, factor):
    gap, stiffness = bumpy(seed)
    one = press(gap, stiffness, 200.0, cell_across_mm=CELL, cell_along_mm=CELL)
    other = press(gap, factor * stiffness, factor * 200.0, cell_across_mm=CELL, cell_along_mm=CELL)
    assert other.depth_mm == pytest.approx(float(one.depth_mm))
    assert other.pressure.pressure_kpa == pytest.approx(factor * one.pressure.pressure_kpa, rel=1e-6, abs=1e-9)


@given(st.floats(-30, 30))
def test_only_the_shape_of_the_gap_counts_not_its_level(level):
    one = press(DOME, 2.0, 100.0, cell_across_mm=CELL, cell_along_mm=CELL)
    other = press(DOME + level, 2.0, 100.0, cell_across_mm=CELL, cell_along_mm=CELL)
    assert other.depth_mm - level == pytest.approx(float(one.depth_mm))
    assert other.pressure.pressure_kpa == pytest.approx(one.pressure.pressure_kpa, abs=1e-8)


def test_more_load_sinks_deeper_and_a_softer_bed_too():
    loads = press(DOME, 2.0, np.array([50.0, 100.0, 400.0]), cell_across_mm=CELL, cell_along_mm=CELL)
    assert np.all(np.diff(loads.depth_mm) > 0)
    beds = press(DOME, np.array([1.0, 2.0, 4.0])[:, None, None], 100.0, cell_across_mm=CELL, cell_along_mm=CELL)
    assert np.all(np.diff(beds.depth_mm) < 0)


def test_tilt_follows_the_load():
    found = press(DOME, 2.0, 100.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=10, load_along_mm=-10)
    assert found.tilt_across_deg > 0
    assert found.tilt_along_deg < 0


@pytest.mark.parametrize(
    ("tilt", "across_free", "along_free"),
    [("both", True, True), ("across", True, False), ("along", False, True), ("none", False, False)],
)
def test_held_tilts_stay_zero_and_free_ones_balance(tilt, across_free, along_free):
    found = press(
        DOME, 2.0, 100.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=8, load_along_mm=6, tilt=tilt
    )
    centre = centre_of_pressure_mm(found.pressure)
    assert force_n(found.pressure) == pytest.approx(100.0)
    assert centre[0] == pytest.approx(8.0 if across_free else 0.0, abs=1e-7)
    assert centre[1] == pytest.approx(6.0 if along_free else 0.0, abs=1e-7)
    assert bool(abs(found.tilt_across_deg) > 1e-9) == across_free
    assert bool(abs(found.tilt_along_deg) > 1e-9) == along_free


def test_many_cases_in_one_call_agree_with_each_alone():
    loads, places = np.array([[50.0], [200.0]]), np.array([-10.0, 0.0, 15.0])
    many = press(DOME, 2.0, loads, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=places)
    assert many.depth_mm.shape == (2, 3)
    one = press(DOME, 2.0, 200.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=15.0)
    assert many.depth_mm[1, 2] == pytest.approx(float(one.depth_mm))
    assert many.pressure.pressure_kpa[1, 2] == pytest.approx(one.pressure.pressure_kpa, abs=1e-9)


def test_a_load_close_to_the_edge_is_still_held():
    found = press(np.zeros_like(DOME), 2.0, 100.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=46.0)
    assert centre_of_pressure_mm(found.pressure)[0] == pytest.approx(46.0, abs=1e-6)


@pytest.mark.parametrize("place", [{"load_across_mm": 60.0}, {"load_along_mm": -55.0}])
def test_a_load_beside_the_support_tips_over_and_says_so(place):
    with pytest.raises(OutOfRangeError, match=r"no balance in 1 of 1 cases; allowed: a load inside"):
        press(DOME, 2.0, 100.0, cell_across_mm=CELL, cell_along_mm=CELL, **place)


def test_a_load_over_cells_that_cannot_bear_tips_over_too():
    stiffness = np.where(ACROSS < 0, 2.0, 0.0)
    with pytest.raises(OutOfRangeError, match="no balance"):
        press(DOME, stiffness, 100.0, cell_across_mm=CELL, cell_along_mm=CELL, load_across_mm=10.0)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: press(np.nan, 1.0, 1.0, cell_across_mm=1, cell_along_mm=1), "gap_mm"),
        (lambda: press(DOME, -1.0, 1.0, cell_across_mm=1, cell_along_mm=1), "stiffness_kpa_mm"),
        (lambda: press(DOME, 0.0, 1.0, cell_across_mm=1, cell_along_mm=1), "stiffness of the whole bed"),
        (lambda: press(DOME, 1.0, 0.0, cell_across_mm=1, cell_along_mm=1), "load_n"),
        (lambda: press(DOME, 1.0, 1.0, cell_across_mm=0, cell_along_mm=1), "cell_across_mm"),
        (lambda: press(DOME, 1.0, 1.0, cell_across_mm=1, cell_along_mm=0), "cell_along_mm"),
        (lambda: press(DOME, 1.0, 1.0, cell_across_mm=1, cell_along_mm=1, tilt="sideways"), "tilt"),
        (lambda: press(DOME, 1.0, 1.0, cell_across_mm=1, cell_along_mm=1, load_across_mm=np.nan), "load_across_mm"),
        (lambda: series_stiffness_kpa_mm(), "stiffness_kpa_mm"),
        (lambda: series_stiffness_kpa_mm(1.0, -1.0), "stiffness_kpa_mm"),
    ],
)
def test_unusable_input_raises_an_error_that_names_it(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}"):
        call()


def test_layers_in_series_are_softer_than_the_softest_and_nothing_without_one():
    assert series_stiffness_kpa_mm(6.0, 3.0, 2.0) == pytest.approx(1.0)
    assert series_stiffness_kpa_mm([6.0, 0.0], 3.0).tolist() == [2.0, 0.0]
