import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.body import (
    both_tables,
    check_rider,
    check_segment_lengths,
    leg_inertia,
    leg_segments,
    segment_lengths_mm,
)
from pedalwright.dynamics import inverse_dynamics
from pedalwright.errors import OutOfRangeError
from pedalwright.position import Leg, Position
from pedalwright.stroke import solve_stroke

STATURES = st.floats(1200, 2300)
MASSES = st.floats(25, 250)
TABLES = st.sampled_from(["de_leva_1996", "winter_2009"])
SEXES = st.sampled_from(["female", "male", "mean"])


@given(STATURES, MASSES, TABLES, SEXES, st.floats(0.8, 1.2))
def test_inertia_grows_with_mass_and_the_square_of_size(stature, mass, table, sex, factor):
    lengths = segment_lengths_mm(stature)
    small = leg_segments(
        mass,
        thigh_length_mm=lengths.thigh_length_mm,
        shank_length_mm=lengths.shank_length_mm,
        foot_length_mm=lengths.foot_length_mm,
        ankle_to_ball_mm=150,
        sex=sex,
        table=table,
    )
    large = leg_segments(
        mass,
        thigh_length_mm=lengths.thigh_length_mm * factor,
        shank_length_mm=lengths.shank_length_mm * factor,
        foot_length_mm=lengths.foot_length_mm * factor,
        ankle_to_ball_mm=150 * factor,
        sex=sex,
        table=table,
    )
    for name in ("thigh", "shank", "foot"):
        before, after = getattr(small, name), getattr(large, name)
        assert after.mass_kg == pytest.approx(before.mass_kg)
        assert after.inertia_kg_m2 == pytest.approx(before.inertia_kg_m2 * factor**2)
        assert after.inertia_about_proximal_kg_m2 == pytest.approx(before.inertia_about_proximal_kg_m2 * factor**2)


@given(STATURES, MASSES, TABLES, SEXES)
def test_a_segment_is_between_a_point_mass_and_two_points_at_its_ends(stature, mass, table, sex):
    leg = leg_segments(mass, stature_mm=stature, sex=sex, table=table)
    for part in (leg.thigh, leg.shank, leg.foot):
        assert 0 < part.com_from_proximal < 1
        ends = part.mass_kg * (part.length_mm / 2000) ** 2
        assert 0 < part.inertia_kg_m2 < ends
    assert leg.mass_kg == pytest.approx(leg.thigh.mass_kg + leg.shank.mass_kg + leg.foot.mass_kg)


@given(STATURES, MASSES)
def test_mean_lies_midway_between_the_columns(stature, mass):
    female, male, mean = (leg_segments(mass, stature_mm=stature, sex=sex) for sex in ("female", "male", "mean"))
    for name in ("thigh", "shank", "foot"):
        low, high, mid = (getattr(leg, name) for leg in (female, male, mean))
        assert mid.mass_kg == pytest.approx((low.mass_kg + high.mass_kg) / 2)
        assert mid.com_from_proximal == pytest.approx((low.com_from_proximal + high.com_from_proximal) / 2)


def test_riders_broadcast_and_keep_their_own_sex():
    masses, statures, sexes = np.array([60.0, 75.0]), np.array([1650.0, 1800.0]), np.array(["female", "male"])
    together = leg_segments(masses, stature_mm=statures, sex=sexes)
    assert together.thigh.mass_kg.shape == (2,)
    for i in range(2):
        alone = leg_segments(masses[i], stature_mm=statures[i], sex=str(sexes[i]))
        for name in ("thigh", "shank", "foot"):
            assert getattr(together, name).inertia_kg_m2[i] == pytest.approx(getattr(alone, name).inertia_kg_m2)


def test_measured_lengths_replace_estimates():
    leg = leg_segments(70, stature_mm=1750, thigh_length_mm=410, foot_length_mm=250)
    assert leg.thigh.length_mm == 410
    assert leg.shank.length_mm == pytest.approx(430.5)
    assert leg.foot.length_mm == 250


