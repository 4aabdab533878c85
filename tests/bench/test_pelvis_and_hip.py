"""The bench of the rolled pelvis: its numbers against hand-worked and published ones, and its sentence."""

import re

import numpy as np
import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.pelvis_and_hip.model import Inputs, position_of

BENCH = bench("pelvis-and-hip")


def test_the_hip_at_the_top_by_hand():
    # hip at (−158, 737.8), knee at the meeting of circles of 428.75 and 430.5 mm about hip and ankle; the pelvis
    # is rolled 20°, so hip flexion is 90° + thigh above the horizontal + 20°
    found = BENCH.at(20, 170)
    span = found.ankle_mm - found.hip_mm
    reach = np.hypot(*span)
    at_hip = np.degrees(np.arccos((428.75**2 + reach**2 - 430.5**2) / (2 * 428.75 * reach)))
    thigh = np.degrees(np.arctan2(span[1], span[0])) + at_hip
    assert found.top_hip_flexion_deg == pytest.approx(90 + thigh + 20)
    assert found.hip_mm == pytest.approx([-158, 737.83], abs=0.01)
    assert found.pedal_mm == pytest.approx([0, 170], abs=1e-9)


def test_the_start_lies_in_the_range_of_simulated_pedalling():
    # park_caldwell_umberger_2022, tracking simulation: hip 39 to 90° to the pelvis
    found = BENCH.at(20, 170)
    assert found.greatest_in_target
    assert found.hip_flexion_deg.min() == pytest.approx(39, abs=2)


def test_a_roll_closes_the_hip_about_degree_for_degree_and_the_trunk_stays():
    for crank in (155, 165, 175):
        found = [BENCH.at(roll, crank) for roll in (5, 10, 15, 20, 25, 30, 35)]
        steps = np.diff([one.top_hip_flexion_deg for one in found])
        assert np.all((steps > 4.5) & (steps < 5.5))
        trunk = [one.least_trunk_thigh_deg for one in found]
        assert max(trunk) - min(trunk) < 2


def test_a_longer_crank_closes_the_hip_and_the_saddle_keeps_its_distance_from_the_lowest_pedal():
    assert np.all(np.diff([BENCH.at(20, crank).top_hip_flexion_deg for crank in (155, 160, 165, 170, 175)]) > 0)
    for crank in (155, 175):
        position = position_of(Inputs(20, crank))
        assert float(position.saddle_height_mm) + crank == 735 + 170


def test_the_gluteus_grows_by_arm_times_angle():
    # small turns: lengthening = arm · angle; an extensor's arm of 15 to 60 mm (from memory) and 5.06° give
    # 1.3 to 5.3 mm
    for longer in BENCH.at(25, 170).gluteus_longer_mm:
        assert 1.3 < longer < 5.3
    assert BENCH.at(20, 170).gluteus_longer_mm == pytest.approx((0, 0), abs=1e-9)
    assert max(BENCH.at(15, 170).gluteus_longer_mm) < 0


@pytest.mark.parametrize("values", [(20, 170), (35, 175), (5, 155), (20, 165)])
def test_the_sentence_says_the_numbers(values):
    found, said = BENCH.at(*values), BENCH.sentence(BENCH.at(*values))
    assert said.startswith(f"With the pelvis rolled {values[0]}° forward and a {values[1]} mm crank")
    assert f"closed to {found.top_hip_flexion_deg:.1f}° with the crank at the top" in said
    assert f"{found.greatest_at_crank_deg:.0f}° later, to {found.greatest_hip_flexion_deg:.1f}°" in said
    assert f"{'inside' if found.greatest_hip_flexion_deg <= 90 else 'outside'} the shaded range" in said
    if values == (20, 170):
        assert "where the comparison starts" in said
    else:
        more = found.top_hip_flexion_deg > found.start_top_deg
        assert ("more than at the start" in said, "mm longer there" in said) == (more, more)
    assert said.count(".") - len(re.findall(r"\d\.\d", said)) == 1  # one sentence


def test_the_prediction_is_right_in_the_default_state():
    crank = BENCH.at(20, 175).top_hip_flexion_deg - BENCH.at(20, 170).top_hip_flexion_deg
    roll = BENCH.at(25, 170).top_hip_flexion_deg - BENCH.at(20, 170).top_hip_flexion_deg
    assert 0 < crank < roll
    prediction = BENCH.prediction(BENCH.at(20, 170))
    assert [c.text for c in prediction.choices if c.right] == ["The rolled pelvis’s"]
    assert all(f"{crank:.1f}°" in c.reply and f"{roll:.1f}°" in c.reply for c in prediction.choices)


def test_cautions():
    text = BENCH.target + " ".join(text for _, text in BENCH.notes)
    for needed in ("no limit", "teaching model", "weakly evidenced", "not settled", "physician or physiotherapist"):
        assert needed in text
