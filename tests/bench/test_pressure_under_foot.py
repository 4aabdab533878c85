"""The bench of pressure under the foot: its numbers against balances and limits, its sentence against its numbers."""

import re

import numpy as np
import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.pressure_under_foot.model import filled_in_words, midfoot_share, whole_sole
from pedalwright_bench.benches.pressure_under_foot.scene import HIGHEST_KPA

BENCH = bench("pressure-under-foot")


def test_load_and_its_place_are_in_balance_on_both_supports():
    for _, values in BENCH.states():
        found = BENCH.at(*values)
        for footing in (found.flat, found.shaped):
            pressure = footing.contact.pressure
            cell_n = pressure.pressure_kpa * 1e-3 * 2.5**2
            assert cell_n.sum() == pytest.approx(values[0])
            along = (cell_n.sum(axis=1) * pressure.along_mm).sum() / values[0]
            assert along == pytest.approx(0.20 * 255, abs=0.01)  # 70 % from the heel is 20 % ahead of the middle
            assert (cell_n.sum(axis=0) * pressure.across_mm).sum() == pytest.approx(0, abs=1e-6)


def test_the_outline_has_every_cell_bearing_evenly():
    # without an arch and without tipping: load over area, 400 N
    sole = whole_sole()
    assert sole.peak_pressure_kpa == pytest.approx(400 / float(sole.contact_area_mm2) * 1000)


def test_direction_as_measured():
    # bousie_2013, twelve riders: a contoured insert gives more contact under the midfoot than a flat one
    for load in (200, 400, 600):
        for stiffness in (10, 25, 40):
            found = [BENCH.at(load, filled, stiffness).shaped for filled in (0, 30, 60, 90)]
            assert np.all(np.diff([float(one.midfoot_area_mm2) for one in found]) > 0)
            assert np.all(np.diff([midfoot_share(one) for one in found]) > 0)


def test_no_contour_is_the_flat_support_and_the_peak_never_rises():
    assert BENCH.at(400, 0, 25).peak_change_pct == 0
    changes = [BENCH.at(*values).peak_change_pct for _, values in BENCH.states() if values[1]]
    assert min(changes) > -10
    assert max(changes) < 0


def test_every_pressure_is_on_the_scale():
    assert max(float(BENCH.at(*values).flat.peak_pressure_kpa) for _, values in BENCH.states()) < HIGHEST_KPA


@pytest.mark.parametrize("values", [(400, 60, 25), (600, 90, 10), (200, 0, 40), (200, 30, 40)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    assert said.startswith(f"With {values[0]} N on flesh and padding of {values[2]} kPa/mm")
    assert f"the highest pressure is {float(found.flat.peak_pressure_kpa):.1f} kPa" in said
    assert f"bears {100 * midfoot_share(found.flat):.1f} % of the load" in said
    if values[1]:
        assert f"which bear {100 * midfoot_share(found.shaped):.1f} %" in said
        assert said.endswith(f"{abs(found.peak_change_pct):.1f} % lower and inside the target window.")
    else:
        assert "no contour is set" in said
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_is_right_in_the_default_state():
    found = BENCH.at(*BENCH.defaults)
    assert -5 < found.peak_change_pct < -1
    assert [c.text for c in BENCH.prediction(found).choices if c.right] == ["It falls by a few per cent"]


def test_words_and_cautions():
    assert [filled_in_words(v, "%") for v in (0, 60)] == ["flat", "fills 60 % of the arch"]
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in (
        "No study gives a pressure that is safe",
        "teaching model",
        "Weak evidence",
        "belongs to a physician",
    ):
        assert needed in text
