"""The bench of measurement error: its numbers against tables and published ones, its sentence against its numbers."""

import re

import numpy as np
import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.measurement_error.model import instrument_in_words, repeats_in_words

BENCH = bench("measurement-error")


def test_uncertainty_behind_the_published_changes():
    # hancock_2018: smallest changes of 6, 10, 12 and 14°; over 1.96·√2 by hand 2.16, 3.61, 4.33 and 5.05°
    found = [BENCH.at(30, place, 1).uncertainty_deg for place in (1, 2, 3, 4)]
    assert found == pytest.approx([2.16, 3.61, 4.33, 5.05], abs=0.01)
    assert BENCH.at(30, 4, 4).uncertainty_deg == pytest.approx(5.05 / 2, abs=0.01)


def test_probability_from_a_printed_table():
    # table of the normal distribution: Φ(5/2.165 = 2.31) = 0.9896, so inside 2·0.9896 − 1 = 0.979
    assert BENCH.at(30, 1, 1).probability_inside == pytest.approx(0.979, abs=0.001)
    # 33° with 3.61°: Φ(0.554) = 0.7102, Φ(−2.217) = 0.0133
    assert BENCH.at(33, 2, 1).probability_inside == pytest.approx(0.697, abs=0.001)


def test_verdicts():
    assert BENCH.at(30, 1, 1).verdict == "inside"
    assert BENCH.at(33, 2, 1).verdict == "not sure"
    assert BENCH.at(39, 1, 4).verdict == "outside"


def test_a_better_instrument_and_more_readings_make_surer():
    for _, (reading, place, repeats) in BENCH.states():
        found = BENCH.at(reading, place, repeats)
        away = np.diff(np.abs(found.all_probabilities - 0.5))
        assert np.all(away <= 1e-12) or 25 < reading < 35
        if reading == 30:
            assert np.all(np.diff(found.all_probabilities) < 0)
        if repeats == 1:
            assert BENCH.at(reading, place, 4).uncertainty_deg == pytest.approx(found.uncertainty_deg / 2)


def test_readings_needed_by_hand():
    # inside needs 5/1.96 = 2.551°: (3.608/2.551)² = 2.0 is just above 2 or at it; (5.051/2.551)² = 3.92, so 4
    assert BENCH.at(30, 4, 1).readings_for_a_verdict == 4
    assert BENCH.at(30, 1, 1).readings_for_a_verdict == 1
    assert BENCH.at(30, 3, 1).readings_for_a_verdict == 3  # (4.329/2.551)² = 2.88


@pytest.mark.parametrize("values", [(33, 2, 1), (39, 4, 4), (30, 1, 4), (36, 1, 1)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    assert said.startswith(f"A reading of {values[0]}°")
    assert f"{'inside' if values[0] <= 35 else 'outside'} the window" in said
    assert f"standard uncertainty of {found.uncertainty_deg:.1f}°" in said
    assert f"probability of {100 * found.probability_inside:.0f} %, so the verdict is “{found.verdict}”" in said
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_is_right_in_the_default_state():
    found = BENCH.at(*BENCH.defaults)
    assert 1.8 < found.probability_inside / (1 - found.probability_inside) < 2.5
    assert [c.text for c in BENCH.prediction(found).choices if c.right] == ["About two to one"]


def test_words_and_cautions():
    assert [instrument_in_words(v, "") for v in (1, 3)] == ["digital inclinometer", "phone application"]
    assert [repeats_in_words(v, "") for v in (1, 4)] == ["one reading", "mean of 4 readings"]
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in ("common practice", "measured law", "An error that stays", "no diagnosis", "physician"):
        assert needed in text
