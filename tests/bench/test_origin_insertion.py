"""The bench of a muscle between two attachments: its signs against anatomy, its numbers against another model."""

import math

import numpy as np
import pytest

from pedalwright.attachments import path_moment_arms_mm
from pedalwright.joint_actions import sketch_of
from pedalwright.posture import Posture
from pedalwright_bench.bench import bench
from pedalwright_bench.benches.origin_insertion.model import SHOWN, muscle_in_words, place_in_words

BENCH = bench("origin-insertion")

# What each muscle does, as any anatomy text has it (from memory): +1 closes or points the toe down, −1 the opposite.
ANATOMY = {
    "gluteus maximus": {"hip": -1},
    "vasti": {"knee": -1},
    "rectus femoris": {"hip": 1, "knee": -1},
    "biceps femoris, long head": {"hip": -1, "knee": 1},
    "gastrocnemius": {"knee": 1, "ankle": 1},
    "soleus": {"ankle": 1},
    "tibialis anterior": {"ankle": -1},
}


@pytest.mark.parametrize("values", [values for _, values in BENCH.states()])
def test_signs_are_those_of_anatomy_in_every_state(values):
    found = BENCH.at(*values)
    assert {joint: np.sign(arm) for joint, arm in found.arms_mm.items()} == ANATOMY[found.name]


@pytest.mark.parametrize("values", [values for _, values in BENCH.states()])
def test_the_drawn_line_pulls_the_way_the_bars_say(values):
    found = BENCH.at(*values)
    pose = found.pose
    thigh, shank = pose.knee_mm - pose.hip_mm, pose.ankle_mm - pose.knee_mm
    thigh_deg, shank_deg = (math.degrees(math.atan2(*part[::-1])) for part in (thigh, shank))
    posture = Posture(
        thigh_deg + 90 + pose.pelvis_tilt_deg, thigh_deg - shank_deg, 90 + pose.pedal_angle_deg + shank_deg
    )
    sketch = path_moment_arms_mm(
        sketch_of(found.name, thigh_length_mm=np.hypot(*thigh), shank_length_mm=np.hypot(*shank)),
        posture,
        thigh_length_mm=np.hypot(*thigh),
        shank_length_mm=np.hypot(*shank),
    )
    for joint, arm in found.arms_mm.items():
        drawn = float(getattr(sketch, f"{joint}_mm"))
        assert drawn * arm > 0
        length = np.hypot(*(found.path.arm_feet_mm[joint] - getattr(pose, f"{joint}_mm")))
        assert length == pytest.approx(abs(drawn), abs=1e-6)


def test_arms_are_near_those_of_another_published_model():
    # rajagopal_2016, moment arms run in a musculoskeletal program: vastus lateralis at 60° −33.4 and 90° of knee
    # flexion −20.1 mm; soleus at −30° 43.6 and at 0° 41.4 mm. Models differ: within 20 % and 3 mm.
    assert BENCH.at(2, 90).arms_mm["knee"] == pytest.approx(-30, abs=6)
    assert BENCH.at(6, 180).arms_mm["ankle"] == pytest.approx(42.5, rel=0.25)
    # biceps femoris, long head, hip about 70°: −57.8 at 60° and −40.6 mm at 90°
    assert BENCH.at(4, 90).arms_mm["hip"] == pytest.approx(-52, abs=8)


def test_ten_millimetres_turn_a_joint_by_hand():
    # arc = radius × angle: 10 mm on 30 mm is a third of a radian, 19.1°
    for values in ((2, 90), (3, 45), (5, 180)):
        found = BENCH.at(*values)
        for joint, arm in found.arms_mm.items():
            assert found.turns_deg[joint] == pytest.approx(10 / arm * 180 / math.pi)


def test_every_muscle_can_be_chosen_and_is_named():
    assert len(SHOWN) == 7
    assert [muscle_in_words(value, "") for value in (1, 7)] == ["gluteus maximus", "tibialis anterior"]
    assert [place_in_words(v, "°") for v in (0, 45, 180)] == ["0°, top", "45°", "180°, bottom"]
    assert len(list(BENCH.states())) <= 45


@pytest.mark.parametrize("values", [(3, 90), (1, 0), (5, 135)])
def test_the_sentence_says_the_numbers(values):
    found = BENCH.at(*values)
    said = BENCH.sentence(found)
    assert said.lower().startswith(found.name)
    for arm in found.arms_mm.values():
        assert f"moment arm {arm:+.0f} mm".replace("-", "−") in said
    assert ("two joints crossed" in said) == (len(found.arms_mm) == 2)


def test_the_prediction_is_what_the_bench_shows():
    (right,) = (c for c in BENCH.prediction(BENCH.at(*BENCH.defaults)).choices if c.right)
    assert right.text == "It closes the hip and opens the knee"
    assert BENCH.at(3, 90).arms_mm["hip"] > 0 > BENCH.at(3, 90).arms_mm["knee"]
