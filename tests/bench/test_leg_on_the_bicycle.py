"""The bench of the leg on the bicycle: by the law of cosines, against published directions, and its sentence."""

import math

import numpy as np
import pytest

from pedalwright_bench.bench import bench
from pedalwright_bench.benches.leg_on_the_bicycle.model import height_in_words, setback_in_words

BENCH = bench("leg-on-the-bicycle")
STATES = [values for _, values in BENCH.states()]
THIGH, SHANK, FOOT = 428.75, 430.5, 150.0


def flexion_by_hand(raised, back, crank, pedal_deg):
    """Knee flexion with the crank at the bottom, from the saddle's place and three sides of a triangle."""
    stretch = 1 + raised / 735
    setback = 198 * stretch + back
    level = math.sqrt(735**2 - 198**2) * stretch
    hip = (-setback + 40, level + 30)
    down = math.radians(35 + pedal_deg)
    ankle = (-FOOT * math.cos(down), -crank + FOOT * math.sin(down))
    reach = math.dist(hip, ankle)
    return 180 - math.degrees(math.acos((THIGH**2 + SHANK**2 - reach**2) / (2 * THIGH * SHANK)))


@pytest.mark.parametrize("values", STATES)
def test_both_readings_at_the_bottom_by_hand(values):
    found = BENCH.at(*values)
    assert found.still_knee_deg == pytest.approx(flexion_by_hand(*values, 0), abs=1e-6)
    # park_caldwell_umberger_2022: pedal angle 3.3° toe down at the bottom
    assert found.knee_at_bottom_deg == pytest.approx(flexion_by_hand(*values, 3.3), abs=1e-6)


@pytest.mark.parametrize("values", STATES)
def test_the_knee_is_straightest_before_the_bottom(values):
    # farrell_2003: least flexion near 170°; the published golden chain with a fixed foot has 173.3°
    found = BENCH.at(*values)
    assert 150 < found.least_at_deg < 178
    assert found.least_knee_deg < found.knee_at_bottom_deg


def test_directions_agree_with_those_measured():
    # ferrer_roca_2014: a higher saddle extends hip and knee; a longer crank bends the knee more at the top (geometry)
    heights = [BENCH.at(raised, 0, 170) for raised in (-20, -10, 0, 10, 20)]
    assert np.all(np.diff([found.still_knee_deg for found in heights]) < 0)
    assert np.all(np.diff([found.hip_deg.min() for found in heights]) < 0)
    cranks = [BENCH.at(0, 0, crank) for crank in (165, 170, 175)]
    assert np.all(np.diff([found.knee_deg.max() for found in cranks]) > 0)
    assert np.all(np.diff([found.still_knee_deg for found in cranks]) < 0)


def test_the_slope_is_that_of_a_fixed_foot():
    # geometry of the published chain: 0.46 to 0.62 degrees a millimetre where the knee is bent about 30°
    slope = (BENCH.at(-10, 0, 170).still_knee_deg - BENCH.at(10, 0, 170).still_knee_deg) / 20
    assert 0.40 < slope < 0.62


def test_the_saddle_back_puts_the_knee_behind_the_pedal():
    assert abs(BENCH.at(0, 0, 170).knee_ahead_mm) < 0.5
    assert BENCH.at(0, 20, 170).knee_ahead_mm < -10 < 10 < BENCH.at(0, -20, 170).knee_ahead_mm


def test_windows_and_verdicts():
    found = BENCH.at(0, 0, 170)
    assert (found.still_inside, found.moving_inside) == (True, False)
    assert (BENCH.at(20, 0, 170).still_inside, BENCH.at(-20, 0, 165).still_inside) == (False, False)
    assert BENCH.at(-10, 0, 170).moving_inside


@pytest.mark.parametrize("values", [(0, 0, 170), (-20, 20, 165), (20, -20, 175)])
def test_the_sentence_says_the_numbers(values):
    found = BENCH.at(*values)
    said = BENCH.sentence(found)
    still, moving = ("inside" if inside else "outside" for inside in (found.still_inside, found.moving_inside))
    assert f"the knee bends {found.still_knee_deg:.0f}°, {still} its window" in said
    assert f"straightest at {found.least_at_deg:.0f}°, before the bottom, with {found.least_knee_deg:.0f}°" in said
    assert f"({moving} its window; {found.knee_at_bottom_deg:.0f}° at the bottom itself)" in said
    assert f"crank {values[2]} mm" in said


def test_words_labels_and_size():
    assert [height_in_words(v, "mm") for v in (0, -10, 20)] == ["where it started", "10 mm lower", "20 mm higher"]
    assert [setback_in_words(v, "mm") for v in (20, -20)] == ["20 mm back", "20 mm forward"]
    assert "weak or mixed" in BENCH.target
    assert "common practice" in BENCH.target
    assert "physician" in " ".join(text for _, text in BENCH.notes)
    assert len(STATES) <= 45
