"""The bench of sit bones on a saddle: its numbers against hand-worked ones, its sentence against its numbers."""

import re

import numpy as np
import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.sit_bones_on_saddle.model import load_in_words, roll_in_words
from pedalwright_bench.benches.sit_bones_on_saddle.scene import HIGHEST_KPA

BENCH = bench("sit-bones-on-saddle")


def test_bearing_width_and_margin_by_hand():
    # 130 − 2·60·(π/6)·tan(37.5°) = 130 − 48.21 = 81.79 mm; on 140 mm: 29.1 mm inside each edge
    found = BENCH.at(140, 30, 0)
    assert found.bearing_width_mm == pytest.approx(81.79, abs=0.01)
    assert found.margin_mm == pytest.approx(29.1, abs=0.01)
    assert BENCH.at(140, 0, 0).margin_mm == 5
    assert BENCH.at(140, 0, 0).margin_in_target
    assert not BENCH.at(125, 0, 0).margin_in_target


def test_load_and_its_moment_are_in_balance():
    for _, values in BENCH.states():
        pressure = BENCH.at(*values).seating.contact.pressure
        cell_n = pressure.pressure_kpa * 1e-3 * 2.5**2
        assert cell_n.sum() == pytest.approx(350)
        assert (cell_n.sum(axis=0) * pressure.across_mm).sum() == pytest.approx(350 * values[2], abs=1e-4)


def test_left_and_right_change_places_with_the_load():
    for width, roll in ((110, 0), (140, 15), (170, 30)):
        left, right = BENCH.at(width, roll, -12).seating, BENCH.at(width, roll, 12).seating
        assert left.left_force_n == pytest.approx(float(right.right_force_n))
        assert left.left_force_n > left.right_force_n
        assert left.contact.tilt_across_deg < 0 < right.contact.tilt_across_deg
    middle = BENCH.at(125, 0, 0).seating
    assert middle.left_force_n == pytest.approx(175)


def test_a_wider_saddle_gives_the_load_back_to_the_bones():
    # direction: on a saddle narrower than the sit bones soft tissue bears load (common practice, no source)
    for roll in (0, 15, 30):
        seatings = [BENCH.at(width, roll, 0).seating for width in (110, 125, 140, 155, 170)]
        assert np.all(np.diff([float(s.soft_peak_kpa) for s in seatings]) < 0)
    upright = [float(BENCH.at(width, 0, 0).seating.bone_share) for width in (110, 125, 140, 155, 170)]
    assert np.all(np.diff(upright) > 0)


def test_every_pressure_is_on_the_scale():
    assert max(float(BENCH.at(*values).seating.peak_pressure_kpa) for _, values in BENCH.states()) < HIGHEST_KPA


@pytest.mark.parametrize("values", [(125, 0, 0), (110, 0, 12), (170, 30, -12), (140, 0, 0)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    bones = round(100 * float(found.seating.bone_share))
    assert said.startswith(f"On a saddle {values[0]} mm wide")
    assert f"bears on {found.bearing_width_mm:.0f} mm" in said
    assert f"they carry {bones} % of the load and soft tissue {100 - bones} %" in said
    assert ("beyond each edge" in said) == (values[0] < found.bearing_width_mm)
    assert f"{'inside' if found.margin_in_target else 'outside'} the target window" in said
    assert said.endswith(
        f"left side bears {float(found.seating.left_force_n):.0f} N and the right "
        f"{float(found.seating.right_force_n):.0f} N."
    )
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_is_right_in_the_default_state():
    found = BENCH.at(*BENCH.defaults)
    assert found.margin_mm < 0
    assert found.seating.bone_share < 0.5
    assert [c.text for c in BENCH.prediction(found).choices if c.right] == ["The soft tissue between them"]


def test_words_and_cautions():
    assert [roll_in_words(v, "°") for v in (0, 15)] == ["upright", "rolled 15° forward"]
    assert [load_in_words(v, "mm") for v in (-12, 0, 12)] == [
        "12 mm to the left",
        "in the middle",
        "12 mm to the right",
    ]
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in ("Weak evidence", "teaching model", "Numbness", "refer to a physician", "measure"):
        assert needed in text
