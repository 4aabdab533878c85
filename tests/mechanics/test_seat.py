"""Sit bones on a saddle, and a foot on a footbed: directions, symmetry and balance."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pedalwright.errors import OutOfRangeError
from pedalwright.footbed import Sole, stand_on_footbed
from pedalwright.pressure import force_n
from pedalwright.pressure_summary import centre_of_pressure_mm
from pedalwright.seat import Saddle, SitBones, saddle_load_n, sit, sit_bone_forces_n

LOAD = 350.0


@given(st.floats(0, 1000), st.floats(60, 160), st.floats(-0.5, 0.5))
def test_two_bones_balance_load_and_moment(load, width, share):
    place = share * width
    left, right = sit_bone_forces_n(load, place, width)
    assert left + right == pytest.approx(load, abs=1e-9)
    assert (right - left) * width / 2 == pytest.approx(load * place, abs=1e-6)


@settings(max_examples=15)
@given(st.floats(90, 150), st.floats(110, 180), st.floats(-15, 15))
def test_the_seat_balances_and_mirrors(bones, saddle, place):
    one = sit(SitBones(bones), Saddle(saddle), LOAD, load_across_mm=place)
    other = sit(SitBones(bones), Saddle(saddle), LOAD, load_across_mm=-place)
    assert one.left_force_n + one.right_force_n == pytest.approx(LOAD, rel=1e-8)
    assert centre_of_pressure_mm(one.contact.pressure)[0] == pytest.approx(place, abs=1e-6)
    assert other.left_force_n == pytest.approx(float(one.right_force_n), rel=1e-6)
    assert other.bone_share == pytest.approx(float(one.bone_share), abs=1e-8)
    assert 0 <= one.bone_share <= 1


def test_a_wider_saddle_never_takes_load_off_the_bones_until_it_holds_them_whole():
    shares = sit(SitBones(130.0), Saddle(np.arange(90.0, 190.0, 10.0)), LOAD).bone_share
    assert np.all(np.diff(shares[:8]) > 0)
    assert shares[-1] == pytest.approx(shares[-2], abs=0.02)


def test_a_slot_takes_load_off_soft_tissue_and_raises_the_peak_elsewhere():
    whole, slotted = (sit(SitBones(120.0), Saddle(150.0, slot_width_mm=slot), LOAD) for slot in (0.0, 25.0))
    assert slotted.bone_share > whole.bone_share
    assert slotted.peak_pressure_kpa > whole.peak_pressure_kpa


def test_leaning_forward_loads_soft_tissue():
    seats = sit(SitBones(120.0), Saddle(150.0), LOAD, load_along_mm=np.array([0.0, 10.0, 15.0]))
    assert np.all(np.diff(seats.soft_peak_kpa) > 0)
    assert np.all(np.diff(seats.contact.tilt_along_deg) > 0)


def test_finer_cells_change_little():
    coarse, fine = (sit(SitBones(120.0), Saddle(145.0), LOAD, cell_mm=cell) for cell in (4.0, 2.0))
    assert fine.bone_share == pytest.approx(float(coarse.bone_share), abs=0.02)
    assert fine.contact.depth_mm == pytest.approx(float(coarse.contact.depth_mm), rel=0.02)


def test_riders_and_saddles_broadcast():
    many = sit(SitBones(np.array([[100.0], [130.0]])), Saddle(np.array([120.0, 140.0, 160.0])), LOAD)
    assert many.bone_share.shape == (2, 3)
    alone = sit(SitBones(130.0), Saddle(160.0), LOAD)
    assert many.bone_share[1, 2] == pytest.approx(float(alone.bone_share), abs=0.01)


def test_load_on_the_saddle_falls_with_what_hands_and_pedals_take():
    loads = saddle_load_n(70.0, 0.15, np.array([0.2, 0.4, 0.85]))
    assert np.all(np.diff(loads) < 0)
    assert loads[-1] == pytest.approx(0.0, abs=1e-9)


@settings(max_examples=15)
@given(st.floats(0, 25), st.floats(-6, 6), st.floats(0, 1))
def test_the_foot_balances_over_the_pedal_and_mirrors(arch, tilt, filled):
    sole = Sole(arch_height_mm=arch, forefoot_tilt_deg=tilt)
    right, left = (stand_on_footbed(sole, 400.0, side=side, filled_share=filled) for side in ("right", "left"))
    assert force_n(right.contact.pressure) == pytest.approx(400.0, rel=1e-8)
    assert centre_of_pressure_mm(right.contact.pressure) == pytest.approx([0.0, 0.2 * 255], abs=1e-5)
    assert left.contact.pressure.pressure_kpa == pytest.approx(right.contact.pressure.pressure_kpa[:, ::-1], abs=1e-6)
    assert left.region_shares["inner midfoot"] == pytest.approx(float(right.region_shares["inner midfoot"]), abs=0.02)


def test_filling_the_arch_gains_contact_and_lowers_the_peak():
    steps = stand_on_footbed(Sole(), 400.0, filled_share=np.array([0.0, 0.5, 0.9]))
    assert np.all(np.diff(steps.midfoot_area_mm2) > 0)
    assert np.all(np.diff(steps.contact_area_mm2) > 0)
    assert np.all(np.diff(steps.peak_pressure_kpa) < 0)


def test_varus_held_upright_loads_the_outer_edge_and_a_wedge_spreads_it():
    def outer(foot):
        return foot.region_shares["outer forefoot"] + foot.region_shares["outer toes"]

    level, varus, wedged = (
        stand_on_footbed(Sole(forefoot_tilt_deg=tilt), 400.0, wedge_deg=wedge, tilt="along")
        for tilt, wedge in ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0))
    )
    assert outer(varus) > outer(wedged) > outer(level)
    assert varus.peak_pressure_kpa > wedged.peak_pressure_kpa


def test_a_wedge_of_the_whole_tilt_is_a_level_forefoot():
    level = stand_on_footbed(Sole(), 400.0)
    wedged = stand_on_footbed(Sole(forefoot_tilt_deg=4.0), 400.0, wedge_deg=4.0)
    assert wedged.contact.pressure.pressure_kpa == pytest.approx(level.contact.pressure.pressure_kpa, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: sit_bone_forces_n(-1.0, 0.0, 100.0), "load_n"),
        (lambda: sit_bone_forces_n(1.0, 0.0, 0.0), "bearing_width_mm"),
        (lambda: sit_bone_forces_n(1.0, 51.0, 100.0), "share of the right sit bone"),
        (lambda: saddle_load_n(0.0, 0.1, 0.1), "body_mass_kg"),
        (lambda: saddle_load_n(70.0, 0.6, 0.5), "share left for the saddle"),
        (lambda: saddle_load_n(70.0, -0.1, 0.5), "hand_share"),
        (lambda: saddle_load_n(70.0, 0.1, -0.5), "pedal_share"),
        (lambda: sit(SitBones(20.0), Saddle(140.0), LOAD), "bones width_mm"),
        (lambda: sit(SitBones(120.0), Saddle(30.0), LOAD), "saddle width_mm"),
        (lambda: sit(SitBones(120.0), Saddle(140.0, slot_width_mm=50.0), LOAD), "slot_width_mm"),
        (lambda: sit(SitBones(120.0), Saddle(140.0, crown_radius_mm=0.0), LOAD), "crown_radius_mm"),
        (lambda: sit(SitBones(120.0, bone_radius_mm=0.0), Saddle(140.0), LOAD), "bone_radius_mm"),
        (lambda: sit(SitBones(120.0), Saddle(140.0), 0.0), "load_n"),
        (lambda: sit(SitBones(120.0), Saddle(140.0), LOAD, cell_mm=0.5), "cell_mm"),
        (lambda: sit(SitBones(120.0), Saddle(140.0), LOAD, load_across_mm=90.0), "load_across_mm, load_along_mm"),
        (lambda: stand_on_footbed(Sole(), 400.0, side="inner"), "side"),
        (lambda: stand_on_footbed(Sole(), 400.0, filled_share=1.1), "filled_share"),
        (lambda: stand_on_footbed(Sole(arch_height_mm=-1.0), 400.0), "arch_height_mm"),
        (lambda: stand_on_footbed(Sole(forefoot_tilt_deg=16.0), 400.0), "forefoot_tilt_deg"),
        (lambda: stand_on_footbed(Sole(), 400.0, wedge_deg=16.0), "wedge_deg"),
        (lambda: stand_on_footbed(Sole(), 400.0, load_along_share=1.5), "load_along_share"),
        (lambda: stand_on_footbed(Sole(), 400.0, stiffness_kpa_mm=0.0), "stiffness_kpa_mm"),
        (lambda: stand_on_footbed(Sole(length_mm=0.0), 400.0), "length_mm"),
        (lambda: stand_on_footbed(Sole(), 400.0, cell_mm=1.0), "cell_mm"),
    ],
)
def test_unusable_input_raises_an_error_that_names_it(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}"):
        call()
