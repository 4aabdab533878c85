"""Segments of the leg: masses, centres of mass and moments of inertia from published tables."""

from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._segment_tables import (
    HEEL_TO_ANKLE,
    HEEL_TO_BALL,
    SEGMENT_TABLES,
    SegmentRow,
    male_share,
    mix,
)
from pedalwright._typing import Floats, Numbers
from pedalwright.body_lengths import segment_lengths_mm
from pedalwright.errors import OutOfRangeError, checked

DEFAULT_TABLE = "de_leva_1996"


@dataclass(frozen=True)
class Segment:
    """One segment with the end points its fractions belong to; radius of gyration about its centre of mass.

    Parameters
    ----------
    length_mm : numpy.ndarray
        Length between the two end points. [mm]
    mass_kg : numpy.ndarray
        Mass. [kg]
    com_from_proximal : numpy.ndarray
        Distance of the centre of mass from the proximal end, as a fraction of the length. [1]
    radius_of_gyration : numpy.ndarray
        Radius of gyration about the centre of mass for motion in the sagittal plane, fraction of the length. [1]
    proximal, distal : str
        The two end points.

    References
    ----------
    winter_2009
    de_leva_1996

    Examples
    --------
    >>> shank = leg_segments(70, stature_mm=1750, table="winter_2009").shank
    >>> shank.inertia_kg_m2.item()
    0.055019
    >>> shank.proximal, shank.distal
    ('femoral condyles', 'medial malleolus')
    """

    length_mm: Floats
    mass_kg: Floats
    com_from_proximal: Floats
    radius_of_gyration: Floats
    proximal: str
    distal: str

    @property
    def com_from_proximal_mm(self) -> Floats:
        """Distance of the centre of mass from the proximal end, in mm."""
        return np.asarray(self.com_from_proximal * self.length_mm)

    @property
    def inertia_kg_m2(self) -> Floats:
        """Moment of inertia about the centre of mass, in kg·m²."""
        return np.asarray(self.mass_kg * (self.radius_of_gyration * self.length_mm / 1000) ** 2)

    @property
    def inertia_about_proximal_kg_m2(self) -> Floats:
        """Moment of inertia about the proximal end in kg·m², by the parallel-axis theorem."""
        return np.asarray(self.inertia_kg_m2 + self.mass_kg * (self.com_from_proximal_mm / 1000) ** 2)


@dataclass(frozen=True)
class LegSegments:
    """Thigh, shank and foot of one leg by one table.

    Parameters
    ----------
    thigh, shank, foot : Segment
        The segments; mind that the feet of the two tables have different end points.
    table : str
        Name of the table.

    References
    ----------
    winter_2009
    de_leva_1996

    Examples
    --------
    >>> leg_segments(70, stature_mm=1750, table="winter_2009").mass_kg.item()
    11.27
    """

    thigh: Segment
    shank: Segment
    foot: Segment
    table: str

    @property
    def mass_kg(self) -> Floats:
        """Mass of the whole leg, in kg."""
        return np.asarray(self.thigh.mass_kg + self.shank.mass_kg + self.foot.mass_kg)


