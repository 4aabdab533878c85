"""From the foot up to the knee: geometry against an independent construction, and directions."""

import inspect

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from pedalwright.errors import OutOfRangeError
from pedalwright.foot_collapse import (
    COUPLINGS,
    arch_eversion_deg,
    foot_collapse,
    knee_swing_radius_mm,
    tibial_rotation_deg,
)
from pedalwright.position import Leg

LEG = Leg(428.75, 430.5, 150.0)
length = st.floats(300, 550)
flexion = st.floats(1, 150)
drop = st.floats(0, 15)
tilt = st.floats(-10, 10)


@given(drop)
def test_the_roll_lowers_the_end_of_the_lever_by_the_drop(value):
    roll = np.radians(arch_eversion_deg(value, 35.0))
    assert 35.0 * np.sin(roll) == pytest.approx(value, abs=1e-9)


def test_default_lever():
    assert arch_eversion_deg(17.5) == pytest.approx(30.0)


@given(length, length, flexion)
def test_swing_radius_is_the_height_of_the_triangle_by_its_area(thigh, shank, knee):
    included = np.radians(180 - knee)
    base = np.sqrt(thigh**2 + shank**2 - 2 * thigh * shank * np.cos(included))
    half = (thigh + shank + base) / 2
    area = np.sqrt(half * (half - thigh) * (half - shank) * (half - base))  # Heron
    assert knee_swing_radius_mm(thigh, shank, knee) == pytest.approx(2 * area / base, rel=1e-6)


def test_a_straight_leg_cannot_swing():
    assert knee_swing_radius_mm(430, 430, 0) == 0
    assert foot_collapse(5.0, 3.0, LEG, 0.0).knee_drift_mm == 0


def test_drift_is_that_of_the_leg_turned_about_the_line_from_hip_to_ankle():
    """Three-dimensional construction with a rotation library."""
    knee_flexion, turn = 70.0, float(tibial_rotation_deg(8.0))
    hip, knee = np.zeros(3), np.array([428.75, 0.0, 0.0])
    down = np.radians(-knee_flexion)
    ankle = knee + 430.5 * np.array([np.cos(down), np.sin(down), 0.0])
    axis = (ankle - hip) / np.linalg.norm(ankle - hip)
    turned = Rotation.from_rotvec(np.radians(turn) * axis).apply(knee)
    found = foot_collapse(0.0, 8.0, LEG, knee_flexion)
    assert found.knee_drift_mm == pytest.approx(abs(turned[2]))


@given(drop, tilt)
def test_roll_of_arch_and_forefoot_add_up(arch, fore):
    both = foot_collapse(arch, fore, LEG, 70.0).eversion_deg
    parts = foot_collapse(arch, 0.0, LEG, 70.0).eversion_deg + foot_collapse(0.0, fore, LEG, 70.0).eversion_deg
    assert both == pytest.approx(float(parts), abs=1e-9)


@given(drop, tilt, st.floats(0, 1), flexion)
def test_holding_the_arch_never_increases_the_roll(arch, fore, held, knee):
    free, kept = (foot_collapse(arch, fore, LEG, knee, held_share=share) for share in (0.0, held))
    assert kept.eversion_deg <= free.eversion_deg + 1e-12


@given(tilt, flexion)
def test_mirror_of_varus_is_valgus(fore, knee):
    one, other = foot_collapse(0.0, fore, LEG, knee), foot_collapse(0.0, -fore, LEG, knee)
    assert other.knee_drift_mm == pytest.approx(-float(one.knee_drift_mm), abs=1e-9)
    assert other.knee_drift_lower_mm == pytest.approx(-float(one.knee_drift_upper_mm), abs=1e-9)


@given(drop, tilt, flexion)
def test_drift_lies_within_its_range(arch, fore, knee):
    found = foot_collapse(arch, fore, LEG, knee)
    assert found.knee_drift_lower_mm <= found.knee_drift_mm + 1e-9
    assert found.knee_drift_mm <= found.knee_drift_upper_mm + 1e-9


def test_range_is_that_of_the_coupling():
    found = foot_collapse(0.0, 5.0, LEG, 70.0, coupling="runners")
    radius = knee_swing_radius_mm(428.75, 430.5, 70.0)
    assert found.knee_drift_lower_mm == pytest.approx(radius * np.sin(np.radians(2.5)))
    assert found.knee_drift_upper_mm == pytest.approx(radius * np.sin(np.radians(10 / 3)))
    assert found.tibial_rotation_deg == pytest.approx(5.0 * 4 / 7)


def test_a_wedge_that_fills_the_tilt_stops_the_roll_and_the_wrong_edge_doubles_it():
    assert foot_collapse(0.0, 3.0, LEG, 70.0, wedge_deg=3.0).eversion_deg == 0
    assert foot_collapse(0.0, 3.0, LEG, 70.0, wedge_deg=-3.0).eversion_deg == pytest.approx(6.0)


