"""The bench of module 3: its numbers against hand-worked and published ones, its sentence against its numbers."""

import re

import numpy as np
import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.lever_tangency.model import Inputs, results, saddle_in_words
from pedalwright_bench.benches.lever_tangency.scene import ARROW_DEG, CRANK_MM, MM_PER_N, Scene
from pedalwright_bench.benches.lever_tangency.words import knee_in_words

BENCH = bench("lever-tangency")


def test_sector_work_adds_up_to_the_effort():
    # by hand: 200 W at 90 rpm is 133.333 J a turn for both legs, 66.667 J for one
    found = BENCH.at(200, 0)
    assert found.sector_work_j.sum() == pytest.approx(66.6667, abs=1e-4)
    assert len(found.sector_work_j) == 16
    # 300 W and the saddle back: 100 J
    assert BENCH.at(300, 40).sector_work_j.sum() == pytest.approx(100, abs=1e-6)


def test_the_published_record_shows_at_200_w():
    # park_caldwell_umberger_2022 read at its own mean torque (203.7 W at 90 rpm): peak 232.4 N at 103°, times 0.170 m
    found = BENCH.at(200, 0)
    assert found.peak_deg == pytest.approx(103, abs=1)
    assert found.peak_torque_nm == pytest.approx(232.41 * 0.170, rel=0.02)
    assert found.effectiveness == pytest.approx(0.5036, abs=0.005)
    assert found.one_leg_torque_effectiveness_pct == pytest.approx(84.10, abs=1)


def test_sectors_four_to_six_do_most():
    # common practice, no source: the useful push is greatest in sectors four to six of sixteen
    for _, values in BENCH.states():
        found = BENCH.at(*values)
        assert sorted(np.argsort(found.sector_work_j)[-3:] + 1) == [4, 5, 6]
        assert found.peak_in_target


def test_forty_millimetres_of_saddle_move_the_peak_by_about_three_degrees_at_most():
    # hip about 752 mm from the bottom bracket: 40 mm turn the leg by atan(40/752) = 3.04°, and gravity stays
    for effort in (100, 200, 300):
        for back in (-40, 40):
            found = BENCH.at(effort, back)
            shift = found.unmoved_peak_deg - found.peak_deg
            assert np.sign(shift) == np.sign(back)
            assert 1 < abs(shift) < 3.2


def test_the_leg_in_the_picture_is_a_leg():
    for back in (-40, 0, 40):
        found = BENCH.at(200, back)
        assert np.hypot(*(found.knee_mm - found.hip_mm)) == pytest.approx(428.75)  # 0.245 of 1750 mm
        assert np.hypot(*(found.ankle_mm - found.knee_mm)) == pytest.approx(430.5)  # 0.246 of 1750 mm
        assert found.pedal_mm == pytest.approx([170, 0], abs=1e-9)  # crank forward
        assert found.knee_mm[0] - 170 == pytest.approx(found.knee_over_pedal_mm)
        assert np.hypot(*found.saddle_mm) == pytest.approx(735)  # saddle height kept


@pytest.mark.parametrize("values", [(200, 0), (100, -40), (300, 40), (225, 10)])
def test_the_sentence_says_the_numbers(values):
    found = BENCH.at(*values)
    said = BENCH.sentence(found)
    assert said.startswith(f"At {values[0]} W and 90 rpm")
    numbers = [float(n) for n in re.findall(r"\d+(?:\.\d+)?", said)]
    assert float(f"{found.peak_deg:.0f}") in numbers
    assert f"with {found.peak_torque_nm:.0f} N·m, inside the target window" in said
    assert f"sectors 4 to 6 do {100 * found.target_share:.0f} % of that leg’s net work" in said
    assert f"{100 * found.effectiveness:.0f} % of the whole force turns the crank" in said
    assert said.endswith(f"the knee is {knee_in_words(found.knee_over_pedal_mm)}.")
    if values[1]:
        way, when = ("back", "earlier") if values[1] > 0 else ("forward", "later")
        shift = abs(found.peak_deg - found.unmoved_peak_deg)
        assert f"with the saddle {abs(values[1])} mm {way}" in said
        assert f"only {shift:.1f}° {when} than" in said
    else:
        assert "than with the saddle" not in said
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_tells_the_default_peak():
    prediction = BENCH.prediction(BENCH.at(200, 0))
    assert [c.text for c in prediction.choices if c.right] == ["Around the forward horizontal"]
    assert all("103°" in c.reply for c in prediction.choices)


def test_places_in_words():
    assert [saddle_in_words(v, "mm") for v in (0, 20, -30)] == ["where it started", "20 mm back", "30 mm forward"]
    assert [knee_in_words(v) for v in (0.2, 12.4, -12.6)] == [
        "plumb over the pedal axle",
        "12 mm ahead of the pedal axle",
        "13 mm behind the pedal axle",
    ]


def test_arrows_are_the_recorded_vectors():
    # at the forward horizontal the force is nearly all tangential: 225.8 N down in the record, scaled to 200 W
    from matplotlib.figure import Figure

    scene = Scene(Figure(), (0, 0, 1, 1), "wide")
    found = results(Inputs())
    scene.update(found)
    place = list(ARROW_DEG).index(90)
    tip = scene._whole.get_paths()[place].vertices[3]
    assert tip[0] == pytest.approx(CRANK_MM - 11.2 * MM_PER_N * 200 / 203.7, abs=1)
    assert tip[1] == pytest.approx(-225.8 * MM_PER_N * 200 / 203.7, abs=1.5)
    turning = found.stroke.tangential_force_n[ARROW_DEG.astype(int)] >= 0
    assert len(scene._useful.get_paths()) == turning.sum()
    assert len(scene._against.get_paths()) == (~turning).sum()


def test_notes_say_that_the_plumb_line_has_no_evidence():
    text = " ".join(text for _, text in BENCH.notes)
    assert "No evidence was found that it protects the knee" in text
    assert "physician or physiotherapist" in text
    assert "teaching model" in text
