"""JCGM 101:2008 (GUM supplement 1), clause 9.2: the additive model of four inputs. Values from memory."""

import pytest

from pedalwright.monte_carlo import propagate_by_draws
from pedalwright.uncertainty import propagate


def additive(a, b, c, d):
    return a + b + c + d


def test_9_2_2_four_normal_inputs():
    found = propagate_by_draws(additive, [0.0] * 4, [1.0] * 4, draw_count=400_000, rng=9)
    assert found.standard_uncertainty == pytest.approx(2.00, abs=0.01)
    assert [found.lower, found.upper] == pytest.approx([-3.92, 3.92], abs=0.03)


def test_9_2_3_four_rectangular_inputs_of_the_same_width():
    """Closed form of the sum of four rectangles: 4√3 − 2√3·(24·0.025)^¼ = 3.8794."""
    found = propagate_by_draws(additive, [0.0] * 4, [1.0] * 4, shapes="rectangular", draw_count=400_000, rng=9)
    assert found.standard_uncertainty == pytest.approx(2.00, abs=0.01)
    assert [found.lower, found.upper] == pytest.approx([-3.8794, 3.8794], abs=0.02)


def test_9_2_4_one_rectangular_input_ten_times_wider():
    """First order gives ±19.9; drawing gives ±17.0, because one rectangle rules."""
    spreads = [1.0, 1.0, 1.0, 10.0]
    found = propagate_by_draws(additive, [0.0] * 4, spreads, shapes="rectangular", draw_count=400_000, rng=9)
    assert found.standard_uncertainty == pytest.approx(10.15, abs=0.05)
    assert [found.lower, found.upper] == pytest.approx([-17.0, 17.0], abs=0.1)
    assert 1.96 * propagate(additive, [0.0] * 4, spreads).standard_uncertainty == pytest.approx(19.9, abs=0.05)
