import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pedalwright.body import (
    both_tables,
    check_rider,
    check_segment_lengths,
    leg_segments,
    segment_lengths_mm,
)
from pedalwright.errors import OutOfRangeError

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
