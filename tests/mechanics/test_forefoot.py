"""Forefoot tilt and wedges: signs, round trips, the wrong edge."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.forefoot import (
    FOREFOOT_PREVALENCE,
    forefoot_class,
    forefoot_tilt_deg,
    tilt_left_deg,
    wedge_angle_deg,
    wedge_edge,
    wedge_height_mm,
)

width = st.floats(60, 120)
height = st.floats(0, 10)
tilt = st.floats(-12, 12)


@given(st.floats(-10, 10), st.floats(-10, 10), width)
def test_tilt_turns_its_sign_with_the_edges_and_ignores_the_level(inner, outer, wide):
    found = forefoot_tilt_deg(inner, outer, wide)
    assert forefoot_tilt_deg(outer, inner, wide) == pytest.approx(-found, abs=1e-9)
    assert forefoot_tilt_deg(inner + 5, outer + 5, wide) == pytest.approx(found, abs=1e-9)


def test_inner_edge_higher_is_varus():
    assert forefoot_tilt_deg(90.0, 0.0, 90.0) == pytest.approx(45.0)
    assert forefoot_class(forefoot_tilt_deg(5.0, 0.0, 90.0)) == "varus"
    assert forefoot_class(forefoot_tilt_deg(0.0, 5.0, 90.0)) == "valgus"


def test_neutral_band_and_its_ends():
    assert forefoot_class([-1.1, -1.0, 0.0, 1.0, 1.1]).tolist() == ["valgus", "neutral", "neutral", "neutral", "varus"]
    assert forefoot_class([0.1, -0.1, 0.0], 0.0).tolist() == ["varus", "valgus", "neutral"]
    assert forefoot_class(2.5, [2.0, 3.0]).tolist() == ["varus", "neutral"]


@given(height, width)
def test_wedge_height_and_angle_are_inverse(high, wide):
    assert wedge_height_mm(wedge_angle_deg(high, wide), wide) == pytest.approx(high, abs=1e-9)


@given(st.floats(0.5, 10), width)
def test_a_narrow_shoe_makes_the_same_wedge_steeper(high, wide):
    assert wedge_angle_deg(high, wide) > wedge_angle_deg(high, wide + 5)


@given(st.floats(1.5, 12), height, width)
def test_the_right_edge_fills_and_the_wrong_edge_adds(varus, high, wide):
    angle = float(wedge_angle_deg(high, wide))
    assert tilt_left_deg(varus, high, wide, "inner") == pytest.approx(varus - angle)
    assert tilt_left_deg(varus, high, wide, "outer") == pytest.approx(varus + angle)
    assert wedge_edge(varus) == "inner"
    assert wedge_edge(-varus) == "outer"


@given(tilt, width)
def test_a_wedge_of_the_tilts_own_angle_leaves_nothing(value, wide):
    high = wedge_height_mm(abs(value), wide)
    edge = "inner" if value >= 0 else "outer"
    assert tilt_left_deg(value, high, wide, edge) == pytest.approx(0, abs=1e-9)


@given(tilt, height, width)
def test_mirror_of_varus_is_valgus(value, high, wide):
    inner = tilt_left_deg(value, high, wide, "inner")
    assert tilt_left_deg(-value, high, wide, "outer") == pytest.approx(-inner, abs=1e-9)


def test_no_wedge_for_a_neutral_forefoot():
    assert wedge_edge([0.5, 1.0, 1.01]).tolist() == ["none", "none", "inner"]
    assert wedge_edge(1.5, 2.0) == "none"


def test_many_shoes_at_once():
    assert tilt_left_deg(np.zeros(3), [1.0, 2.0, 3.0], 90.0, "outer").shape == (3,)


def test_prevalence_figures_stand_side_by_side_and_contradict_each_other():
    shares = [one.varus_pct for one in FOREFOOT_PREVALENCE.values()]
    assert len(shares) == 5
    assert max(shares) - min(shares) > 80
    assert all(one.source and one.sample and one.known_from for one in FOREFOOT_PREVALENCE.values())


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: forefoot_tilt_deg("high", 0.0, 90.0), "inner_height_mm"),
        (lambda: forefoot_tilt_deg(0.0, np.inf, 90.0), "outer_height_mm"),
        (lambda: forefoot_tilt_deg(1.0, 0.0, 0.0), "width_mm"),
        (lambda: forefoot_class(np.nan), "forefoot_tilt_deg"),
        (lambda: forefoot_class(1.0, -0.1), "neutral_within_deg"),
        (lambda: wedge_angle_deg(-0.1, 90.0), "wedge_height_mm"),
        (lambda: wedge_angle_deg(1.0, 0.0), "width_mm"),
        (lambda: wedge_height_mm(-0.1, 90.0), "wedge_angle_deg"),
        (lambda: wedge_height_mm(45.0, 90.0), "wedge_angle_deg"),
        (lambda: wedge_height_mm(1.0, 0.0), "width_mm"),
        (lambda: tilt_left_deg(np.nan, 1.0, 90.0, "inner"), "forefoot_tilt_deg"),
        (lambda: tilt_left_deg(1.0, 1.0, 90.0, "left"), "edge"),
    ],
)
def test_unusable_input_raises_an_error_that_names_it(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}: received .* allowed"):
        call()


def test_small_widths_are_allowed():
    assert forefoot_tilt_deg(0.5, 0.0, 0.5) == pytest.approx(45.0)
    assert wedge_angle_deg(0.5, 0.5) == pytest.approx(45.0)
    assert wedge_height_mm(30.0, 0.5) == pytest.approx(0.5 * np.tan(np.radians(30)))
