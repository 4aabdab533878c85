"""Frame, crank angle, sectors and joint-angle conventions."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.conventions import (
    CONVENTIONS,
    crank_direction,
    flexion_from_included_deg,
    included_from_flexion_deg,
    opposite_crank_angle_deg,
    pedal_place_mm,
    sector_of,
    tangent_direction,
    whole_number,
)
from pedalwright.errors import OutOfRangeError

angles = st.floats(-720, 720)


@pytest.mark.parametrize(
    ("crank", "place", "tangent"),
    [(0, (0, 1), (1, 0)), (90, (1, 0), (0, -1)), (180, (0, -1), (-1, 0)), (270, (-1, 0), (0, 1))],
)
def test_top_front_bottom_back(crank, place, tangent):
    np.testing.assert_allclose(crank_direction(crank), place, atol=1e-15)
    np.testing.assert_allclose(tangent_direction(crank), tangent, atol=1e-15)
    np.testing.assert_allclose(pedal_place_mm(crank, 170), np.multiply(170, place), atol=1e-12)


@given(angles)
def test_the_tangent_is_the_derivative_of_the_place(crank):
    step = 1e-4
    moved = (crank_direction(crank + step) - crank_direction(crank - step)) / np.radians(2 * step)
    np.testing.assert_allclose(tangent_direction(crank), moved, atol=1e-9)


def test_places_broadcast_over_cranks_and_angles():
    assert pedal_place_mm(np.arange(4) * 90.0, np.array([[165.0], [170.0]])).shape == (2, 4, 2)


@given(angles)
def test_the_opposite_of_the_opposite_is_the_same_crank_angle(crank):
    twice = opposite_crank_angle_deg(opposite_crank_angle_deg(crank))
    np.testing.assert_allclose(crank_direction(twice), crank_direction(crank), atol=1e-9)
    np.testing.assert_allclose(crank_direction(opposite_crank_angle_deg(crank)), -crank_direction(crank), atol=1e-9)


# Included angles 145° and 155° are flexions of 35° and 25°; a straight leg has 0° (definition, exact).
@pytest.mark.parametrize(("included", "flexion"), [(145, 35), (155, 25), (180, 0), (90, 90)])
def test_flexion_is_180_less_the_included_angle(included, flexion):
    assert flexion_from_included_deg(included) == flexion
    assert included_from_flexion_deg(flexion) == included


@pytest.mark.parametrize(
    ("function", "value"),
    [
        (flexion_from_included_deg, -1),
        (flexion_from_included_deg, 361),
        (included_from_flexion_deg, 181),
        (included_from_flexion_deg, -181),
    ],
)
def test_impossible_angles_are_refused(function, value):
    with pytest.raises(OutOfRangeError):
        function(value)


def test_sectors_are_counted_from_one_and_own_the_edge_they_begin_with():
    assert sector_of([0, 22.5, 359.999, 360], 16).tolist() == [1, 2, 16, 1]
    assert sector_of(-1, 4) == 4
    assert sector_of([315, 314, 0], 4, first_edge_deg=315).tolist() == [1, 4, 1]


@given(angles, st.integers(1, 48), st.floats(-360, 360))
def test_every_angle_lies_in_one_of_the_sectors(crank, count, first):
    assert 1 <= sector_of(crank, count, first) <= count


@pytest.mark.parametrize("count", [0, -1, 1.5, True, None, "4"])
def test_counts_are_whole_numbers(count):
    with pytest.raises(OutOfRangeError, match="whole number"):
        whole_number("sector_count", count)


def test_numpy_integers_are_whole_numbers():
    assert whole_number("sector_count", np.int64(3)) == 3


def test_the_conventions_can_be_read_aloud():
    assert all(text.endswith(".") for text in CONVENTIONS.values())
    assert "180" in CONVENTIONS["left crank"]
