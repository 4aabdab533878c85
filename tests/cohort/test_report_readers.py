"""Agreement of two readers in the report, against statsmodels and scipy; few texts give no number."""

import numpy as np
import pytest
from report_steps import ability_marks, made_from_marks
from scipy import stats
from statsmodels.stats.inter_rater import cohens_kappa
from statsmodels.stats.proportion import proportion_confint

from autograde.cohort.families import load_case
from autograde.desk import second_readings
from autograde.desk.moderation import Compared, Reading
from autograde.desk.reporting import cohort_figures
from autograde.desk.rounds import SHARE, Piece, Round, step_marks
from autograde.desk.second_readings import FEWEST_TEXTS, moderation_figures

CASES = ("pedal-force-record", "whole-case")
TASKS = [(case, next(task for task in load_case(case).tasks if task.by_hand)) for case in CASES]


@pytest.fixture
def read_twice(tmp_path, monkeypatch):
    """Texts of two tasks, read by two readers who often differ by a step and sometimes by more."""
    full = [task.marks for case in CASES for task in load_case(case).tasks]
    cohort = made_from_marks(tmp_path / "cohort", CASES, ability_marks(12, full))

    def readings(count, seed=4):
        rng = np.random.default_rng(seed)
        found = []
        for number in range(count):
            case, task = TASKS[number % 2]
            steps = round(task.marks / step_marks(task))
            first = int(rng.integers(0, steps + 1))
            second = int(np.clip(first + rng.choice([-3, -1, 0, 0, 1]), 0, steps))
            piece = Piece(f"t1-{number}", "t000", case, task.id, "0", first * step_marks(task), SHARE)
            found.append(Compared(piece, task, Reading((second * step_marks(task),)), "Slate"))
        monkeypatch.setattr(second_readings, "read_rounds", lambda _: (Round(1, "Flint", count, 20, 5, "", ()),))
        monkeypatch.setattr(second_readings, "compare", lambda *_: tuple(found))
        return found

    return cohort, readings


def test_figures_over_all_texts_agree_with_the_libraries(read_twice):
    cohort, readings = read_twice
    found = readings(60)
    whole = moderation_figures(cohort).figures[0]
    steps = [(one.piece.first_marks, one.reading.marks, step_marks(one.task)) for one in found]
    first, second = (np.array([round(row[i] / row[2]) for row in steps]) for i in (0, 1))
    size = max(first.max(), second.max(), *(round(task.marks / step_marks(task)) for _, task in TASKS)) + 1
    table = np.zeros((size, size))
    np.add.at(table, (first, second), 1)
    reference = cohens_kappa(table, wt="quadratic")
    assert whole.kappa.value == pytest.approx(reference.kappa)
    assert (whole.kappa.low, whole.kappa.high) == pytest.approx((reference.kappa_low, min(1, reference.kappa_upp)))
    same = int((first == second).sum())
    assert (whole.same.low, whole.same.high) == pytest.approx(proportion_confint(same, 60, method="wilson"), abs=6e-4)
    assert whole.same.value == pytest.approx(same / 60, abs=6e-4)
    difference = [row[1] - row[0] for row in steps]
    interval = stats.ttest_1samp(difference, 0).confidence_interval(0.95)
    assert whole.difference_marks.value == pytest.approx(np.mean(difference), abs=6e-4)
    assert (whole.difference_marks.low, whole.difference_marks.high) == pytest.approx(tuple(interval), abs=6e-4)


@pytest.mark.parametrize("count", [2, FEWEST_TEXTS - 1])
def test_few_texts_have_shares_and_no_other_number(read_twice, count):
    cohort, readings = read_twice
    readings(count)
    for one in moderation_figures(cohort).figures:
        assert one.kappa is None
        assert one.difference_marks is None
        assert "no number" in one.note
        assert one.same.low <= one.same.value <= one.same.high


def test_between_ten_and_thirty_texts_kappa_is_called_rough(read_twice):
    cohort, readings = read_twice
    readings(20)
    whole, *tasks = moderation_figures(cohort).figures
    assert "rough" in whole.note
    assert [one.texts for one in tasks] == [10, 10]


def test_texts_that_lay_apart_are_listed_and_counted_as_open(read_twice):
    cohort, readings = read_twice
    found = readings(40)
    moderation = moderation_figures(cohort)
    far = [one for one in found if abs(one.reading.marks - one.piece.first_marks) > step_marks(one.task) + 1e-9]
    assert [one.number for one in moderation.apart] == [one.piece.number for one in far]
    assert moderation.open == len(far) > 0


def test_without_a_sample_there_is_nothing_to_say(read_twice):
    cohort, readings = read_twice
    readings(0)
    assert moderation_figures(cohort) is None


def test_the_report_of_a_cohort_without_second_readings_leaves_them_out(tmp_path):
    from autograde.cohort.standing import standing

    full = [task.marks for case in CASES for task in load_case(case).tasks]
    cohort = made_from_marks(tmp_path / "cohort", CASES, ability_marks(12, full))
    assert cohort_figures(cohort, standing(cohort)).moderation is None
