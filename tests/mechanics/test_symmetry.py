"""Left against right: mirror symmetry, scaling, and the places where an index breaks."""

import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.symmetry import (
    SYMMETRY_INDICES,
    UnsteadyIndexWarning,
    asymmetry_pct,
    difference_of_sides,
    log_ratio_pct,
    right_share_pct,
    shortfall_pct,
    symmetry_angle_pct,
    symmetry_index_pct,
)

positive = st.floats(0.01, 1e4)
MIRRORED = [symmetry_index_pct, shortfall_pct, log_ratio_pct, symmetry_angle_pct, difference_of_sides]


@pytest.mark.parametrize("index", MIRRORED)
@given(right=positive, left=positive)
def test_swapping_the_sides_only_changes_the_sign(index, right, left):
    assert index(right, left) == pytest.approx(-index(left, right), abs=1e-9)


@given(positive, positive)
def test_shares_of_both_sides_make_a_hundred(right, left):
    assert right_share_pct(right, left) + right_share_pct(left, right) == pytest.approx(100)


@pytest.mark.parametrize("name", SYMMETRY_INDICES)
@given(right=positive, left=positive, factor=st.floats(0.1, 10))
def test_the_unit_does_not_matter(name, right, left, factor):
    scaled = asymmetry_pct(factor * right, factor * left, name)
    assert scaled == pytest.approx(asymmetry_pct(right, left, name), abs=1e-6)


@given(positive, positive)
def test_index_is_twice_the_difference_of_the_shares(right, left):
    shares = right_share_pct(right, left) - right_share_pct(left, right)
    assert symmetry_index_pct(right, left) == pytest.approx(2 * shares, abs=1e-9)


@given(positive, positive)
def test_all_indices_agree_on_the_larger_side(right, left):
    signs = {np.sign(round(float(index(right, left)), 9)) for index in MIRRORED[:4]}
    signs.add(np.sign(round(float(right_share_pct(right, left)) - 50, 9)))
    if abs(right - left) > 1e-6 * max(right, left):
        assert len(signs) == 1


@given(st.floats(-100, 100), st.floats(-100, 100))
def test_symmetry_angle_stays_bounded_for_any_sign(right, left):
    if right != 0 or left != 0:
        assert -100 - 1e-9 <= float(symmetry_angle_pct(right, left)) <= 100 + 1e-9


def test_even_sides_are_even_in_every_index():
    assert [float(asymmetry_pct(7, 7, name)) for name in SYMMETRY_INDICES] == [0, 50, 0, 0, 0]


def test_two_negative_sides_count_like_two_positive_ones():
    assert symmetry_index_pct(-110, -90) == pytest.approx(20.0)
    assert right_share_pct(-110, -90) == pytest.approx(55.0)
    assert symmetry_angle_pct(-110, -90) == pytest.approx(float(symmetry_angle_pct(110, 90)))


@pytest.mark.parametrize("index", [symmetry_index_pct, right_share_pct, shortfall_pct])
@pytest.mark.parametrize(("right", "left"), [(1.0, -1.0), (0.0, 0.0), ([5.0, 2.0], [4.0, -0.1])])
def test_indices_that_would_explode_raise_instead(index, right, left):
    with pytest.raises(OutOfRangeError, match="same sign"):
        index(right, left)


def test_the_error_names_the_pair_that_broke_it():
    with pytest.raises(OutOfRangeError, match=r"received 2 and -0\.1"):
        symmetry_index_pct([5.0, 2.0], [4.0, -0.1])


@pytest.mark.parametrize("call", [lambda: log_ratio_pct(0.0, 1.0), lambda: symmetry_angle_pct([1.0, 0.0], [0.0, 0.0])])
def test_logarithm_and_angle_have_limits_too(call):
    with pytest.raises(OutOfRangeError, match="received"):
        call()


def test_small_values_warn_that_the_index_is_noise():
    with pytest.warns(UnsteadyIndexWarning, match="1 of 2 pairs"):
        symmetry_index_pct([100.0, 3.0], [100.0, 1.0], standard_uncertainty=1.0)


def test_large_values_do_not_warn():
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        symmetry_index_pct(100.0, 90.0, standard_uncertainty=1.0)


def test_unknown_index_lists_the_names():
    with pytest.raises(OutOfRangeError, match="symmetry index, right share"):
        asymmetry_pct(1, 1, "balance")
