"""Kautz, Feltner, Coyle, Baylor 1991: pedal force of elite riders at two workloads, means of ten rows re-typed.

The file holds no pedal angle, so torque is bracketed: once with a level pedal, once with the pedal angles of another
study. The bracket was worked outside this package.
"""

import numpy as np
import pytest

from pedalwright.force import crank_force_from_pedal, mean_over_turn, resolve_on_crank
from pedalwright.recorded import RECORDS, recorded_pedal_angle, recorded_pedal_force
from pedalwright.turn import highest_point, sampled_angles_deg, sector_edges_deg

EVERY_36 = np.arange(10) * 36.0
NORMAL = {
    "low": (54.2, 226.1, 374.8, 371.8, 272.0, 132.4, -9.4, -29.6, -15.0, -22.8),
    "high": (58.2, 289.1, 490.1, 517.9, 391.1, 252.2, 57.5, 0.7, 11.9, -8.5),
}
SHEAR = {
    "low": (39.5, 61.9, 37.5, -0.9, -31.5, -39.0, -26.5, -16.6, -8.0, 1.6),
    "high": (23.8, 58.8, 61.3, 40.4, 15.3, 2.0, -15.6, -21.0, -13.0, -4.8),
}


@pytest.mark.parametrize("load", ["low", "high"])
def test_points_of_the_record(load):
    normal, shear = recorded_pedal_force(f"kautz_1991_{load}", EVERY_36)
    np.testing.assert_allclose(normal, NORMAL[load], atol=1e-9)
    np.testing.assert_allclose(shear, SHEAR[load], atol=1e-9)
    assert RECORDS[f"kautz_1991_{load}"].frame == "pedal"


# Peaks of the full curves, 101 points every 3.6° of which the last repeats the first: 389.1 N at 90.0° and 534.0 N at
# 97.2°; ten points place them within 1.5 % and 4°.
@pytest.mark.parametrize(("load", "peak", "where"), [("low", 389.1, 90.0), ("high", 534.0, 97.2)])
def test_peak_of_the_normal_force(load, peak, where):
    value, angle = highest_point(recorded_pedal_force(f"kautz_1991_{load}")[0])
    assert value == pytest.approx(peak, rel=0.015)
    assert angle == pytest.approx(where, abs=4)


# Mean tangential force with a level pedal and with the pedal angles of recreational riders, from the whole curves.
@pytest.mark.parametrize(("load", "level", "tilted"), [("low", 125.4, 120.6), ("high", 139.4, 133.6)])
def test_bracket_of_the_mean_tangential_force(load, level, tilted):
    angles = sampled_angles_deg(360)
    force = recorded_pedal_force(f"kautz_1991_{load}", angles)
    for expected, pedal in ((level, 0.0), (tilted, recorded_pedal_angle().at(angles))):
        found = resolve_on_crank(*crank_force_from_pedal(*force, pedal), angles).tangential_force_n
        assert mean_over_turn(found) == pytest.approx(expected, rel=3e-3)


# Common practice, no source: the useful push is greatest around forward horizontal, sectors four to six of sixteen.
@pytest.mark.parametrize("load", ["low", "high"])
def test_the_push_peaks_around_forward_horizontal(load):
    low, high = sector_edges_deg(16)[[3, 6]]
    angles = sampled_angles_deg(360)
    force = recorded_pedal_force(f"kautz_1991_{load}", angles)
    useful = resolve_on_crank(*crank_force_from_pedal(*force, 0.0), angles).tangential_force_n
    assert low <= highest_point(useful)[1] <= high
