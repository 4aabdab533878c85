"""Figures of the report against general-purpose libraries, closed forms, and its own rules on what is left out."""

import re

import numpy as np
import pandas as pd
import pingouin
import pytest
from report_steps import ability_marks, made_from_marks
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from autograde.cohort.competency_map import BELOW, MET, OPEN, UNRATED, competency_map
from autograde.cohort.families import load_case
from autograde.cohort.figures import Span, plain_figures
from autograde.cohort.standing import standing
from autograde.cohort.statistics import share_interval
from autograde.desk.reporting import FEWEST, cohort_figures, task_flags

CASES = ("angle-conventions", "saddle-height")
FULL = [task.marks for case in CASES for task in load_case(case).tasks]


def figures_from(tmp_path, marks, **how):
    cohort = made_from_marks(tmp_path / "cohort", CASES, marks, **how)
    return cohort_figures(cohort, standing(cohort))


@pytest.mark.parametrize("count", [1, 4, 24, 1000])
@pytest.mark.parametrize("confidence", [0.90, 0.95])
def test_share_intervals_agree_with_statsmodels(count, confidence):
    right = np.arange(0, count + 1, max(1, count // 7))
    low, high = share_interval(right / count, count, confidence)
    reference = proportion_confint(right, count, alpha=1 - confidence, method="wilson")
    assert low == pytest.approx(reference[0], abs=1e-12)
    assert high == pytest.approx(reference[1], abs=1e-12)


def test_share_intervals_cover_part_marks_at_least_as_often_as_they_say():
    """Shares drawn from 0, 0.5 and 1 (mean 0.6) vary less than right or wrong: the interval is on the safe side."""
    rng = np.random.default_rng(2)
    means = rng.choice([0, 0.5, 1], p=[0.2, 0.4, 0.4], size=(4000, 20)).mean(axis=1)
    low, high = share_interval(means, 20)
    assert ((low <= 0.6) & (high >= 0.6)).mean() >= 0.95


def test_figures_of_a_full_cohort_agree_with_the_libraries(tmp_path):
    marks = ability_marks(40, FULL)
    figures = figures_from(tmp_path, marks)
    value, interval = pingouin.cronbach_alpha(data=pd.DataFrame(marks), ci=0.95)
    alpha = figures.whole.alpha
    assert alpha.value == pytest.approx(value)
    assert (alpha.low, alpha.high) == pytest.approx(tuple(interval), abs=5e-4)
    spread = marks.sum(axis=1).std(ddof=1)
    sem = figures.whole.sem_marks
    assert sem.value == pytest.approx(spread * np.sqrt(1 - value))
    assert sem.low < sem.value < sem.high
    rest = marks.sum(axis=1)
    for place, one in enumerate(figures.tasks):
        assert one.difficulty.value == pytest.approx(marks[:, place].mean() / FULL[place])
        assert one.discrimination.value == pytest.approx(stats.pearsonr(marks[:, place], rest - marks[:, place])[0])
        assert one.discrimination.low < one.discrimination.value < one.discrimination.high


def test_a_competency_has_a_reliability_of_its_own_tasks(tmp_path):
    marks = ability_marks(40, FULL)
    figures = figures_from(tmp_path, marks)
    owners = list(figures.counts_as.values())
    checked = 0
    for part in figures.parts:
        mine = [place for place, owner in enumerate(owners) if owner == part.id]
        assert part.tasks == len(mine)
        if part.alpha is None:
            assert len(mine) < 3
            assert "needed are 3" in part.why
        else:
            assert part.alpha.value == pytest.approx(pingouin.cronbach_alpha(data=pd.DataFrame(marks[:, mine]))[0])
            checked += 1
    assert checked


def test_the_discrimination_interval_is_near_fishers_for_a_large_cohort(tmp_path):
    """With normal-like marks the bootstrap over trainees and Fisher's z nearly agree."""
    marks = ability_marks(400, FULL)
    one = figures_from(tmp_path, marks).tasks[1]
    fisher = stats.pearsonr(marks[:, 1], marks.sum(axis=1) - marks[:, 1]).confidence_interval(0.95)
    assert (one.discrimination.low, one.discrimination.high) == pytest.approx((fisher.low, fisher.high), abs=0.03)


def test_what_is_not_known_is_left_out_by_the_rule(tmp_path):
    """A task in which most have no mark is left out, then everybody with a gap; difficulty keeps all marks."""
    marks = ability_marks(30, FULL)
    marks[:20, 0] = np.nan  # most answers to the first task wait
    marks[29, 3] = np.nan  # one trainee has a gap elsewhere
    marks[28] = np.nan  # one handed in nothing
    figures = figures_from(tmp_path, marks)
    kept = marks[:28, 1:]
    assert (figures.whole.tasks, figures.whole.trainees) == (len(FULL) - 1, 28)
    assert figures.whole.alpha.value == pytest.approx(pingouin.cronbach_alpha(data=pd.DataFrame(kept))[0])
    assert figures.tasks[0].discrimination is None
    assert figures.tasks[0].known == 9
    assert figures.tasks[0].difficulty.value == pytest.approx(np.nanmean(marks[:, 0]) / FULL[0])
    assert figures.tasks[3].known == 28
    assert any(note.startswith("1 of ") for note in figures.notes)


@pytest.mark.parametrize("trainees", [1, 4, FEWEST - 1])
def test_few_trainees_have_difficulties_and_no_other_number(tmp_path, trainees):
    figures = figures_from(tmp_path, ability_marks(trainees, FULL))
    assert figures.whole.alpha is None
    assert f"needed are {FEWEST}" in figures.whole.why
    assert all(one.discrimination is None for one in figures.tasks)
    for one in figures.tasks:
        low, high = proportion_confint(one.difficulty.value * trainees, trainees, method="wilson")
        assert (one.difficulty.low, one.difficulty.high) == pytest.approx((low, high))


def test_a_small_cohort_is_called_rough_and_a_large_one_is_not(tmp_path):
    assert any("rough" in note for note in figures_from(tmp_path, ability_marks(12, FULL)).notes)
    again = figures_from(tmp_path / "more", ability_marks(60, FULL))
    assert not any("rough" in note for note in again.notes)


def test_nobody_and_nothing_are_no_error(tmp_path):
    figures = figures_from(tmp_path, np.full((3, len(FULL)), np.nan))
    assert figures.whole.alpha is None
    assert all(one.difficulty is None for one in figures.tasks)


def test_all_alike_has_no_reliability_and_says_why(tmp_path):
    figures = figures_from(tmp_path, np.tile(np.asarray(FULL, dtype=float), (15, 1)))
    assert "the same total" in figures.whole.why
    assert all("everybody has the same marks" in one.flags[0] for one in figures.tasks if one.flags)
    safe = [task.safety for case in CASES for task in load_case(case).tasks]
    assert any(safe)
    assert not [one for one, safety in zip(figures.tasks, safe, strict=True) if safety and one.flags]


@pytest.mark.parametrize(
    ("difficulty", "discrimination", "words"),
    [
        (Span(0.3, 0.2, 0.49), None, "hard"),
        (Span(0.3, 0.2, 0.51), None, None),
        (Span(0.95, 0.81, 1.0), None, "easy"),
        (Span(0.95, 0.79, 1.0), None, None),
        (None, Span(-0.4, -0.6, -0.1), "wrong way"),
        (None, Span(-0.1, -0.5, 0.3), "may be chance"),
        (None, Span(0.1, 0.0, 0.19), "hardly tells"),
        (None, Span(0.1, -0.2, 0.4), None),
        (Span(0.6, 0.4, 0.8), Span(0.4, 0.1, 0.7), None),
    ],
)
def test_a_task_is_flagged_when_its_whole_interval_lies_beyond_the_limit(difficulty, discrimination, words):
    flags = " ".join(task_flags(difficulty, discrimination))
    assert (words in flags) if words else not flags


def test_an_easy_safety_task_is_not_odd():
    assert task_flags(Span(1, 0.9, 1), None, alike=True, safety=True) == ()
    assert task_flags(Span(0.2, 0.1, 0.4), None, safety=True) != ()


def test_the_standard_and_how_alike_it_decides(tmp_path):
    """Two raters at 50 and 60 %: the cut is 55 % of the marks; two simulated sittings decide alike as often as said."""
    marks = ability_marks(60, FULL)
    figures = figures_from(tmp_path, marks, ratings=True)
    standard = figures.standard
    assert standard.cut_marks == pytest.approx(0.55 * sum(FULL), abs=0.006)
    assert not standard.recorded
    totals = marks.sum(axis=1)
    rho = figures.whole.alpha.value
    rng = np.random.default_rng(1)
    true = rng.normal(totals.mean(), np.sqrt(rho) * totals.std(ddof=1), 200_000)
    noise = np.sqrt(1 - rho) * totals.std(ddof=1)
    first, second = (true + rng.normal(0, noise, true.size) >= standard.cut_marks for _ in range(2))
    assert standard.agreement.value == pytest.approx((first == second).mean(), abs=0.005)
    assert standard.agreement.low < standard.agreement.value < standard.agreement.high
    assert standard.kappa.low < standard.kappa.value < standard.kappa.high
    assert len(figures.decisions) == 60
    assert not any(one.recorded for one in figures.decisions.values())


def test_without_ratings_there_is_no_standard_and_a_note_says_so(tmp_path):
    figures = figures_from(tmp_path, ability_marks(15, FULL))
    assert figures.standard is None
    assert any(note.startswith("No cut, no band") for note in figures.notes)


def test_without_a_blueprint_there_are_marks_and_a_note(tmp_path):
    cohort = made_from_marks(tmp_path / "cohort", CASES, ability_marks(15, FULL))
    (cohort.root / "blueprint.toml").unlink()
    figures = cohort_figures(cohort, standing(cohort))
    assert figures.tasks == ()
    assert re.search("Without a blueprint", figures.notes[0])
    rows = competency_map(standing(cohort), figures).rows
    assert {cell.state for row in rows for cell in row.cells} == {UNRATED}


def test_the_map_adds_up_marks_and_puts_need_first(tmp_path):
    marks = ability_marks(20, FULL)
    marks[7] = np.asarray(FULL) * 0.1
    marks[8, 2] = np.nan
    marks[9] = np.nan
    cohort = made_from_marks(tmp_path / "cohort", CASES, marks)
    stand = standing(cohort)
    figures = cohort_figures(cohort, stand)
    found = competency_map(stand, figures)
    assert found.rows[0].trainee.id == "t007"
    assert found.rows[-1].trainee.id == "t009"
    assert not found.rows[-1].begun
    owners = np.array(list(figures.counts_as.values()))
    for row in found.rows:
        mine = marks[int(row.trainee.id[1:])]
        for cell in row.cells:
            here = owners == cell.competency.id
            full = np.asarray(FULL)[here]
            assert cell.marks == pytest.approx(np.nansum(mine[here]))
            assert cell.open_marks == pytest.approx(full[np.isnan(mine[here])].sum())
            assert cell.max_marks == pytest.approx(full.sum())
            enough = cell.marks >= cell.max_marks * cell.competency.minimum_pct / 100
            assert cell.state == (MET if enough else OPEN if np.isnan(mine[here]).any() else BELOW)
    shares = list(found.shares)
    assert shares == sorted(shares)
    assert found.total_share == pytest.approx(np.nansum(marks) / (np.asarray(FULL) * ~np.isnan(marks)).sum())


def test_many_competencies_without_a_blueprint_count_under_their_module():
    families = [load_case(case) for case in ("angle-conventions", "saddle-height", "whole-case", "sit-bones-saddle")]
    columns = plain_figures(families).competencies
    assert {column.id for column in columns} == {family.module_page for family in families}
    assert len(plain_figures(families[:1]).competencies) == len({task.competency for task in families[0].tasks})
