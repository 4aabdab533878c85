"""Leg around the crank circle for one rider, worked outside this package by the law of cosines (Hull & Jorge 1985).

Hip (-200, 740) mm, crank 170, thigh 428.75, shank 430.5, ankle to pedal 150 mm, that line held at -35°.
Lengths are 0.245 and 0.246 of a stature of 1750 mm (Drillis & Contini 1966).
"""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from pedalwright.chain import solve_chain
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke
from pedalwright.turn import highest_point, lowest_point

# crank angle, hip to ankle (m), knee flexion, thigh, shank and included ankle angle (degrees)
TABLE = [
    (0, 0.49007, 110.451, -25.551, -136.003, 78.997),
    (30, 0.53204, 103.486, -20.368, -123.853, 91.147),
    (60, 0.61160, 89.240, -23.745, -112.985, 102.015),
    (90, 0.69910, 71.099, -33.666, -104.765, 110.235),
    (120, 0.77227, 52.006, -47.052, -99.058, 115.942),
    (150, 0.81743, 35.900, -60.572, -96.472, 118.528),
    (180, 0.82757, 31.216, -69.012, -100.228, 114.772),
    (210, 0.80123, 42.353, -69.341, -111.694, 103.306),
    (240, 0.74228, 60.492, -65.105, -125.597, 89.403),
    (270, 0.66053, 79.521, -58.225, -137.746, 77.254),
    (300, 0.57327, 96.302, -48.742, -145.044, 69.956),
    (330, 0.50680, 107.712, -36.874, -144.586, 70.414),
]
LEG = Leg(428.75, 430.5, 150, 35)
HEIGHT = np.hypot(200, 740)


def position(hip_moved_mm=0.0):
    """Hip moved along the line from crank axis to hip."""
    scale = (HEIGHT + hip_moved_mm) / HEIGHT
    return Position(HEIGHT * scale, 200 * scale, 170, hip_above_saddle_mm=0, hip_ahead_of_saddle_mm=0)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"crank {row[0]}")
def test_low_level_chain(row):
    chain = solve_chain(-200, 740, 428.75, 430.5, 150, 170, row[0], 0.0, 35)
    assert chain.hip_ankle_mm == pytest.approx(1000 * row[1], abs=0.006)
    assert chain.thigh_angle_deg == pytest.approx(row[3], abs=0.002)
    assert chain.shank_angle_deg == pytest.approx(row[4], abs=0.002)
    assert chain.thigh_angle_deg - chain.shank_angle_deg == pytest.approx(row[2], abs=0.002)
    assert 180 - (chain.foot_angle_deg - chain.shank_angle_deg) == pytest.approx(row[5], abs=0.002)


def test_the_whole_stroke():
    table = np.array(TABLE)
    stroke = solve_stroke(LEG, position(), table[:, 0], 0.0)
    np.testing.assert_allclose(stroke.knee_flexion_deg, table[:, 2], atol=0.002)
    np.testing.assert_allclose(stroke.thigh_angle_deg, table[:, 3], atol=0.002)
    np.testing.assert_allclose(stroke.shank_angle_deg, table[:, 4], atol=0.002)


def test_least_flexion_is_before_the_bottom_and_greatest_before_the_top():
    angles = np.arange(0, 360, 0.5)
    knee = solve_stroke(LEG, position(), angles).knee_flexion_deg
    np.testing.assert_allclose(lowest_point(knee)[0], 30.751, atol=0.002)
    np.testing.assert_allclose(lowest_point(knee)[1], 173.3, atol=0.05)
    np.testing.assert_allclose(highest_point(knee)[0], 110.707, atol=0.002)
    np.testing.assert_allclose(highest_point(knee)[1], 353.3, atol=0.05)


@pytest.mark.parametrize(("moved", "least"), [(-30, 43.228), (-20, 39.496), (-10, 35.387), (10, 25.301), (20, 18.324)])
def test_least_flexion_after_moving_the_saddle(moved, least):
    found = minimize_scalar(
        lambda crank: solve_stroke(LEG, position(moved), crank).knee_flexion_deg.item(),
        bounds=(150, 195),
        method="bounded",
    )
    assert found.fun == pytest.approx(least, abs=0.002)


def test_sensitivity_to_the_distance_at_the_bottom():
    # Analytic slope d/(t·s·sin(included)) at 180°: 0.4957 °/mm.
    chain = solve_chain(-200, 740, 428.75, 430.5, 150, 170, 180, 0)
    toward = (np.array([-200, 740]) - chain.ankle_mm) / chain.hip_ankle_mm
    near, far = (
        solve_chain(-200 + step * toward[0], 740 + step * toward[1], 428.75, 430.5, 150, 170, 180, 0)
        for step in (-0.01, 0.01)
    )
    slope = (near.thigh_angle_deg - near.shank_angle_deg - far.thigh_angle_deg + far.shank_angle_deg) / 0.02
    assert slope == pytest.approx(0.4957, abs=0.0005)


def test_sensitivity_to_the_thigh_at_the_bottom():
    # Hip and pedal held, law of cosines: (t² − s² + d²)/(2·t²·s·sin(included)) rad/mm, 0.4773 °/mm (by hand).
    chain = solve_chain(-200, 740, np.array([428.74, 428.76]), 430.5, 150, 170, 180, 0, 35)
    flexion = chain.thigh_angle_deg - chain.shank_angle_deg
    assert (flexion[1] - flexion[0]) / 0.02 == pytest.approx(0.4773, abs=0.0005)