def test_ball_of_the_foot_is_estimated_from_foot_length_and_ankle_height():
    """0.48 of 266 mm along the sole and 68.25 mm above it: worked by hand."""
    foot = leg_segments(70, stature_mm=1750, table="winter_2009").foot
    assert foot.length_mm == pytest.approx(np.hypot(0.48 * 266, 68.25))
    longer = leg_segments(70, stature_mm=1750, foot_length_mm=300, table="winter_2009").foot
    assert longer.length_mm == pytest.approx(np.hypot(144, 68.25))


def test_both_tables_show_the_disagreement_about_the_thigh():
    legs = both_tables(70, 1750, sex="male")
    assert set(legs) == {"de_leva_1996", "winter_2009"}
    assert legs["de_leva_1996"].thigh.mass_kg / legs["winter_2009"].thigh.mass_kg == pytest.approx(1.416)
    assert all(leg.table == name for name, leg in legs.items())


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: leg_segments(70), ["thigh_length_mm", "stature_mm"]),
        (lambda: leg_segments(70, thigh_length_mm=430, shank_length_mm=430, table="winter_2009"), ["ankle_to_ball_mm"]),
        (lambda: leg_segments(70, stature_mm=1750, table="vitruvius"), ["vitruvius", "de_leva_1996", "winter_2009"]),
        (lambda: leg_segments(70, stature_mm=1750, sex="oak"), ["oak", "female", "male", "mean"]),
        (lambda: leg_segments(7000, stature_mm=1750), ["7000", "250"]),
        (lambda: leg_segments(70, stature_mm=1.75), ["1.75", "1200"]),
        (lambda: leg_segments(float("nan"), stature_mm=1750), ["nan"]),
        (lambda: leg_segments(70, stature_mm=1750, shank_length_mm=0), ["shank_length_mm", "above 0"]),
        (lambda: segment_lengths_mm(1750, table="winter_2009"), ["winter_2009", "drillis_contini_1966"]),
        (lambda: check_rider(1750, 24), ["mass_kg", "24"]),
        (lambda: check_rider(1200, 100), ["69.4", "12 to 60"]),
        (lambda: check_rider(2300, 30), ["5.7"]),
        (lambda: check_rider([1750, 2300], [70, 30]), ["5.7"]),
        (lambda: check_segment_lengths(1750, shank_length_mm=600), ["shank_length_mm", "344 to 517"]),
        (lambda: check_segment_lengths(1750, foot_length_mm=26.6), ["foot_length_mm", "26.6", "213 to 319"]),
        (lambda: check_segment_lengths(1750, thigh_length_mm=[430, 300]), ["300"]),
    ],
)
def test_errors_say_what_was_received_and_what_is_allowed(call, words):
    with pytest.raises(OutOfRangeError) as error:
        call()
    for word in words:
        assert word in str(error.value)


@given(STATURES, st.floats(-0.19, 0.19))
def test_real_legs_are_let_through(stature, deviation):
    lengths = segment_lengths_mm(stature)
    check_segment_lengths(
        stature,
        thigh_length_mm=lengths.thigh_length_mm * (1 + deviation),
        shank_length_mm=lengths.shank_length_mm * (1 - deviation),
        foot_length_mm=lengths.foot_length_mm * (1 + deviation),
    )


def test_ordinary_riders_are_let_through():
    check_rider([1500, 1750, 2000], [45, 70, 110])


def test_leg_inertia_of_the_older_table_lies_on_the_line_to_the_pedal():
    inertia = leg_inertia(70, Leg(428.75, 430.5, 150), table="winter_2009")
    assert inertia.mass_kg == pytest.approx([7.0, 3.255, 1.015])
    assert inertia.com_from_proximal == pytest.approx([0.433, 0.433, 0.5])
    assert inertia.radius_of_gyration == pytest.approx([0.323, 0.302, 0.475])


