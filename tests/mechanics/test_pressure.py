"""Pressure maps: units, force, centre of pressure, regions, left and right."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from pedalwright.errors import OutOfRangeError
from pedalwright.pressure import PressureMap, cells_of, force_against_expected, force_n, pressure_map
from pedalwright.pressure_summary import (
    centre_of_pressure_mm,
    contact_area_mm2,
    foot_regions,
    hot_spot_mm,
    left_right_force_n,
    peak_pressure_kpa,
    region_shares,
)

grids = arrays(float, (6, 5), elements=st.floats(0, 500))
loaded = grids.filter(lambda grid: grid.sum() > 1)


@pytest.mark.parametrize(
    ("unit", "kpa"),
    [("kpa", 1.0), ("pa", 0.001), ("n_cm2", 10.0), ("mmhg", 0.1333224), ("psi", 6.8947573)],
)
def test_units_by_definition(unit, kpa):
    found = pressure_map([[2.0]], 10, 10, unit=unit)
    assert found.pressure_kpa == pytest.approx(np.array([[2 * kpa]]), rel=1e-6)


def test_force_is_pressure_times_area():
    """50 kPa on 40 cells of 1 cm² is 50 · 4000 mm² = 200 N."""
    assert force_n(pressure_map(np.full((8, 5), 50.0), 10, 10)) == pytest.approx(200.0)
    assert force_n(pressure_map(np.full((8, 5), 50.0), 5, 10)) == pytest.approx(100.0)


@given(loaded, st.floats(0.1, 3))
def test_force_scales_and_the_centre_of_pressure_does_not(grid, factor):
    one, other = pressure_map(grid, 8, 6), pressure_map(factor * grid, 8, 6)
    assert force_n(other) == pytest.approx(factor * force_n(one))
    assert centre_of_pressure_mm(other) == pytest.approx(centre_of_pressure_mm(one), abs=1e-6)


@given(loaded)
def test_mirror_of_the_map_mirrors_everything(grid):
    one, other = pressure_map(grid, 8, 6), pressure_map(grid[:, ::-1], 8, 6)
    across, along = centre_of_pressure_mm(one)
    assert centre_of_pressure_mm(other) == pytest.approx([-across, along], abs=1e-6)
    left, right = left_right_force_n(one)
    assert np.array(left_right_force_n(other)) == pytest.approx(np.array([right, left]), abs=1e-9)


@given(loaded, st.floats(-15, 15))
def test_both_sides_of_any_midline_make_the_whole(grid, midline):
    found = pressure_map(grid, 8, 6)
    assert sum(left_right_force_n(found, midline)) == pytest.approx(float(force_n(found)))


def test_a_cut_cell_counts_for_both_sides():
    found = pressure_map([[0.0, 100.0, 0.0]], 10, 10)
    assert left_right_force_n(found, 2.5) == pytest.approx((7.5, 2.5))
    assert left_right_force_n(found, -20.0) == pytest.approx((0.0, 10.0))
    assert left_right_force_n(found, 20.0) == pytest.approx((10.0, 0.0))


def test_centre_of_two_forces_is_that_of_a_lever():
    grid = np.zeros((5, 5))
    grid[0, 0], grid[4, 4] = 100.0, 300.0
    assert centre_of_pressure_mm(pressure_map(grid, 10, 6)) == pytest.approx([10.0, 6.0])


def test_places_grow_to_the_right_and_forward():
    grid = np.zeros((3, 4))
    grid[2, 3] = 50.0
    found = pressure_map(grid, 10, 6)
    assert hot_spot_mm(found).tolist() == [15.0, 6.0]
    assert centre_of_pressure_mm(found).tolist() == [15.0, 6.0]


def test_contact_area_peak_and_region():
    grid = np.array([[0.0, 4.0, 9.0], [0.0, 5.0, 20.0]])
    found = pressure_map(grid, 10, 5)
    region = np.array([[True, True, False], [True, True, False]])
    assert contact_area_mm2(found) == 200
    assert contact_area_mm2(found, 5.0) == 100
    assert contact_area_mm2(found, 0.0, region) == 100
    assert peak_pressure_kpa(found) == 20
    assert peak_pressure_kpa(found, region) == 5
    assert force_n(found, region) == pytest.approx(9 * 50 / 1000)


def test_many_maps_at_once():
    grid = np.random.default_rng(1).uniform(0, 100, (4, 6, 5))
    found = pressure_map(grid, 8, 6)
    third = pressure_map(grid[2], 8, 6)
    assert centre_of_pressure_mm(found)[2] == pytest.approx(centre_of_pressure_mm(third))
    assert hot_spot_mm(found)[2].tolist() == hot_spot_mm(third).tolist()
    assert left_right_force_n(found)[0][2] == pytest.approx(left_right_force_n(third)[0])
    assert contact_area_mm2(found, [0.0, 50.0, 80.0, 90.0]).shape == (4,)


@given(st.integers(4, 30), st.integers(2, 9), st.sampled_from(["right", "left"]))
def test_foot_regions_cover_the_grid_without_overlap(rows, columns, side):
    regions = foot_regions(PressureMap(np.ones((rows, columns)), 8.0, 8.0), side)
    assert len(regions) == 8
    assert np.all(sum(region.astype(int) for region in regions.values()) == 1)


def test_inner_half_lies_toward_the_other_foot():
    found = pressure_map(np.ones((10, 4)), 10, 10)
    right, left = foot_regions(found, "right"), foot_regions(found, "left")
    assert right["inner heel"][0].tolist() == [True, True, False, False]
    assert left["inner heel"][0].tolist() == [False, False, True, True]
    assert right["outer toes"][9].tolist() == [False, False, True, True]


def test_regions_are_cut_where_they_are_told():
    regions = foot_regions(pressure_map(np.ones((10, 2)), 10, 10), "right", bounds=(0.3, 0.6, 0.8))
    lengths = [int((regions[f"inner {name}"] | regions[f"outer {name}"])[:, 0].sum()) for name in
               ("heel", "midfoot", "forefoot", "toes")]  # fmt: skip
    assert lengths == [3, 3, 2, 2]


@given(loaded)
def test_shares_of_all_regions_make_one(grid):
    found = pressure_map(grid, 8, 6)
    assert sum(region_shares(found, foot_regions(found, "left")).values()) == pytest.approx(1.0)


def test_force_beside_a_scale():
    found = pressure_map(np.full((10, 10), 40.0), 10, 10)  # 400 N
    assert force_against_expected(found, 500.0) == pytest.approx(0.8)
    with pytest.raises(OutOfRangeError, match="unit of the pressure"):
        force_against_expected(found, 4000.0)
    with pytest.raises(OutOfRangeError, match="unit of the pressure"):
        force_against_expected(found, 40.0)
    assert force_against_expected(found, 4000.0, largest_ratio=20.0) == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: pressure_map([1.0, 2.0], 10, 10), "values"),
        (lambda: pressure_map(np.zeros((0, 3)), 10, 10), "values"),
        (lambda: pressure_map([[-1.0]], 10, 10), "values: .*zero the mat"),
        (lambda: pressure_map([[np.nan]], 10, 10), "values"),
        (lambda: pressure_map([[80_000.0]], 10, 10), "peak pressure in kPa: .*name the unit"),
        (lambda: pressure_map([[1.0]], 0, 10), "cell_across_mm"),
        (lambda: pressure_map([[1.0]], 10, 0), "cell_along_mm"),
        (lambda: pressure_map([[1.0]], 10, 10, unit="mm"), "unit"),
        (lambda: pressure_map([[1.0]], 10, 10, unit="stone"), "unit"),
        (lambda: cells_of(pressure_map([[1.0]], 10, 10), np.ones((2, 1), bool)), "region"),
        (lambda: centre_of_pressure_mm(pressure_map([[0.0]], 10, 10)), "load on the map"),
        (lambda: hot_spot_mm(pressure_map([[0.0]], 10, 10)), "load on the map"),
        (lambda: region_shares(pressure_map([[0.0]], 10, 10), {}), "load on the map"),
        (lambda: contact_area_mm2(pressure_map([[1.0]], 10, 10), -1.0), "threshold_kpa"),
        (lambda: left_right_force_n(pressure_map([[1.0]], 10, 10), np.inf), "midline_mm"),
        (lambda: foot_regions(pressure_map([[1.0]], 10, 10), "inner"), "side"),
        (lambda: foot_regions(pressure_map([[1.0]], 10, 10), "left", (0.6, 0.3, 0.8)), "steps of the bounds"),
        (lambda: force_against_expected(pressure_map([[1.0]], 10, 10), 0.0), "expected_force_n"),
        (lambda: force_against_expected(pressure_map([[1.0]], 10, 10), 1.0, 1.0), "largest_ratio"),
    ],
)
def test_unusable_input_raises_an_error_that_names_it(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}"):
        call()