def test_full_support_leaves_only_the_forefoot():
    assert foot_collapse(6.0, 2.0, LEG, 70.0, held_share=1.0).eversion_deg == pytest.approx(2.0)


@given(drop, st.floats(0, 10), flexion, st.floats(0.7, 1.4))
def test_drift_scales_with_the_size_of_the_leg(arch, fore, knee, factor):
    large = Leg(428.75 * factor, 430.5 * factor, 150.0)
    one = foot_collapse(arch, fore, LEG, knee).knee_drift_mm
    assert foot_collapse(arch, fore, large, knee).knee_drift_mm == pytest.approx(factor * float(one), rel=1e-9)


def test_many_riders_and_crank_angles_at_once():
    found = foot_collapse(np.full((4, 1), 4.0), 2.0, LEG, np.linspace(30, 110, 7))
    assert found.knee_drift_mm.shape == (4, 7)


def test_coupling_is_chosen_by_name_and_the_one_that_was_read_is_the_default():
    assert inspect.signature(tibial_rotation_deg).parameters["coupling"].default == "in vitro"
    assert tibial_rotation_deg([-10.0, 0.0, 10.0]) == pytest.approx([-6.8, 0.0, 6.8])
    assert all(one.lower < one.share < one.upper and one.known_from for one in COUPLINGS.values())


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: arch_eversion_deg(-1.0), "arch_drop_mm"),
        (lambda: arch_eversion_deg(1.0, 0.0), "arch_lever_mm"),
        (lambda: arch_eversion_deg(35.0), "arch_drop_mm / arch_lever_mm: .*both in mm"),
        (lambda: tibial_rotation_deg(46.0), "eversion_deg"),
        (lambda: tibial_rotation_deg(-46.0), "eversion_deg"),
        (lambda: tibial_rotation_deg(1.0, "walkers"), "coupling"),
        (lambda: knee_swing_radius_mm(0.0, 1.0, 1.0), "thigh_length_mm"),
        (lambda: knee_swing_radius_mm(1.0, 0.0, 1.0), "shank_length_mm"),
        (lambda: knee_swing_radius_mm(1.0, 1.0, -1.0), "knee_flexion_deg"),
        (lambda: knee_swing_radius_mm(1.0, 1.0, 180.0), "knee_flexion_deg"),
        (lambda: foot_collapse(-1.0, 0.0, LEG, 70.0), "arch_drop_mm"),
        (lambda: foot_collapse(1.0, 45.0, LEG, 70.0), "forefoot_tilt_deg"),
        (lambda: foot_collapse(1.0, -45.0, LEG, 70.0), "forefoot_tilt_deg"),
        (lambda: foot_collapse(1.0, 0.0, LEG, 70.0, wedge_deg=np.nan), "wedge_deg"),
        (lambda: foot_collapse(1.0, 0.0, LEG, 70.0, held_share=1.1), "held_share"),
        (lambda: foot_collapse(1.0, 0.0, LEG, 70.0, held_share=-0.1), "held_share"),
        (lambda: foot_collapse(1.0, 0.0, LEG, 70.0, coupling="walkers"), "coupling"),
    ],
)
def test_unusable_input_raises_an_error_that_names_it(call, name):
    with pytest.raises(OutOfRangeError, match=f"^{name}"):
        call()


def test_ends_of_the_ranges_are_allowed():
    assert tibial_rotation_deg([-45.0, 45.0]) == pytest.approx([-30.6, 30.6])
    assert foot_collapse(0.0, 0.0, LEG, 0.0, held_share=[0.0, 1.0]).eversion_deg.tolist() == [0.0, 0.0]


def test_by_hand_with_the_defaults_and_with_another_lever():
    """A drop of 3.5 mm on a lever of 35 mm is 5.739° of roll, on 70 mm 2.866°; nothing held, no wedge."""
    assert foot_collapse(3.5, 1.0, LEG, 70.0).eversion_deg == pytest.approx(6.739, abs=1e-3)
    assert foot_collapse(3.5, 1.0, LEG, 70.0, arch_lever_mm=70.0).eversion_deg == pytest.approx(3.866, abs=1e-3)


def test_a_negative_drop_is_refused_even_where_all_of_it_is_held():
    with pytest.raises(OutOfRangeError, match=r"^arch_drop_mm"):
        foot_collapse(-1.0, 0.0, LEG, 70.0, held_share=1.0)


def test_small_levers_are_allowed_and_the_message_says_what_to_do():
    assert arch_eversion_deg(0.25, 0.5) == pytest.approx(30.0)
    with pytest.raises(OutOfRangeError, match=r"; check drop and lever, both in mm$"):
        arch_eversion_deg(40.0)
