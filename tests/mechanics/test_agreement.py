"""Agreement of raters against a statistics library, and at its edges."""

import numpy as np
import pandas as pd
import pingouin
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from statsmodels.stats.inter_rater import cohens_kappa as reference_cohen
from statsmodels.stats.inter_rater import fleiss_kappa as reference_fleiss

from pedalwright.agreement import ICC_FORMS, intraclass_correlation
from pedalwright.errors import OutOfRangeError
from pedalwright.kappa import LEVELS, cohen_kappa, count_table, fleiss_kappa, krippendorff_alpha

# names the statistics library gives the six forms
LIBRARY = {
    "1,1": "ICC(1,1)",
    "2,1": "ICC(A,1)",
    "3,1": "ICC(C,1)",
    "1,k": "ICC(1,k)",
    "2,k": "ICC(A,k)",
    "3,k": "ICC(C,k)",
}


def reference_icc(table):
    subjects, raters = table.shape
    data = pd.DataFrame(
        {
            "subject": np.repeat(np.arange(subjects), raters),
            "rater": np.tile(np.arange(raters), subjects),
            "score": table.ravel(),
        }
    )
    return pingouin.intraclass_corr(data, targets="subject", raters="rater", ratings="score").set_index("Type")


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("form", ICC_FORMS)
def test_estimate_and_interval_against_the_library(form, seed):
    rng = np.random.default_rng(seed)
    subjects, raters = 6 + 3 * seed, 2 + seed
    table = (
        rng.normal(size=(subjects, 1)) + 0.3 * rng.normal(size=(1, raters)) + 0.6 * rng.normal(size=(subjects, raters))
    )
    found, expected = intraclass_correlation(table, form), reference_icc(table).loc[LIBRARY[form]]
    assert found.value == pytest.approx(expected["ICC"], abs=1e-9)
    interval = next(expected[name] for name in expected.index if name.startswith("CI95"))
    assert [found.lower, found.upper] == pytest.approx(list(interval), abs=0.0051)  # the library rounds to two places


@given(st.integers(0, 500), st.floats(0.1, 10), st.floats(-50, 50))
def test_unit_and_zero_of_the_scale_do_not_matter(seed, factor, shift):
    table = np.random.default_rng(seed).normal(size=(5, 3))
    for form in ICC_FORMS:
        one = intraclass_correlation(table, form).value
        assume(abs(one) < 50)
        assert intraclass_correlation(factor * table + shift, form).value == pytest.approx(one, rel=1e-5, abs=1e-6)


def test_perfect_agreement_is_one_in_every_form():
    table = np.tile([[1.0], [2.0], [5.0]], (1, 3))
    for form in ICC_FORMS:
        found = intraclass_correlation(table, form)
        assert (found.value, found.lower, found.upper) == pytest.approx((1, 1, 1))


def test_a_rater_who_always_reads_more_hurts_agreement_not_consistency():
    table = np.array([[1.0, 6.0], [2.0, 7.0], [5.0, 10.0]])
    assert intraclass_correlation(table, "3,1").value == pytest.approx(1.0)
    assert intraclass_correlation(table, "2,1").value < 0.5


tables = st.lists(st.lists(st.integers(0, 30), min_size=3, max_size=3), min_size=3, max_size=3)


@pytest.mark.parametrize(("weights", "library"), [("none", None), ("linear", "linear"), ("quadratic", "quadratic")])
@given(table=tables)
def test_cohen_kappa_against_the_library(weights, library, table):
    counts = np.array(table, dtype=float)
    assume(np.count_nonzero(counts.sum(axis=0)) > 1 and np.count_nonzero(counts.sum(axis=1)) > 1)
    expected = reference_cohen(counts, wt=library, return_results=False)
    assert cohen_kappa(counts, weights) == pytest.approx(expected, abs=1e-9)


@given(st.integers(0, 1000))
def test_fleiss_kappa_against_the_library(seed):
    rng = np.random.default_rng(seed)
    counts = rng.multinomial(5, [0.2, 0.3, 0.5], size=8)
    assume(np.count_nonzero(counts.sum(axis=0)) > 1)
    assert fleiss_kappa(counts) == pytest.approx(reference_fleiss(counts), abs=1e-9)


