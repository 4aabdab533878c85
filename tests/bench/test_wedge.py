"""The bench of the wedge: its numbers against hand-worked ones, its sentence against its numbers."""

import re

import numpy as np
import pytest
from matplotlib.figure import Figure

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.wedge.model import tilt_in_words, wedge_in_words
from pedalwright_bench.benches.wedge.scene import Forefoot

BENCH = bench("wedge")


def test_angles_by_hand():
    # atan(1.5/95) = 0.9046°, atan(3/85) = 2.0214°; tan 3° · 95 = 4.98 mm
    found = BENCH.at(3, 1.5, 95)
    assert found.wedge_deg == pytest.approx(0.9046, abs=1e-4)
    assert found.left_deg == pytest.approx(2.0954, abs=1e-4)
    assert found.height_that_fills_mm == pytest.approx(4.979, abs=1e-3)
    assert BENCH.at(3, 3, 85).wedge_deg == pytest.approx(2.0214, abs=1e-4)


def test_a_wedge_under_the_wrong_edge_adds_to_the_tilt():
    for tilt in (-3, 3):
        for wedge in (1.5, 3):
            right, wrong = (BENCH.at(tilt, sign * wedge, 95) for sign in (np.sign(tilt), -np.sign(tilt)))
            assert abs(right.left_deg) < abs(tilt) < abs(wrong.left_deg)
            assert right.edge_that_fills == ("inner" if tilt > 0 else "outer")
            assert abs(right.left_deg - wrong.left_deg) == pytest.approx(2 * abs(right.wedge_deg))


def test_the_same_wedge_is_steeper_in_a_narrow_shoe():
    assert np.all(np.diff([BENCH.at(0, 3, width).wedge_deg for width in (85, 95, 105)]) < 0)


def test_in_the_picture_the_foot_touches_and_never_enters_its_support():
    scene = Forefoot(Figure(), (0, 0, 1, 1), "wide")
    for _, values in BENCH.states():
        found = BENCH.at(*values)
        scene.update(found)
        gap = scene._gap.get_xy()
        clear = gap[[3, 2], 1] - gap[[0, 1], 1]
        assert clear.min() == pytest.approx(0, abs=1e-9)
        # what is clear at the far edge is the difference of two slopes over the width
        rise = np.tan(np.radians(found.inputs.forefoot_tilt_deg)) - found.inputs.wedge_mm / found.inputs.width_mm
        assert clear.max() == pytest.approx(abs(rise) * found.inputs.width_mm)


@pytest.mark.parametrize("values", [(3, 1.5, 95), (0, 0, 85), (-3, 3, 105), (0, -1.5, 95), (3, 3, 85)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    tilt, wedge, width = values
    assert said.startswith(f"On {width} mm of width")
    if wedge:
        edge = "inner" if wedge > 0 else "outer"
        assert f"{abs(wedge):g} mm under the {edge} edge makes {abs(found.wedge_deg):.2f}°" in said
    else:
        assert "no wedge is set" in said
    if tilt:
        assert f"of 3° of {'varus' if tilt > 0 else 'valgus'}" in said
        assert f"takes {found.height_that_fills_mm:.1f} mm under the {found.edge_that_fills} edge" in said
    inside = abs(found.left_deg) <= 1
    assert said.endswith(f"{'inside' if inside else 'outside'} the target window.")
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_is_right_in_the_default_state():
    prediction = BENCH.prediction(BENCH.at(3, 1.5, 95))
    assert [c.text for c in prediction.choices if c.right] == ["About 2°"]
    assert len({c.text for c in prediction.choices}) == 4


def test_words_and_cautions():
    assert [tilt_in_words(v, "°") for v in (-3, 0, 3)] == ["3° valgus", "level", "3° varus"]
    words = [wedge_in_words(v, "mm") for v in (-1.5, 0, 3)]
    assert words == ["1.5 mm under the outer edge", "none", "3 mm under the inner edge"]
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in ("common practice", "teaching model", "weak evidence", "no abnormality", "physician or podiatrist"):
        assert needed in text
