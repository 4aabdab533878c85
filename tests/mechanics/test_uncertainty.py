"""Propagation of uncertainty: against an independent library, against drawing, and at its edges."""

import GTC
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pedalwright.coverage import coverage_factor, effective_degrees_of_freedom
from pedalwright.errors import OutOfRangeError
from pedalwright.monte_carlo import propagate_by_draws
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke
from pedalwright.uncertainty import propagate, summarise_readings

READINGS = [[12.1, 12.4, 11.9, 12.2, 12.3], [3.01, 3.05, 2.97, 3.02, 3.02]]


def knee_at_bottom(saddle_height, thigh):
    leg = Leg(thigh, 430.5, 150.0)
    return solve_stroke(leg, Position(saddle_height, 200.0, 170.0), 180.0).knee_flexion_deg[..., 0]


def test_agrees_with_an_independent_library_on_correlated_readings():
    a, b = GTC.ta.multi_estimate_real(READINGS)
    quotient, product = a / b, a * GTC.exp(b / 3)
    summary = summarise_readings(READINGS)
    found = propagate(
        lambda x, y: (x / y, x * np.exp(y / 3)), summary.mean, summary.standard_uncertainty, summary.correlation
    )
    assert found.value == pytest.approx([quotient.x, product.x])
    assert found.standard_uncertainty == pytest.approx([quotient.u, product.u], rel=1e-7)
    assert found.correlation[0, 1] == pytest.approx(GTC.get_correlation(quotient, product), rel=1e-6)


def test_degrees_of_freedom_agree_with_an_independent_library():
    inputs = [GTC.ureal(0.0, u, df) for u, df in ((3.0, 4), (1.0, 9), (2.0, 2))]
    assert effective_degrees_of_freedom([3.0, 1.0, 2.0], [4, 9, 2]) == pytest.approx(sum(inputs).df)


def test_first_order_and_drawing_agree_on_the_knee_angle():
    values, spreads = [740.0, 428.75], [3.0, 4.0]
    first = propagate(knee_at_bottom, values, spreads)
    drawn = propagate_by_draws(knee_at_bottom, values, spreads, draw_count=20_000, rng=3)
    assert first.standard_uncertainty == pytest.approx(float(drawn.standard_uncertainty), rel=0.03)
    assert first.value == pytest.approx(float(drawn.mean), abs=0.2)  # the model bends a little


def test_drawing_keeps_the_correlation_of_the_inputs():
    correlation = [[1.0, 0.8], [0.8, 1.0]]
    found = propagate_by_draws(lambda a, b: a - b, [0.0, 0.0], [2.0, 2.0], correlation, draw_count=200_000, rng=5)
    assert found.standard_uncertainty == pytest.approx(np.sqrt(4 + 4 - 2 * 0.8 * 4), rel=0.01)


def test_drawing_gives_several_outputs_and_the_same_result_for_the_same_seed():
    model = lambda a, b: (a + b, a * b)  # noqa: E731
    one, two = (propagate_by_draws(model, [1.0, 2.0], [0.1, 0.2], draw_count=500, rng=8) for _ in range(2))
    assert one.draws.shape == (500, 2)
    assert np.array_equal(one.draws, two.draws)
    assert np.all(one.lower < one.upper)


@pytest.mark.parametrize("shape", ["normal", "rectangular", "triangular"])
def test_every_shape_has_the_stated_standard_deviation_and_mean(shape):
    found = propagate_by_draws(lambda a: a, [5.0], [2.0], shapes=shape, draw_count=200_000, rng=2)
    assert found.standard_uncertainty == pytest.approx(2.0, rel=0.01)
    assert found.mean == pytest.approx(5.0, abs=0.02)


@pytest.mark.parametrize(("shape", "end"), [("rectangular", 3**0.5), ("triangular", 6**0.5)])
def test_bounded_shapes_end_where_they_must(shape, end):
    found = propagate_by_draws(lambda a: a, [0.0], [1.0], shapes=shape, draw_count=200_000, rng=2)
    assert found.draws.max() <= end
    assert found.draws.max() == pytest.approx(end, rel=0.02)


