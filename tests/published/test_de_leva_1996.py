"""De Leva 1996, J Biomech 29:1223-1230, table 4: segment parameters moved to joint centres.

Fractions were read in a public data file and on a second site that re-types them; lengths of men in two further
files. Lengths of women, statures and masses of the samples are from memory.
"""

import numpy as np
import pytest

from pedalwright._segment_tables import SEGMENT_TABLES
from pedalwright.body import leg_segments, segment_lengths_mm

# mass fraction, centre of mass from proximal, radius of gyration about the transverse axis
MALE = {"thigh": (0.1416, 0.4095, 0.329), "shank": (0.0433, 0.4395, 0.246), "foot": (0.0137, 0.4415, 0.245)}
FEMALE = {"thigh": (0.1478, 0.3612, 0.364), "shank": (0.0481, 0.4352, 0.263), "foot": (0.0129, 0.4014, 0.279)}


@pytest.mark.parametrize(("sex", "rows"), [("male", MALE), ("female", FEMALE)])
@pytest.mark.parametrize("segment", ["thigh", "shank", "foot"])
def test_fractions_are_those_of_the_table(sex, rows, segment):
    part = getattr(leg_segments(100, stature_mm=1740, sex=sex), segment)
    fraction, com, radius = rows[segment]
    assert part.mass_kg == pytest.approx(100 * fraction)
    assert part.com_from_proximal == pytest.approx(com)
    assert part.radius_of_gyration == pytest.approx(radius)


def test_masses_of_a_man_of_73_kg():
    """Mean body mass of the men, 73.0 kg (from memory), times the fractions of table 4."""
    leg = leg_segments(73, stature_mm=1741, sex="male")
    assert [leg.thigh.mass_kg, leg.shank.mass_kg, leg.foot.mass_kg] == pytest.approx([10.337, 3.161, 1.000], abs=5e-4)


def test_whole_body_of_the_men_sums_to_one():
    """Head 0.0694, trunk 0.4346, arm 0.0271, forearm 0.0162, hand 0.0061; the leg comes from the package."""
    rows = SEGMENT_TABLES["de_leva_1996"].rows["male"]
    leg = sum(rows[name].mass_fraction for name in ("thigh", "shank", "foot"))
    assert 0.0694 + 0.4346 + 2 * (0.0271 + 0.0162 + 0.0061 + leg) == pytest.approx(1, abs=5e-4)


def test_two_shanks_of_the_men_place_their_centre_of_mass_alike():
    """Knee to ankle centre (440.3 mm) and knee to malleolus (434.0 mm): the same point, 193.5 mm below the knee."""
    rows = SEGMENT_TABLES["de_leva_1996"].rows["male"]
    assert rows["shank"].com_from_proximal * 440.3 == pytest.approx(193.5, abs=0.1)
    assert rows["shank to malleolus"].com_from_proximal * 434.0 == pytest.approx(193.5, abs=0.1)
    assert rows["shank"].radius_of_gyration * 440.3 == pytest.approx(
        rows["shank to malleolus"].radius_of_gyration * 434.0, abs=0.5
    )


def test_mean_lengths_of_the_samples():
    men = segment_lengths_mm(1741, table="de_leva_1996", sex="male")
    assert [men.thigh_length_mm, men.shank_length_mm, men.foot_length_mm] == pytest.approx([422.2, 440.3, 258.1])
    women = segment_lengths_mm(1735, table="de_leva_1996", sex="female")  # from memory
    assert [women.thigh_length_mm, women.shank_length_mm, women.foot_length_mm] == pytest.approx([368.5, 438.6, 228.3])


def test_foot_starts_at_the_heel():
    foot = leg_segments(73, stature_mm=1741, sex="male").foot
    assert (foot.proximal, foot.distal) == ("heel", "toe tip")


def test_women_carry_the_thigh_mass_higher_than_the_older_table_says():
    """36 % of the length against 43 %: the disagreement the two tables are shown for."""
    women = leg_segments(62, stature_mm=1735, sex="female").thigh
    older = leg_segments(62, stature_mm=1735, table="winter_2009").thigh
    assert np.round(women.com_from_proximal, 2) == 0.36
    assert np.round(older.com_from_proximal, 2) == 0.43
