"""Statistics of the award against general-purpose libraries, simulation and closed forms."""

import numpy as np
import pandas as pd
import pingouin
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats
from statsmodels.stats.inter_rater import cohens_kappa

from autograde.award.agreement import agreement_table, intraclass_correlation, weighted_kappa
from autograde.award.consistency import decision_consistency
from autograde.award.errors import AwardError
from autograde.award.items import discrimination_interval, item_difficulty, item_discrimination
from autograde.award.marks import Item, MarkTable
from autograde.award.quality import assess_quality
from autograde.award.reliability import cronbach_alpha, feldt_interval, kr20, standard_error_of_measurement


def marks(trainees=40, tasks=9, seed=3):
    rng = np.random.default_rng(seed)
    ability = rng.normal(size=(trainees, 1))
    return np.clip(np.round(5 + 2 * ability + rng.normal(scale=2, size=(trainees, tasks))), 0, 10)


@pytest.mark.parametrize(("trainees", "tasks"), [(12, 4), (40, 9), (200, 30)])
def test_alpha_and_its_interval_agree_with_pingouin(trainees, tasks):
    scores = marks(trainees, tasks)
    value, interval = pingouin.cronbach_alpha(data=pd.DataFrame(scores), ci=0.95)
    found = cronbach_alpha(scores)
    assert found.value == pytest.approx(value, abs=1e-12)
    assert (found.low, found.high) == pytest.approx(interval, abs=5e-4)  # the library rounds its interval


def test_the_interval_covers_the_true_value_as_often_as_it_says():
    """400 samples of 5 parallel tasks with error of the same size as ability: true alpha 5·1/(5·1 + 1) = 5/6."""
    rng = np.random.default_rng(8)
    hits = 0
    for _ in range(400):
        scores = rng.normal(size=(25, 1)) + rng.normal(size=(25, 5))
        found = cronbach_alpha(scores, 0.90)
        hits += found.low <= 5 / 6 <= found.high
    assert 0.86 <= hits / 400 <= 0.94


def test_coefficient_20_refuses_part_marks():
    with pytest.raises(AwardError, match="cronbach_alpha"):
        kr20([[1, 0.5], [0, 1]])


@pytest.mark.parametrize(
    "scores", [[[1, 2]], [[1], [2]], [[1, np.nan], [2, 3]], [[1, 2], [2, 1]], [[0.1, 0.2], [0.3, 0.0]]]
)
def test_what_cannot_be_estimated_is_said_in_words(scores):
    with pytest.raises(AwardError):
        cronbach_alpha(scores)


def test_interval_refuses_impossible_input():
    for arguments in [(1.2, 10, 5), (0.8, 1, 5), (0.8, 10, 1)]:
        with pytest.raises(AwardError):
            feldt_interval(*arguments)
    with pytest.raises(AwardError, match="between 0 and 1"):
        feldt_interval(0.8, 10, 5, confidence=95)


def test_difficulty_leaves_out_what_is_not_known():
    assert item_difficulty([[4, np.nan], [2, np.nan], [np.nan, 3]], [4, 6]).tolist() == [0.75, 0.5]
    assert np.isnan(item_difficulty([[np.nan], [np.nan]], [4])[0])


def test_discrimination_is_the_correlation_with_the_rest():
    scores = marks()
    expected = [np.corrcoef(scores[:, i], np.delete(scores, i, axis=1).sum(axis=1))[0, 1] for i in range(9)]
    assert item_discrimination(scores) == pytest.approx(expected)


def test_discrimination_interval_agrees_with_scipys_bootstrap():
    scores = marks(16, 5)
    rest = scores.sum(axis=1) - scores[:, 0]
    reference = stats.bootstrap(
        (scores[:, 0], rest),
        lambda x, y: stats.pearsonr(x, y)[0],
        paired=True,
        vectorized=False,
        method="percentile",
        n_resamples=9000,
        rng=np.random.default_rng(5),
    )
    low, high = discrimination_interval(scores, draws=9000)
    assert low[0] == pytest.approx(reference.confidence_interval.low, abs=0.02)
    assert high[0] == pytest.approx(reference.confidence_interval.high, abs=0.02)
    assert (low < item_discrimination(scores)).all()
    assert (item_discrimination(scores) < high).all()


