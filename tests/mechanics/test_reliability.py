"""Reliability of marks against statistics libraries, and at its edges."""

import numpy as np
import pandas as pd
import pingouin
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from pedalwright.errors import OutOfRangeError
from pedalwright.reliability import (
    cronbach_alpha,
    item_difficulty,
    item_discrimination,
    kr20,
    kr21,
    livingston_k2,
)

seeds = st.integers(0, 2000)


def answers(seed, persons=12, items=5):
    rng = np.random.default_rng(seed)
    skill = rng.normal(size=(persons, 1))
    return (skill + rng.normal(size=(persons, items)) > rng.normal(size=items)).astype(float)


@given(seeds)
def test_alpha_against_the_library(seed):
    table = np.random.default_rng(seed).normal(size=(8, 4))
    assert cronbach_alpha(table) == pytest.approx(pingouin.cronbach_alpha(pd.DataFrame(table))[0], abs=1e-9)


@given(seeds)
def test_formula_20_is_alpha_and_never_below_formula_21(seed):
    table = answers(seed)
    assume(table.sum(axis=1).var() > 0)
    assert kr20(table) == pytest.approx(cronbach_alpha(table))
    assert kr21(table) <= kr20(table) + 1e-12


def test_formulas_agree_for_equally_hard_items():
    table = np.array([[1, 1, 0], [1, 0, 1], [0, 1, 1], [1, 1, 1], [0, 0, 0], [0, 0, 0.0]])
    assert kr21(table) == pytest.approx(kr20(table))


@given(seeds)
def test_discrimination_is_the_point_biserial_correlation(seed):
    table = answers(seed)
    whole, rest = item_discrimination(table, corrected=False), item_discrimination(table)
    for number in range(table.shape[1]):
        item, score = table[:, number], table.sum(axis=1)
        if item.std() > 0:
            assert whole[number] == pytest.approx(stats.pointbiserialr(item, score)[0])
            if (score - item).std() > 0:
                assert rest[number] == pytest.approx(stats.pointbiserialr(item, score - item)[0])
        else:
            assert whole[number] == rest[number] == 0


def test_point_biserial_by_hand():
    """0, 0, 0, 1, 1, 1, 1 against 0 to 6: √3/2."""
    score = np.arange(7.0)
    item = np.array([0, 0, 0, 1, 1, 1, 1.0])
    assert item_discrimination(np.column_stack([item, score]))[0] == pytest.approx(np.sqrt(3) / 2)


def test_difficulty_is_the_share_of_the_marks():
    assert item_difficulty([[2, 0], [1, 3], [0, 3]], [2, 3]) == pytest.approx([0.5, 2 / 3])


@given(st.floats(0, 1), st.floats(0.1, 20), st.floats(0, 100), st.floats(0, 100))
def test_decisions_are_at_least_as_dependable_as_marks(reliability, spread, mean, cut):
    found = float(livingston_k2(reliability, spread, mean, cut))
    assert reliability - 1e-12 <= found <= 1
    assert livingston_k2(reliability, spread, mean, 2 * mean - cut) == pytest.approx(found)


@pytest.mark.parametrize(
    "call",
    [
        lambda: cronbach_alpha([1.0, 2.0]),
        lambda: cronbach_alpha([[1.0, 2.0]]),
        lambda: cronbach_alpha([[1.0], [2.0]]),
        lambda: cronbach_alpha([[1.0, 2.0], [2.0, 1.0]]),
        lambda: cronbach_alpha([[1.0, float("nan")], [2.0, 1.0]]),
        lambda: kr20([[1, 2], [0, 1]]),
        lambda: kr21([[1, 0], [0, 1]]),
        lambda: kr21([[0.5, 0], [0, 1]]),
        lambda: item_difficulty([[2, 0], [1, 3]], [1, 3]),
        lambda: item_difficulty([[2, 0], [1, 3]], 0),
        lambda: livingston_k2(1.1, 5, 30, 25),
        lambda: livingston_k2(0.8, -5, 30, 25),
        lambda: livingston_k2(0.8, 0, 30, 30),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()