@settings(max_examples=40)
@given(
    st.lists(st.floats(-5, 5), min_size=3, max_size=3),
    st.lists(st.floats(0, 2), min_size=3, max_size=3),
    st.floats(-0.4, 0.9),
)
def test_linear_models_are_exact(slopes, spreads, shared):
    matrix = np.full((3, 3), shared) + (1 - shared) * np.eye(3)
    found = propagate(lambda *x: sum(c * v for c, v in zip(slopes, x, strict=True)), [1.0, 2.0, 3.0], spreads, matrix)
    parts = np.array(slopes) * spreads
    assert found.sensitivity == pytest.approx(slopes, abs=1e-7)
    assert found.standard_uncertainty == pytest.approx(np.sqrt(max(parts @ matrix @ parts, 0.0)), abs=1e-7)


def test_one_call_serves_many_riders_and_many_crank_angles():
    def curve(height):
        return solve_stroke(Leg(428.75, 430.5, 150.0), Position(height, 200.0, 170.0)).knee_flexion_deg

    heights = np.array([700.0, 720.0, 740.0])
    found = propagate(curve, [heights], [2.0])
    assert found.standard_uncertainty.shape == (3, 72)
    single = propagate(curve, [720.0], [2.0])
    assert found.standard_uncertainty[1] == pytest.approx(single.standard_uncertainty, rel=1e-6)


def test_an_exact_input_adds_no_uncertainty_but_keeps_its_slope():
    found = propagate(lambda a, b: a * b, [3.0, 4.0], [0.0, 0.5])
    assert found.standard_uncertainty == pytest.approx(1.5)
    assert found.sensitivity == pytest.approx([4.0, 3.0])


def test_single_quantity_of_readings():
    summary = summarise_readings([1.0, 2.0, 3.0])
    assert summary.correlation.tolist() == [[1.0]]
    assert summary.standard_uncertainty == pytest.approx(1 / np.sqrt(3))


def test_constant_readings_have_no_correlation_to_speak_of():
    summary = summarise_readings([[1.0, 1.0, 1.0], [1.0, 2.0, 3.0]])
    assert summary.correlation.tolist() == [[1.0, 0.0], [0.0, 1.0]]


@pytest.mark.parametrize(
    "call",
    [
        lambda: summarise_readings([1.0]),
        lambda: summarise_readings([1.0, float("nan")]),
        lambda: propagate(lambda a: a, [1.0], [1.0, 2.0]),
        lambda: propagate(lambda: 0.0, [], []),
        lambda: propagate(lambda a: a, [1.0], [-1.0]),
        lambda: propagate(lambda a, b: a + b, [1.0, 1.0], [1.0, 1.0], [[1.0, 0.5], [0.4, 1.0]]),
        lambda: propagate(lambda a, b: a + b, [1.0, 1.0], [1.0, 1.0], [[1.0, 1.5], [1.5, 1.0]]),
        lambda: propagate(lambda a, b: a + b, [1.0, 1.0], [1.0, 1.0], [[0.9, 0.0], [0.0, 1.0]]),
        lambda: propagate(lambda *x: sum(x), [1.0] * 3, [1.0] * 3, [[1, 0.9, -0.9], [0.9, 1, 0.9], [-0.9, 0.9, 1]]),
        lambda: propagate_by_draws(lambda a: a, [1.0], [1.0], shapes="round"),
        lambda: propagate_by_draws(lambda a: a, [1.0], [1.0], shapes=["normal", "normal"]),
        lambda: propagate_by_draws(lambda a: a, [1.0], [1.0], coverage=1.0),
        lambda: propagate_by_draws(lambda a: a, [1.0], [1.0], draw_count=5),
        lambda: propagate_by_draws(
            lambda a, b: a + b, [1.0, 1.0], [1.0, 1.0], [[1.0, 0.5], [0.5, 1.0]], shapes="rectangular"
        ),
        lambda: coverage_factor(0.0),
        lambda: coverage_factor(0.95, 0),
        lambda: effective_degrees_of_freedom([1.0, 2.0], [3]),
        lambda: effective_degrees_of_freedom([0.0, 0.0], [3, 3]),
        lambda: effective_degrees_of_freedom([1.0], [0]),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()


def test_known_uncertainties_have_infinite_degrees_of_freedom():
    assert effective_degrees_of_freedom([1.0, 1.0], [np.inf, np.inf]) == np.inf