def test_leg_inertia_of_the_foot_from_heel_to_toe_is_carried_over_to_the_line_to_the_pedal():
    """Foot of a man, 260 mm, pedal 150 mm from the ankle and 35° below it, by plane geometry.

    Centre of mass 0.4415 · 260 − 65 = 49.79 mm ahead of the ankle and 43.02 mm below it; pedal at (122.87, −86.04).
    """
    inertia = leg_inertia(70, Leg(430, 430, 150, 35), foot_length_mm=260, sex="male")
    pedal = np.array([122.8728, -86.0365])
    expected = np.dot([49.79, -43.01825], pedal) / 150**2
    assert inertia.com_from_proximal[2] == pytest.approx(expected, abs=1e-4)
    assert inertia.radius_of_gyration[2] == pytest.approx(0.245 * 260 / 150)
    assert inertia.com_from_proximal[:2] == pytest.approx([0.4095, 0.4395])


def test_leg_inertia_without_a_foot_length_puts_the_ball_above_the_pedal():
    """122.87 mm from ankle to pedal along the sole is 0.48 of a foot of 255.98 mm."""
    without, given = (leg_inertia(70, Leg(430, 430, 150), foot_length_mm=foot) for foot in (None, 122.8728 / 0.48))
    assert without.com_from_proximal == pytest.approx(given.com_from_proximal, abs=1e-5)


def test_leg_inertia_of_many_riders_goes_into_the_dynamics():
    leg = Leg([410, 430], [410, 430], [148, 150])
    inertia = leg_inertia([60, 75], leg, sex=["female", "male"])
    assert np.shape(inertia.mass_kg) == (2, 3)
    loads = inverse_dynamics(solve_stroke(leg, Position(700, 200, 170), cadence_rpm=80), inertia, 0.0, -100.0)
    assert loads.knee_extension_moment_nm.shape == (2, 72)
    alone = leg_inertia(75, Leg(430, 430, 150), sex="male")
    assert np.asarray(inertia.radius_of_gyration)[1] == pytest.approx(alone.radius_of_gyration)


@pytest.mark.parametrize(("foot", "word"), [(0, "foot_length_mm"), (-1, "foot_length_mm")])
def test_leg_inertia_refuses_an_impossible_foot(foot, word):
    with pytest.raises(OutOfRangeError, match=word):
        leg_inertia(70, Leg(430, 430, 150), foot_length_mm=foot)


@pytest.mark.parametrize(
    ("accepted", "refused"),
    [
        (lambda v: segment_lengths_mm(v), [(1200, 1199.9), (2300, 2300.1)]),
        (lambda v: check_rider(v, 60), [(1200, 1199.9), (2200, 2300.1)]),
        (lambda v: check_rider(1300, v), [(25, 24.9)]),
        (lambda v: check_rider(2300, v), [(250, 250.1)]),
        (lambda v: check_rider(2000, v), [(48, 47.9), (240, 240.1)]),  # body mass index 12 and 60 kg/m²
        (lambda v: leg_segments(v, stature_mm=1750), [(25, 24.9), (250, 250.1)]),
        (lambda v: leg_segments(70, stature_mm=1750, thigh_length_mm=v), [(1e-3, 0)]),
        (lambda v: leg_segments(70, stature_mm=1750, foot_length_mm=v), [(1e-3, 0)]),
        (lambda v: leg_segments(70, stature_mm=1750, ankle_to_ball_mm=v, table="winter_2009"), [(1e-3, 0)]),
        (lambda v: check_segment_lengths(1750, thigh_length_mm=v), [(343.1, 342.9), (514.4, 514.6)]),
        (lambda v: leg_inertia(70, Leg(430, 430, v)), [(1e-3, 0)]),
        (lambda v: leg_inertia(70, Leg(430, 430, 150), foot_length_mm=v), [(1e-3, 0)]),
        (lambda v: leg_inertia(70, Leg(430, 430, 150, v)), [(1e-3, 0), (89.9, 90)]),
    ],
)
def test_limits_are_where_they_are_said_to_be(accepted, refused):
    for inside, outside in refused:
        accepted(inside)
        with pytest.raises(OutOfRangeError):
            accepted(outside)


def test_the_worst_length_and_its_own_rider_are_named():
    with pytest.raises(OutOfRangeError, match=r"received 300; allowed: 392 to 588 for a stature of 2000 mm"):
        check_segment_lengths([1750, 2000], thigh_length_mm=[430, 300])
