"""The bench of a foot under load: its numbers against hand-worked ones, its sentence against its numbers."""

import re

import numpy as np
import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.foot_under_load.model import footbed_in_words, tilt_in_words

BENCH = bench("foot-under-load")


def test_roll_and_turn_by_hand():
    # 300 N on 14 mm/kN: 4.2 mm; asin(4.2/35) = 6.892°, and 2° of forefoot; 0.68 of it turns the shin (fischer_2018)
    found = BENCH.at(300, 2, 0)
    assert found.arch_drop_mm == pytest.approx(4.2)
    assert found.bare.eversion_deg == pytest.approx(8.892, abs=1e-3)
    assert found.bare.tibial_rotation_deg == pytest.approx(6.047, abs=1e-3)
    assert found.held == found.bare


def test_the_knee_drifts_on_the_height_of_the_triangle_hip_knee_ankle():
    # Heron's formula: the height of the triangle over its side hip-ankle, 428.75 and 430.5 mm the other sides
    found = BENCH.at(400, 0, 0)
    bend = np.radians(found.knee_flexion_deg)
    base = np.sqrt(428.75**2 + 430.5**2 - 2 * 428.75 * 430.5 * np.cos(np.pi - bend))
    half = (428.75 + 430.5 + base) / 2
    height = 2 * np.sqrt(half * (half - 428.75) * (half - 430.5) * (half - base)) / base
    turn = np.radians(0.68 * np.degrees(np.arcsin(5.6 / 35)))
    assert found.bare.knee_drift_mm == pytest.approx(height * np.sin(turn))


def test_a_footbed_holds_its_share_of_the_drop_and_nothing_of_the_forefoot():
    # 80 % of 4.2 mm held: 0.84 mm left; asin(0.84/35) = 1.375°
    assert BENCH.at(300, 4, 80).held.eversion_deg == pytest.approx(5.375, abs=1e-3)
    assert BENCH.at(300, 0, 80).held.eversion_deg == pytest.approx(1.375, abs=1e-3)


def test_more_load_or_tilt_drifts_further_and_a_footbed_less():
    drift = {values: float(BENCH.at(*values).held.knee_drift_mm) for _, values in BENCH.states()}
    for (load, tilt, held), here in drift.items():
        for more in ((load + 100, tilt, held), (load, tilt + 2, held)):
            assert drift.get(more, np.inf) > here
        assert drift.get((load, tilt, held + 40), -np.inf) < here


def test_the_leg_from_the_front_has_its_knee_on_the_line_when_nothing_gives():
    found = BENCH.at(100, 0, 80)
    assert [found.hip_mm[0], found.ankle_mm[0]] == [85, 125]
    assert 85 < found.knee_mm[0] < 125
    assert found.hip_mm[1] > found.knee_mm[1] > found.ankle_mm[1] > found.pedal_mm[1] == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("values", [(300, 2, 40), (500, 4, 0), (100, 0, 80), (200, 0, 0)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    assert said.startswith(f"With {values[0]} N on the foot")
    assert f"heel rolls {float(found.bare.eversion_deg):.1f}° inward" in said
    assert f"knee drifts {float(found.bare.knee_drift_mm):.0f} mm inward" in said
    assert ("there is no footbed" in said) == (values[2] == 0)
    inside = abs(float(found.held.knee_drift_mm)) <= 10
    assert said.endswith(f"the knee is {'inside' if inside else 'outside'} the target window.")
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_is_right_in_the_default_state():
    found = BENCH.at(*BENCH.defaults)
    assert 0 < 1 - found.held.knee_drift_mm / found.bare.knee_drift_mm < 0.4
    assert [c.text for c in BENCH.prediction(found).choices if c.right] == ["Less than 40 %"]


def test_words_and_cautions():
    assert [tilt_in_words(v, "°") for v in (0, 2)] == ["level", "inner edge 2° higher"]
    assert [footbed_in_words(v, "%") for v in (0, 40)] == ["no footbed", "holds 40 % of the drop"]
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in ("common practice", "teaching model", "Weak or mixed evidence", "physician or physiotherapist"):
        assert needed in text
