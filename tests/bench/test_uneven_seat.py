"""The bench of the uneven seat: its numbers against hand-worked ones, its sentence against its numbers."""

import re

import numpy as np
import pytest
from matplotlib.figure import Figure

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.uneven_seat.model import seat_in_words, slide_in_words
from pedalwright_bench.benches.uneven_seat.scene import FromBehind

BENCH = bench("uneven-seat")


def test_the_shift_by_hand():
    # 80 mm · sin 3° = 4.19 mm to the lower side; a slide is added
    assert BENCH.at(3, 0).pelvis_shift_mm == pytest.approx(-4.187, abs=1e-3)
    assert BENCH.at(-4, 10).pelvis_shift_mm == pytest.approx(10 + 5.581, abs=1e-3)


def test_a_slide_alone_moves_both_knees_by_their_share_of_the_leg():
    # similar triangles: with the foot fixed a knee moves by its share of the way from ankle to hip, near a half
    found = BENCH.at(0, 10)
    assert found.right_inward_mm == pytest.approx(-found.left_inward_mm, abs=0.3)
    assert found.left_inward_mm == pytest.approx(5, abs=0.3)
    assert found.right_flexion_deg == pytest.approx(found.left_flexion_deg)


def test_one_knee_in_and_the_other_out():
    # common practice, no source: an unevenly supported pelvis draws one knee to the frame, the other away from it
    for slope in (1, 2, 3, 4):
        found = BENCH.at(slope, 0)
        assert found.right_inward_mm > 0 > found.left_inward_mm
        assert found.right_flexion_deg < found.left_flexion_deg  # the higher hip reaches further


def test_left_and_right_change_places():
    for slope, slide in ((3, 0), (2, 5), (4, -10)):
        here, there = BENCH.at(slope, slide), BENCH.at(-slope, -slide)
        assert here.pelvis_shift_mm == pytest.approx(-there.pelvis_shift_mm)
        assert here.right_inward_mm == pytest.approx(there.left_inward_mm)
        assert here.right_flexion_deg == pytest.approx(there.left_flexion_deg)


def test_nothing_moves_on_a_level_seat():
    found = BENCH.at(0, 0)
    assert [found.pelvis_shift_mm, found.right_inward_mm, found.left_inward_mm] == pytest.approx([0, 0, 0], abs=1e-9)
    assert found.knees_in_target


def test_the_hips_in_the_picture_lie_where_they_were_calculated():
    scene = FromBehind(Figure(), (0, 0, 1, 1), "wide")
    for _, values in BENCH.states():
        found = BENCH.at(*values)
        scene.update(found)
        right, left = (np.array(circle.get_center()) for circle in scene._hips)
        assert (right + left)[0] / 2 == pytest.approx(found.pelvis_shift_mm)
        assert np.sign(round(right[1] - left[1], 9)) == np.sign(values[0])


@pytest.mark.parametrize("values", [(3, 0), (0, 0), (-4, 10), (1, -5)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    slope = values[0]
    side = "right" if slope > 0 else "left"
    start = f"With a seat whose {side} side is {abs(slope)}° higher" if slope else "With a level seat"
    assert said.startswith(start)
    if found.pelvis_shift_mm:
        way = "right" if found.pelvis_shift_mm > 0 else "left"
        assert f"hips shift {abs(found.pelvis_shift_mm):.1f} mm to the {way}" in said
        assert f"right knee runs {abs(found.right_inward_mm):.1f} mm further" in said
    assert ("not both inside the target window" in said) == (not found.knees_in_target)
    assert said.endswith(
        f"right knee is bent {found.right_flexion_deg:.1f}° and the left {found.left_flexion_deg:.1f}°."
    )
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_is_right_in_the_default_state():
    prediction = BENCH.prediction(BENCH.at(*BENCH.defaults))
    assert [c.text for c in prediction.choices if c.right] == ["The right one, on the higher side"]


def test_words_and_cautions():
    words = [seat_in_words(v, "°") for v in (-2, 0, 3)]
    assert words == ["left side 2° higher", "level", "right side 3° higher"]
    words = [slide_in_words(v, "mm") for v in (-5, 0, 10)]
    assert words == ["slid 5 mm to the left", "not slid", "slid 10 mm to the right"]
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in ("common practice", "teaching model", "weak evidence", "none is shown to injure", "physiotherapist"):
        assert needed in text
