"""Knee path and midline offset seen from the front."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.frontal import knee_path, midline_offset_mm, pair_offset_mm

CRANK = np.arange(72) * 5.0


@given(st.floats(-30, 30), st.floats(0, 30), st.floats(0, 360))
def test_mirror_of_the_right_knee_is_the_left_knee(mean, amplitude, phase):
    lateral = 125 + mean + amplitude * np.cos(np.radians(CRANK - phase))
    right, left = knee_path(lateral, 125.0, "right"), knee_path(-lateral, -125.0, "left")
    assert left.inward_mm == pytest.approx(right.inward_mm)
    assert left.push_inward_mm == pytest.approx(float(right.push_inward_mm))


def test_a_sinusoid_is_described_by_its_amplitude_and_phase():
    lateral = 125.0 - 4.0 - 10.0 * np.sin(np.radians(CRANK))
    path = knee_path(lateral, 125.0, "right")
    assert path.mean_inward_mm == pytest.approx(4.0)
    assert path.width_mm == pytest.approx(20.0)
    assert path.innermost_crank_angle_deg == 90.0
    # mean of a sine over its positive half is 2/π, sampled every 5° within a promille
    assert path.push_inward_mm == pytest.approx(4.0 + 10.0 * 2 / np.pi, rel=2e-3)


def test_many_riders_at_once():
    lateral = 120.0 + np.random.default_rng(1).normal(size=(5, 72))
    path = knee_path(lateral, np.full(5, 125.0), "right")
    assert path.width_mm.shape == (5,)
    assert path.inward_mm[3] == pytest.approx(knee_path(lateral[3], 125.0, "right").inward_mm)


@given(st.floats(-100, 100), st.floats(-200, 900), st.floats(-10, 10))
def test_a_leaning_picture_does_not_change_the_offset(across, up, lean):
    turn = np.radians(lean)
    turned = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    points = [turned @ np.array(point) for point in ([across, up], [0.0, 0.0], [0.0, 700.0])]
    assert midline_offset_mm(*points) == pytest.approx(across, abs=1e-6)


def test_the_riders_right_is_positive():
    assert midline_offset_mm([30, 100], [0, 0], [0, 700]) == 30
    assert pair_offset_mm(80, -60) == 10


@pytest.mark.parametrize(
    "call",
    [
        lambda: knee_path([1.0, 2.0, 3.0], 0.0, "right"),
        lambda: knee_path(1.0, 0.0, "right"),
        lambda: knee_path([1.0] * 4, 0.0, "outer"),
        lambda: midline_offset_mm([1.0, 2.0, 3.0], [0, 0], [0, 1]),
        lambda: midline_offset_mm([1.0, 2.0], [0, 5], [0, 1]),
        lambda: pair_offset_mm(-1.0, 1.0),
    ],
)
def test_unusable_input_raises_the_one_clear_error(call):
    with pytest.raises(OutOfRangeError, match=r"received .* allowed"):
        call()
