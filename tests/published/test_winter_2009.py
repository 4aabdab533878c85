"""Winter 2009, Biomechanics and Motor Control of Human Movement, table 4.1 (after Dempster 1955).

The numbers were read in a public data file that re-types the table, not in the book itself.
"""

import numpy as np
import pytest

from pedalwright._segment_tables import SEGMENT_TABLES
from pedalwright.body import leg_segments

# segment: mass fraction, centre of mass from proximal, radius of gyration about centre of mass, about proximal end
TABLE_4_1 = {
    "thigh": (0.100, 0.433, 0.323, 0.540),
    "shank": (0.0465, 0.433, 0.302, 0.528),
    "foot": (0.0145, 0.50, 0.475, 0.690),
}


@pytest.mark.parametrize("segment", TABLE_4_1)
def test_fractions_are_those_of_the_table(segment):
    leg = leg_segments(100, stature_mm=1750, table="winter_2009")
    part = getattr(leg, segment)
    fraction, com, radius, _ = TABLE_4_1[segment]
    assert part.mass_kg == pytest.approx(100 * fraction)
    assert part.com_from_proximal == pytest.approx(com)
    assert part.radius_of_gyration == pytest.approx(radius)


@pytest.mark.parametrize("segment", TABLE_4_1)
def test_parallel_axis_theorem_gives_the_tabulated_radius_about_the_proximal_end(segment):
    part = getattr(leg_segments(70, stature_mm=1750, table="winter_2009"), segment)
    radius = np.sqrt(part.inertia_about_proximal_kg_m2 / part.mass_kg) / (part.length_mm / 1000)
    assert radius == pytest.approx(TABLE_4_1[segment][3], abs=0.001)


def test_worked_leg_of_a_rider_of_1750_mm_and_70_kg():
    """Lengths, masses and inertias worked out by hand from the table's fractions."""
    leg = leg_segments(70, stature_mm=1750, table="winter_2009")
    assert leg.thigh.length_mm == pytest.approx(428.75)
    assert leg.shank.length_mm == pytest.approx(430.50)
    assert [leg.thigh.mass_kg, leg.shank.mass_kg, leg.foot.mass_kg] == pytest.approx([7.000, 3.255, 1.015])
    assert leg.thigh.inertia_kg_m2 == pytest.approx(0.134249, abs=1e-6)
    assert leg.shank.inertia_kg_m2 == pytest.approx(0.055019, abs=1e-6)


def test_total_leg_mass_and_centre_of_mass_agree_with_the_row_total_leg():
    """Row "total leg": mass 0.161, centre of mass 0.447 of the length from hip to medial malleolus.

    The row was measured on its own, so the sum of the parts (foot taken at the ankle) only comes near it.
    """
    leg = leg_segments(70, stature_mm=1750, table="winter_2009")
    assert leg.mass_kg == pytest.approx(0.161 * 70)
    ankle = leg.thigh.length_mm + leg.shank.length_mm
    moment = (
        leg.thigh.mass_kg * leg.thigh.com_from_proximal_mm
        + leg.shank.mass_kg * (leg.thigh.length_mm + leg.shank.com_from_proximal_mm)
        + leg.foot.mass_kg * ankle
    )
    assert moment / leg.mass_kg / ankle == pytest.approx(0.447, abs=0.02)


def test_foot_runs_from_malleolus_to_ball_not_from_the_heel():
    """The table's foot is lateral malleolus to head of metatarsal II."""
    foot = SEGMENT_TABLES["winter_2009"].rows["male"]["foot"]
    assert foot.proximal == "lateral malleolus"
    assert "metatarsal II" in foot.distal
    measured = leg_segments(70, stature_mm=1750, ankle_to_ball_mm=150, foot_length_mm=266, table="winter_2009").foot
    assert measured.length_mm == 150