def leg_segments(
    body_mass_kg: Numbers,
    *,
    stature_mm: Numbers | None = None,
    thigh_length_mm: Numbers | None = None,
    shank_length_mm: Numbers | None = None,
    foot_length_mm: Numbers | None = None,
    ankle_to_ball_mm: Numbers | None = None,
    sex: str | Numbers = "mean",
    table: str = DEFAULT_TABLE,
) -> LegSegments:
    """Masses, centres of mass and inertias of thigh, shank and foot.

    Lengths that are measured are used; the others are estimated from stature by ``drillis_contini_1966``.

    Parameters
    ----------
    body_mass_kg : array_like
        Body mass, 25 to 250. [kg]
    stature_mm : array_like, optional
        Standing height, needed for every length that is not given, 1200 to 2300. [mm]
    thigh_length_mm : array_like, optional
        Hip joint centre (greater trochanter) to knee joint centre, above 0. [mm]
    shank_length_mm : array_like, optional
        Knee joint centre to ankle joint centre (malleolus), above 0. [mm]
    foot_length_mm : array_like, optional
        Heel to toe tip, above 0; the foot of ``de_leva_1996``. [mm]
    ankle_to_ball_mm : array_like, optional
        Lateral malleolus to the head of metatarsal II, above 0; the foot of ``winter_2009``. [mm]
    sex : {"female", "male", "mean"} or array of these
        Column of the table; ``mean`` lies midway and is an assumption of this package.
    table : {"de_leva_1996", "winter_2009"}
        Where the fractions come from.

    Returns
    -------
    LegSegments
        The three segments; arrays broadcast over the inputs.

    Raises
    ------
    OutOfRangeError
        If a value is out of range, a name unknown, or a length neither given nor to be estimated.

    Notes
    -----
    *Published regression.* ``winter_2009`` goes back to the dissection of eight older men; ``de_leva_1996`` to scans of
    young athletes. The two "feet" are different segments: malleolus to ball, and heel to toe tip. Each table is used
    with its own foot here.

    References
    ----------
    dempster_1955
    winter_2009
    de_leva_1996
    drillis_contini_1966

    Examples
    --------
    >>> leg_segments(73, stature_mm=1741, sex="male").thigh.mass_kg.item()
    10.3368
    >>> leg_segments(73, stature_mm=1741, sex="male", table="winter_2009").thigh.mass_kg.item()
    7.3
    """
    mass = checked("body_mass_kg", body_mass_kg, at_least=25, at_most=250, advice="give kilograms")
    rows = chosen("table", table, SEGMENT_TABLES).rows
    share = male_share(sex)
    thigh = _given_or_estimated("thigh_length_mm", thigh_length_mm, stature_mm)
    shank = _given_or_estimated("shank_length_mm", shank_length_mm, stature_mm)
    if rows["male"]["foot"].proximal == "heel":
        foot = _given_or_estimated("foot_length_mm", foot_length_mm, stature_mm)
    else:
        foot = _ankle_to_ball_mm(ankle_to_ball_mm, foot_length_mm, stature_mm)
    thigh_part, shank_part, foot_part = (
        _segment(mass, length, rows["male"][name], rows["female"][name], share)
        for name, length in (("thigh", thigh), ("shank", shank), ("foot", foot))
    )
    return LegSegments(thigh_part, shank_part, foot_part, table)


def both_tables(body_mass_kg: Numbers, stature_mm: Numbers, *, sex: str | Numbers = "mean") -> dict[str, LegSegments]:
    """Put the answers of all tables side by side, so that their disagreement can be seen.

    Parameters
    ----------
    body_mass_kg : array_like
        Body mass, 25 to 250. [kg]
    stature_mm : array_like
        Standing height, 1200 to 2300. [mm]
    sex : {"female", "male", "mean"} or array of these
        Column of the table that tells the sexes apart.

    Returns
    -------
    dict of LegSegments
        The leg by each table, by the table's name.

    Raises
    ------
    OutOfRangeError
        If a value is out of range or a name unknown.

    Notes
    -----
    *Published regression*, twice. The thigh differs most: the older table cuts it off below the hip joint. The feet
    are different segments and only their masses may be compared.

    References
    ----------
    winter_2009
    de_leva_1996

    Examples
    --------
    >>> for table, leg in both_tables(70, 1750, sex="female").items():
    ...     print(table, round(leg.thigh.mass_kg.item(), 2), round(leg.mass_kg.item(), 2))
    de_leva_1996 10.35 14.62
    winter_2009 7.0 11.27
    """
    return {table: leg_segments(body_mass_kg, stature_mm=stature_mm, sex=sex, table=table) for table in SEGMENT_TABLES}


def _segment(mass: Floats, length: Floats, male: SegmentRow, female: SegmentRow, share: Floats) -> Segment:
    fraction, com, radius, mass, length = np.broadcast_arrays(
        mix(male.mass_fraction, female.mass_fraction, share),
        mix(male.com_from_proximal, female.com_from_proximal, share),
        mix(male.radius_of_gyration, female.radius_of_gyration, share),
        mass,
        length,
    )
    return Segment(length, fraction * mass, com, radius, male.proximal, male.distal)


def _given_or_estimated(name: str, given: Numbers | None, stature: Numbers | None) -> Floats:
    if given is not None:
        return checked(name, given, above=0)
    if stature is None:
        raise OutOfRangeError(f"{name}: received nothing; allowed: a length, or stature_mm to estimate it; give one")
    return np.asarray(getattr(segment_lengths_mm(stature), name))


def _ankle_to_ball_mm(given: Numbers | None, foot: Numbers | None, stature: Numbers | None) -> Floats:
    if given is not None or stature is None:
        return _given_or_estimated("ankle_to_ball_mm", given, None)
    along = (HEEL_TO_BALL.value - HEEL_TO_ANKLE.value) * _given_or_estimated("foot_length_mm", foot, stature)
    return np.hypot(along, segment_lengths_mm(stature).ankle_height_mm)
