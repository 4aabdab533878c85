"""Errors say what was received, what is allowed and what to do."""

import numpy as np
import pytest

from pedalwright.errors import OutOfRangeError, PedalwrightError, UnreachablePositionError, checked


def test_every_error_is_a_value_error_of_this_package():
    assert issubclass(OutOfRangeError, PedalwrightError)
    assert issubclass(UnreachablePositionError, PedalwrightError)
    assert issubclass(PedalwrightError, ValueError)


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf, [1.0, np.nan], None])
def test_what_is_not_a_finite_number_is_refused(value):
    with pytest.raises(OutOfRangeError, match="crank_length_mm"):
        checked("crank_length_mm", value)


def test_text_is_refused_in_plain_words():
    with pytest.raises(OutOfRangeError, match="received 'long'; allowed: numbers; measure it"):
        checked("crank_length_mm", "long", advice="measure it")


def test_message_names_value_range_and_advice():
    with pytest.raises(
        OutOfRangeError, match=r"^crank_length_mm: received -3; allowed: at least 50 and at most 300; give millimetres$"
    ):
        checked("crank_length_mm", [170, -3], at_least=50, at_most=300, advice="give millimetres")


@pytest.mark.parametrize(
    ("limits", "good", "bad"),
    [
        ({"at_least": 0}, 0, -1e-9),
        ({"at_most": 10}, 10, 10.001),
        ({"above": 0}, 1e-9, 0),
        ({"below": 10}, 9.999, 10),
    ],
)
def test_ends_of_the_range(limits, good, bad):
    assert checked("x", good, **limits) == good
    with pytest.raises(OutOfRangeError):
        checked("x", bad, **limits)


def test_shape_and_values_are_kept():
    given = [[1, 2], [3, 4]]
    result = checked("x", given)
    assert result.dtype == np.float64
    assert result.tolist() == given