def test_a_task_that_never_varies_has_no_interval():
    scores = marks(30, 4)
    scores[:, 2] = 3
    low, high = discrimination_interval(scores)
    assert np.isnan([low[2], high[2]]).all()
    assert np.isfinite(np.delete(low, 2)).all()


def test_discrimination_interval_is_repeatable():
    first, second = discrimination_interval(marks(), seed=4), discrimination_interval(marks(), seed=4)
    assert np.array_equal(first, second)


def test_error_of_measurement_grows_as_reliability_falls():
    assert standard_error_of_measurement(10, 1.0) == 0
    assert standard_error_of_measurement(10, -0.3) == standard_error_of_measurement(10, 0) == 10
    with pytest.raises(AwardError):
        standard_error_of_measurement(-1, 0.8)


@pytest.mark.parametrize("reliability", [0.0, 0.3, 0.6, 0.85, 0.97])
@pytest.mark.parametrize("z", [-1.7, -0.4, 0.0, 0.9])
def test_consistency_agrees_with_a_one_dimensional_integral(reliability, z):
    """Both below z, given the true score t: Φ((z − √ρ t)/√(1 − ρ))², averaged over a normal t."""
    root, noise = np.sqrt(reliability), np.sqrt(1 - reliability)

    def same(t):
        below = stats.norm.cdf((z - root * t) / noise)
        return (below**2 + (1 - below) ** 2) * stats.norm.pdf(t)

    expected = integrate.quad(same, -9, 9, epsabs=1e-10)[0]
    found = decision_consistency(mean=50, sd=8, reliability=reliability, cut=50 + 8 * z)
    assert found.agreement == pytest.approx(expected, abs=2e-5)
    assert found.kappa == pytest.approx((expected - found.chance) / (1 - found.chance), abs=2e-4)


def test_consistency_agrees_with_two_simulated_sittings():
    rng = np.random.default_rng(11)
    ability = rng.normal(60, np.sqrt(0.8) * 10, size=400_000)
    first, second = (ability + rng.normal(0, np.sqrt(0.2) * 10, size=400_000) for _ in range(2))
    observed = np.mean((first >= 55) == (second >= 55))
    assert decision_consistency(60, 10, 0.8, 55).agreement == pytest.approx(observed, abs=0.003)


def test_consistency_at_the_ends():
    assert decision_consistency(60, 10, 1.0, 55).agreement == pytest.approx(1)
    assert decision_consistency(60, 10, 1.0, 55).kappa == pytest.approx(1)
    assert decision_consistency(60, 10, -0.2, 55).kappa == pytest.approx(0, abs=1e-6)
    assert decision_consistency(60, 1, 0.5, 20).agreement == pytest.approx(1)
    for wrong in [(60, 0, 0.5, 50), (60, 10, 1.1, 50), (np.nan, 10, 0.5, 50)]:
        with pytest.raises(AwardError):
            decision_consistency(*wrong)


TABLES = [
    [[53, 5, 2], [11, 14, 5], [1, 6, 3]],
    [[20, 5], [10, 15]],
    [[8, 2, 0, 1], [3, 9, 2, 0], [0, 1, 7, 4], [0, 0, 2, 9]],
]


@pytest.mark.parametrize("table", TABLES)
@pytest.mark.parametrize(("weights", "name"), [("none", None), ("linear", "linear"), ("quadratic", "quadratic")])
def test_kappa_and_its_error_agree_with_statsmodels(table, weights, name):
    reference = cohens_kappa(np.array(table), wt=name)
    found = weighted_kappa(table, weights)
    assert found.estimate.value == pytest.approx(reference.kappa, abs=1e-12)
    assert found.standard_error == pytest.approx(reference.std_kappa, abs=1e-12)
    assert found.estimate.low == pytest.approx(reference.kappa_low, abs=1e-9)


@given(
    st.integers(2, 5).flatmap(
        lambda size: st.lists(st.lists(st.integers(0, 30), min_size=size, max_size=size), min_size=size, max_size=size)
    )
)
@settings(max_examples=150, deadline=None)
def test_kappa_of_any_table_is_a_number_or_a_sentence(table):
    try:
        found = weighted_kappa(table)
    except AwardError:
        return
    assert found.estimate.low <= found.estimate.value <= found.estimate.high <= 1
    assert 0 <= found.observed <= 1 + 1e-12
    assert 0 <= found.expected <= 1
    mirrored = weighted_kappa(np.transpose(table))
    assert mirrored.estimate.value == pytest.approx(found.estimate.value)
    assert mirrored.standard_error == pytest.approx(found.standard_error)


