"""Johnson 1985, elastic foundation (section 4.3, from memory): round bodies in a bed of springs, closed forms."""

import numpy as np
import pytest

from pedalwright.bed import press, series_stiffness_kpa_mm
from pedalwright.pressure import force_n
from pedalwright.pressure_summary import centre_of_pressure_mm, contact_area_mm2, left_right_force_n
from pedalwright.seat import Saddle, SitBones, sit, sit_bone_forces_n

CELL = 0.5
HALF = 40.0
PLACES = np.arange(-HALF + CELL / 2, HALF, CELL)
STIFFNESS = 2.0


def load_of_sphere(radius, depth):
    """F = πk(R·d² − d³/3), k in N/mm³: 1 kPa/mm is 0.001 N/mm³."""
    return np.pi * STIFFNESS * 1e-3 * (radius * depth**2 - depth**3 / 3)


@pytest.mark.parametrize(("radius", "depth"), [(50.0, 4.0), (100.0, 3.0), (45.0, 8.0)])
def test_sphere(radius, depth):
    across, along = np.meshgrid(PLACES, PLACES)
    gap = radius - np.sqrt(radius**2 - np.minimum(across**2 + along**2, radius**2))
    found = press(gap, STIFFNESS, load_of_sphere(radius, depth), cell_across_mm=CELL, cell_along_mm=CELL)
    assert found.depth_mm == pytest.approx(depth, rel=2e-4)
    assert contact_area_mm2(found.pressure) == pytest.approx(np.pi * (2 * radius * depth - depth**2), rel=5e-3)
    assert found.pressure.pressure_kpa.max() == pytest.approx(STIFFNESS * depth, rel=2e-3)
    assert found.tilt_across_deg == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(("radius", "depth"), [(60.0, 5.0), (200.0, 2.0)])
def test_cylinder(radius, depth):
    """Force per length is k times the circular segment that lies below the surface."""
    segment = radius**2 * np.arccos((radius - depth) / radius) - (radius - depth) * np.sqrt(
        2 * radius * depth - depth**2
    )
    gap = np.broadcast_to(radius - np.sqrt(radius**2 - PLACES**2), (10, PLACES.size))
    load = STIFFNESS * 1e-3 * segment * 10 * CELL
    found = press(gap, STIFFNESS, load, cell_across_mm=CELL, cell_along_mm=CELL)
    assert found.depth_mm == pytest.approx(depth, rel=2e-4)


def test_flat_plate_loaded_beside_the_middle():
    """p = F/A·(1 + 12·e·x/b²) while e stays within a sixth of the breadth: beam theory, worked by hand."""
    count, cell, eccentric = 60, 2.0, 12.0
    breadth = count * cell
    found = press(np.zeros((10, count)), 5.0, 600.0, cell_across_mm=cell, cell_along_mm=cell, load_across_mm=eccentric)
    mean_kpa = 600.0 / (10 * cell * breadth) * 1000
    x = found.pressure.across_mm
    inertia = np.mean(x**2)  # of the cell middles, b²/12 in the limit of small cells
    assert found.pressure.pressure_kpa[4] == pytest.approx(mean_kpa * (1 + eccentric * x / inertia), rel=1e-9)


def test_layers_in_series():
    """1/(1/20 + 1/5) = 4."""
    assert series_stiffness_kpa_mm(20.0, 5.0) == pytest.approx(4.0)


def test_two_sit_bones_share_as_a_lever():
    """F_left/F_right = d_right/d_left about the line of the load."""
    left, right = sit_bone_forces_n(400.0, 15.0, 120.0)
    assert left / right == pytest.approx((60 - 15) / (60 + 15))


def test_two_sit_bones_on_the_bed_share_as_a_lever_about_their_own_centres():
    bones = SitBones(120.0, soft_rise_mm=1000.0)
    seating = sit(bones, Saddle(200.0, crown_radius_mm=1e9), 400.0, load_across_mm=15.0)
    columns = np.broadcast_to(seating.contact.pressure.across_mm < 0, seating.contact.pressure.pressure_kpa.shape)
    left_centre = centre_of_pressure_mm(seating.contact.pressure, columns)[0]
    right_centre = centre_of_pressure_mm(seating.contact.pressure, ~columns)[0]
    left, right = left_right_force_n(seating.contact.pressure)
    assert left / right == pytest.approx((right_centre - 15.0) / (15.0 - left_centre), rel=1e-8)
    assert left + right == pytest.approx(force_n(seating.contact.pressure))
    assert right == pytest.approx(sit_bone_forces_n(400.0, 15.0, 120.0)[1], rel=0.05)