@given(st.integers(0, 1000))
def test_alpha_of_two_raters_tends_to_scotts_pi(seed):
    """Nominal alpha without gaps is 1 − (1 − π)(1 − 1/n), n values in all: worked out from both definitions."""
    rng = np.random.default_rng(seed)
    table = rng.integers(0, 3, (2, 12))
    assume(len(np.unique(table)) > 1)
    shares = np.bincount(table.ravel(), minlength=3) / table.size
    chance = np.sum(shares**2)
    pi = (np.mean(table[0] == table[1]) - chance) / (1 - chance)
    assert krippendorff_alpha(table) == pytest.approx(1 - (1 - pi) * (1 - 1 / table.size))


@given(st.integers(0, 1000), st.floats(0.1, 10), st.floats(-20, 20))
def test_interval_alpha_ignores_unit_and_zero(seed, factor, shift):
    table = np.random.default_rng(seed).normal(size=(3, 6))
    one = krippendorff_alpha(table, "interval")
    assert krippendorff_alpha(factor * table + shift, "interval") == pytest.approx(one, abs=1e-7)


def test_order_alone_counts_on_the_ordinal_level():
    table = np.array([[1, 2, 3, 4, 1, 2], [1, 2, 4, 4, 2, 2]], dtype=float)
    assert krippendorff_alpha(table**3, "ordinal") == pytest.approx(krippendorff_alpha(table, "ordinal"))


@pytest.mark.parametrize("level", LEVELS)
def test_alpha_of_perfect_agreement_is_one_whatever_the_gaps(level):
    table = [[1.0, 2.0, 3.0, float("nan")], [1.0, 2.0, float("nan"), 5.0], [1.0, float("nan"), 3.0, 5.0]]
    assert krippendorff_alpha(table, level) == pytest.approx(1.0)


def test_counting_two_raters():
    table = count_table(["a", "b", "b", "a"], ["a", "b", "a", "a"], ["a", "b"])
    assert table.tolist() == [[2, 0], [1, 1]]
    assert cohen_kappa(table) == pytest.approx(0.5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: intraclass_correlation([1.0, 2.0]),
        lambda: intraclass_correlation([[1.0], [2.0]]),
        lambda: intraclass_correlation([[1.0, 2.0]]),
        lambda: intraclass_correlation([[1.0, float("nan")], [2.0, 2.0]]),
        lambda: intraclass_correlation([[1.0, 1.0], [1.0, 1.0]]),
        lambda: intraclass_correlation([[1.0, 2.0], [2.0, 2.0]], "4,1"),
        lambda: intraclass_correlation([[1.0, 2.0], [2.0, 2.0]], confidence=1.0),
        lambda: cohen_kappa([[1, 2, 3], [4, 5, 6]]),
        lambda: cohen_kappa([[5]]),
        lambda: cohen_kappa([[0, 0], [0, 0]]),
        lambda: cohen_kappa([[5, 0], [0, 0]]),
        lambda: cohen_kappa([[5, -1], [0, 0]]),
        lambda: cohen_kappa([[5, 1], [1, 5]], "cubic"),
        lambda: count_table(["a"], ["a", "b"], ["a", "b"]),
        lambda: count_table(["a"], ["c"], ["a", "b"]),
        lambda: fleiss_kappa([[3, 0], [1, 1]]),
        lambda: fleiss_kappa([[1, 0], [0, 1]]),
        lambda: fleiss_kappa([[3, 0], [3, 0]]),
        lambda: krippendorff_alpha([1.0, 2.0]),
        lambda: krippendorff_alpha([[1.0, 2.0], [1.0, 2.0]], "named"),
        lambda: krippendorff_alpha([[1.0, 1.0], [1.0, 1.0]]),
        lambda: krippendorff_alpha([[1.0, float("nan")], [float("nan"), 2.0]]),
        lambda: krippendorff_alpha([[1.0, float("inf")], [1.0, 2.0]]),
        lambda: krippendorff_alpha([[-1.0, 2.0], [1.0, 2.0]], "ratio"),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()
