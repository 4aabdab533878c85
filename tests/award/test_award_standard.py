"""Cut score, its standard error, the compromise check and the borderline band."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from autograde.award.errors import AwardError
from autograde.award.marks import Item
from autograde.award.ratings import Bounds, read_bounds, read_ratings
from autograde.award.standard import Standard, compromise_check, set_standard, summarise_round

FOUR = [Item("case", task, "lever", marks) for task, marks in (("a", 2), ("b", 4), ("c", 4), ("d", 10))]
THREE_RATERS = """round,rater,case,task,share_pct
1,flint,case,a,50
1,flint,case,b,50
1,flint,case,c,75
1,flint,case,d,60
1,slate,case,a,100
1,slate,case,b,25
1,slate,case,c,50
1,slate,case,d,70
1,marl,case,a,50
1,marl,case,b,75
1,marl,case,c,50
1,marl,case,d,50
"""


def test_cut_of_three_raters_and_four_tasks():
    """Built here, by hand: flint 1 + 2 + 3 + 6 = 12, slate 2 + 1 + 2 + 7 = 12, marl 1 + 3 + 2 + 5 = 11.

    Mean 35/3; SD √(1/3); standard error SD/√3 = 1/3.
    """
    (ratings,) = read_ratings(THREE_RATERS, FOUR)
    assert ratings.rater_cuts.tolist() == [12, 12, 11]
    summary = summarise_round(ratings)
    assert summary.cut_marks == pytest.approx(35 / 3)
    assert summary.rater_sd_marks == pytest.approx(math.sqrt(1 / 3))
    assert summary.cut_se_marks == pytest.approx(1 / 3)
    assert set_standard([ratings], sem_marks=1).cut_marks == 11.67


def test_the_last_round_counts_and_all_are_kept(standard):
    assert [summary.cut_marks for summary in standard.rounds] == pytest.approx([185 / 3, 60])
    assert standard.cut_marks == 60
    assert standard.rounds[1].rater_sd_marks < standard.rounds[0].rater_sd_marks
    assert standard.band_marks == (56, 64)
    assert "3 raters judged in 2 rounds" in standard.sentence


def test_band_stays_within_the_marks():
    summary = summarise_round(read_ratings(THREE_RATERS, FOUR)[0])
    assert Standard(1, 0.1, 3, 20, (summary,)).band_marks == (0, 4)
    assert Standard(19, 0.1, 3, 20, (summary,)).band_marks == (16, 20)
    for wrong in ({"cut_marks": 0}, {"cut_marks": 21}, {"sem_marks": -1}, {"sem_marks": math.nan}):
        with pytest.raises(AwardError):
            Standard(**({"cut_marks": 10, "cut_se_marks": 1, "sem_marks": 1, "max_marks": 20, "rounds": ()} | wrong))


def test_standard_survives_its_file(standard):
    assert Standard.from_dict(standard.as_dict()) == standard
    for damage in ({"rounds": [{"number": 1}]}, {"new": 3}):
        with pytest.raises(AwardError, match="set it again"):
            Standard.from_dict(standard.as_dict() | damage)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("1,flint,case,a,50\n", "", "flint has not rated case/a"),
        ("1,flint,case,a,50\n", "1,flint,case,a,50\n1,flint,case,a,60\n", "a second time"),
        ("1,flint,case,a,50", "1,flint,case,z,50", "case/z, which is no task"),
        ("1,flint,case,a,50", "1,flint,case,a,150", "'150' as share_pct"),
        ("1,flint,case,a,50", "1,flint,case,a,half", "'half' as share_pct"),
        ("1,flint,case,a,50", "one,flint,case,a,50", "'one' as round"),
        ("1,flint,case,a,50", "1,,case,a,50", "has no rater"),
        (",share_pct", ",rating", "has no share_pct"),
    ],
)
def test_mistakes_in_ratings_are_named_with_their_line(old, new, words):
    with pytest.raises(AwardError) as caught:
        read_ratings(THREE_RATERS.replace(old, new, 1), FOUR)
    assert words in str(caught.value)


def test_one_rater_is_no_panel():
    text = "\n".join(line for line in THREE_RATERS.splitlines() if "slate" not in line and "marl" not in line)
    with pytest.raises(AwardError, match="at least two"):
        set_standard(read_ratings(text, FOUR), sem_marks=1)
    with pytest.raises(AwardError, match="no ratings"):
        set_standard([], sem_marks=1)
    with pytest.raises(AwardError, match="holds no rating"):
        read_ratings("round,rater,case,task,share_pct\n", FOUR)


def bounds(low, high, fail_low, fail_high):
    return [Bounds("flint", low, high, fail_low, fail_high)]


def test_compromise_where_line_and_curve_cross():
    """Totals 0.5, 1.5, …, 99.5: below c lie about c %. Line from (40, 60 %) to (60, 20 %): c = 60 − 2(c − 40), c = 46⅔.

    The curve steps at 46.5 to 47 %; the line reaches 47 % at 46.5.
    """
    check = compromise_check(bounds(40, 60, 20, 60), np.arange(100) + 0.5, cut_marks=50)
    assert check.cut_marks == pytest.approx(46.5)
    assert not check.fell_back
    assert check.fail_pct == 50
    assert check.agrees


@pytest.mark.parametrize(
    ("limits", "why"),
    [((70, 80, 0, 10), "everybody below"), ((10, 20, 50, 80), "nobody fails enough")],
)
def test_without_a_crossing_the_cut_is_kept(limits, why):
    check = compromise_check(bounds(*limits), np.linspace(40, 60, 21), cut_marks=50)
    assert check.fell_back, why
    assert check.cut_marks == 50
    assert not check.agrees
    assert "do not meet" in check.sentence
    assert "a person has to look again" in check.sentence


@given(
    st.lists(st.integers(0, 400).map(lambda value: value / 4), min_size=1, max_size=40),
    st.tuples(st.integers(0, 100), st.integers(0, 100)).map(sorted),
    st.tuples(st.integers(0, 100), st.integers(0, 100)).map(sorted),
)
@settings(max_examples=300, deadline=None)
def test_the_compromise_lies_on_both_or_the_cut_is_kept(totals, cuts, fails):
    """At the compromise the curve passes from at or below the line to at or above it (found by brute force)."""
    check = compromise_check(bounds(*cuts, *fails), totals, cut_marks=50)
    scores, slack = np.array(totals), 1e-6
    (low, high), (fail_low, fail_high) = cuts, fails

    def line(cut):
        return fail_high - (fail_high - fail_low) * (cut - low) / (high - low) if high > low else None

    never_meet = 100 * np.mean(scores < low) > fail_high or 100 * np.mean(scores <= high) < fail_low
    assert check.fell_back == never_meet
    if never_meet:
        assert check.cut_marks == 50
        return
    assert low - slack <= check.cut_marks <= high + slack
    below, up_to = (100 * np.mean(scores < check.cut_marks - slack), 100 * np.mean(scores <= check.cut_marks + slack))
    if high > low:
        assert below <= line(check.cut_marks) + 1e-3
        assert up_to >= line(check.cut_marks) - 1e-3


@pytest.mark.parametrize(
    ("limits", "agrees"),
    [
        ((50, 60, 0, 60), True),  # the cut is the lowest that is accepted
        ((40, 50, 0, 60), True),  # or the highest
        ((40, 60, 50, 60), True),  # half of them fail, the least that is accepted
        ((40, 60, 0, 50), True),  # or the most
        ((50.01, 60, 0, 60), False),
        ((40, 49.99, 0, 60), False),
        ((40, 60, 50.01, 60), False),
        ((40, 60, 0, 49.99), False),
    ],
)
def test_bounds_belong_to_what_is_accepted(limits, agrees):
    assert compromise_check(bounds(*limits), np.arange(100) + 0.5, cut_marks=50).agrees is agrees


def test_two_raters_and_shares_of_nothing_and_all_are_enough():
    text = "round,rater,case,task,share_pct\n1,flint,case,a,0\n1,slate,case,a,100\n"
    summary = summarise_round(read_ratings(text, FOUR[:1])[0])
    assert (summary.cut_marks, summary.raters) == (1, 2)
    assert summary.cut_se_marks == pytest.approx(1)  # SD √2, over √2


def test_bounds_are_read_and_checked():
    header = "rater,cut_min_marks,cut_max_marks,fail_min_pct,fail_max_pct\n"
    assert len(read_bounds(header + "flint,50,60,5,30\nslate,55,65,0,20\n")) == 2
    for line, words in (
        ("flint,60,50,5,30", "lower first"),
        ("flint,50,60,5,130", "from 0 to 100"),
        ("flint,50,60,5,30\nflint,50,60,5,30", "stands there twice"),
        ("flint,50,60,5,", "has no fail_max_pct"),
    ):
        with pytest.raises(AwardError) as caught:
            read_bounds(header + line)
        assert words in str(caught.value)
    with pytest.raises(AwardError, match="holds no line"):
        read_bounds(header)


def test_check_is_part_of_the_standard(invented):
    rounds = read_ratings(invented.RATINGS, invented.ITEMS)
    totals = np.linspace(40, 95, 24)
    with_check = set_standard(rounds, sem_marks=4, bounds=bounds(50, 70, 0, 50), totals=totals)
    assert with_check.check.agrees
    assert with_check.cut_marks == 60  # the check never moves the cut
    assert Standard.from_dict(with_check.as_dict()) == with_check
    with pytest.raises(AwardError, match="without gaps"):
        compromise_check(bounds(50, 70, 0, 50), [50, np.nan], 60)
