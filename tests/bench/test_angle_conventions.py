"""The bench of one pose under many names: conversions by hand, angles from the drawn points, and its sentence."""

import math

import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.angle_conventions.words import number

BENCH = bench("angle-conventions")
STATES = [values for _, values in BENCH.states()]


def corner_deg(first, vertex, last):
    """Angle that three points include at the middle one, by the law of cosines."""
    a, b, c = math.dist(first, vertex), math.dist(vertex, last), math.dist(first, last)
    return math.degrees(math.acos((a * a + b * b - c * c) / (2 * a * b)))


@pytest.mark.parametrize("values", STATES)
def test_angles_are_those_of_the_drawn_points(values):
    found = BENCH.at(*values)
    pose = found.pose
    included = corner_deg(pose.hip_mm, pose.knee_mm, pose.ankle_mm)
    assert found.knee_deg == pytest.approx(
        {"flexion": 180 - included, "included angle": included, "extension positive": included - 180}
    )
    assert found.hip_deg["trunk to thigh"] == pytest.approx(corner_deg(found.shoulder_mm, pose.hip_mm, pose.knee_mm))
    drop = math.degrees(math.atan2(pose.hip_mm[1] - pose.knee_mm[1], pose.knee_mm[0] - pose.hip_mm[0]))
    assert found.hip_deg["thigh below horizontal"] == pytest.approx(drop)
    # a thigh straight down is 0° of flexion with the pelvis upright; the pelvis rolled forward adds its tilt
    assert found.hip_deg["thigh to pelvis"] == pytest.approx(90 - drop + pose.pelvis_tilt_deg)


@pytest.mark.parametrize("values", STATES)
def test_the_ankle_differs_by_what_the_names_say(values):
    ankle = BENCH.at(*values).ankle_deg
    assert ankle["included angle to the sole"] - ankle["plantar flexion"] == pytest.approx(90)
    assert ankle["included angle to the toe"] - ankle["included angle to the sole"] == pytest.approx(25)


def test_a_lower_trunk_changes_one_number_degree_for_degree():
    high, low = BENCH.at(90, 60), BENCH.at(90, 20)
    assert high.hip_deg["trunk to thigh"] - low.hip_deg["trunk to thigh"] == pytest.approx(40)
    for name in ("thigh to pelvis", "thigh below horizontal"):
        assert high.hip_deg[name] == pytest.approx(low.hip_deg[name])
    assert high.knee_deg == pytest.approx(low.knee_deg)


def test_the_window_is_the_same_under_each_name():
    # 25° to 35° of flexion (peveler_2005 quotes it) is 155° down to 145° included
    windows = BENCH.at(180, 50).window_deg
    assert windows == {
        "flexion": (25.0, 35.0),
        "included angle": (145.0, 155.0),
        "extension positive": (-35.0, -25.0),
    }
    assert BENCH.at(180, 50).at_bottom
    assert not BENCH.at(135, 50).at_bottom


def test_the_sentence_says_nine_numbers():
    found = BENCH.at(90, 20)
    said = BENCH.sentence(found)
    for angles in (found.knee_deg, found.hip_deg, found.ankle_deg):
        for value in angles.values():
            assert f" {number(value)}°" in said
    assert "window" not in said
    assert "window" in BENCH.sentence(BENCH.at(180, 20))


def test_numbers_carry_a_real_minus_and_no_minus_zero():
    assert [number(v) for v in (-37.4, -0.3, 0.2, 115.6)] == ["−37", "0", "0", "116"]


def test_prediction_and_label():
    (right,) = (c for c in BENCH.prediction(BENCH.at(*BENCH.defaults)).choices if c.right)
    assert right.text == "The angle between trunk and thigh"
    assert "weak or mixed" in BENCH.target
    assert len(STATES) <= 45