def test_kappa_says_what_is_wrong():
    for table in ([[1, 2, 3], [4, 5, 6]], [[0, 0], [0, 0]], [[5, 0], [0, 0]], [[-1, 2], [2, 2]]):
        with pytest.raises(AwardError):
            weighted_kappa(table)
    with pytest.raises(AwardError, match="choose none"):
        weighted_kappa([[1, 2], [2, 2]], "cubic")
    with pytest.raises(AwardError, match="ones on the diagonal"):
        weighted_kappa([[1, 2], [2, 2]], [[0, 1], [1, 0]])


def test_judgements_become_a_table():
    table = agreement_table(["low", "high", "low"], ["low", "low", "low"], ["low", "high"])
    assert table.tolist() == [[2, 0], [1, 0]]
    with pytest.raises(AwardError, match="same pieces"):
        agreement_table(["low"], [], ["low", "high"])
    with pytest.raises(AwardError, match="none of the judgements"):
        agreement_table(["odd"], ["low"], ["low", "high"])


@pytest.mark.parametrize(("form", "row"), [("1,1", 0), ("2,1", 1), ("3,1", 2), ("1,k", 3), ("2,k", 4), ("3,k", 5)])
def test_intraclass_correlation_agrees_with_pingouin(form, row):
    ratings = marks(15, 4, seed=9)
    long = pd.DataFrame(
        [(piece, rater, ratings[piece, rater]) for piece in range(15) for rater in range(4)],
        columns=["piece", "rater", "mark"],
    )
    reference = pingouin.intraclass_corr(long, targets="piece", raters="rater", ratings="mark").iloc[row]
    found = intraclass_correlation(ratings, form)
    assert found.value == pytest.approx(reference["ICC"], abs=1e-9)
    assert (found.lower, found.upper) == pytest.approx(tuple(reference["CI95"]), abs=0.006)  # it rounds to hundredths


def table_of(scores):
    items = tuple(Item("case", f"task-{i}", "lever", 10) for i in range(scores.shape[1]))
    return MarkTable(tuple(f"bird-{i}" for i in range(len(scores))), items, scores)


def test_one_look_at_an_assessment():
    scores = marks(60, 6)
    scores[3, 2] = np.nan
    scores[:, 5] = 4
    quality = assess_quality(table_of(scores), cut_marks=30)
    complete = np.delete(scores, 3, axis=0)
    assert (quality.trainees, quality.left_out) == (59, 1)
    assert quality.reliability.value == pytest.approx(pingouin.cronbach_alpha(data=pd.DataFrame(complete))[0])
    totals = complete.sum(axis=1)
    assert (quality.mean_marks, quality.sd_marks) == pytest.approx((totals.mean(), totals.std(ddof=1)))
    assert quality.sem_marks == pytest.approx(totals.std(ddof=1) * np.sqrt(1 - quality.reliability.value))
    assert quality.tasks[2].known == 59
    assert quality.tasks[2].difficulty == pytest.approx(np.nanmean(scores[:, 2]) / 10)
    assert quality.tasks[5].discrimination is None
    assert quality.tasks[0].discrimination.low < quality.tasks[0].discrimination.value
    assert 0.5 < quality.consistency.agreement < 1
    assert quality.notes == ("1 trainee(s) wait for marks and are left out",)


@pytest.mark.parametrize(
    ("scores", "words"),
    [
        (np.full((3, 2), np.nan), "needed are at least 2 trainees"),
        (np.array([[1.0, 2.0]]), "needed are at least 2 trainees"),
        (np.array([[1.0, 2.0], [2.0, 1.0]]), "the same total"),
        (np.zeros((4, 3)), "the same total"),
        (marks(5, 3), "interval of the reliability is wide"),
    ],
)
def test_too_little_to_go_by_is_said_and_not_raised(scores, words):
    quality = assess_quality(table_of(scores), cut_marks=3)
    assert words in " ".join(quality.notes)
    assert len(quality.tasks) == scores.shape[1]
