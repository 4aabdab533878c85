"""Lengths of the leg estimated from stature, and whether measured ones are possible."""

from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._segment_tables import ANKLE_HEIGHT_OF_STATURE, LENGTH_TABLES, male_share, mix
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

_LENGTH_TOLERANCE = 0.20


@dataclass(frozen=True)
class LegLengths:
    """Lengths of one leg estimated from stature.

    Parameters
    ----------
    thigh_length_mm, shank_length_mm : numpy.ndarray
        Hip to knee and knee to ankle. [mm]
    foot_length_mm : numpy.ndarray
        Heel to toe tip. [mm]
    ankle_height_mm : numpy.ndarray
        Ankle above the floor. [mm]

    References
    ----------
    drillis_contini_1966

    Examples
    --------
    >>> segment_lengths_mm(1750).ankle_height_mm.item()
    68.25
    """

    thigh_length_mm: Floats
    shank_length_mm: Floats
    foot_length_mm: Floats
    ankle_height_mm: Floats


def segment_lengths_mm(
    stature_mm: Numbers, *, table: str = "drillis_contini_1966", sex: str | Numbers = "mean"
) -> LegLengths:
    """Estimate the lengths of the leg from stature alone.

    Parameters
    ----------
    stature_mm : array_like
        Standing height, 1200 to 2300. [mm]
    table : {"drillis_contini_1966", "de_leva_1996"}
        Where the fractions of stature come from. The first is the default because the most widely reprinted figure
        gives it and it does not depend on sex; the second is the mean of the sample of one sex.
    sex : {"female", "male", "mean"} or array of these
        Which column; ``mean`` lies midway and is an assumption of this package. The first table has one column.

    Returns
    -------
    LegLengths
        Thigh, shank, foot (heel to toe tip) and height of the ankle above the floor. [mm]

    Raises
    ------
    OutOfRangeError
        If the stature is outside the range or a name is unknown.

    Notes
    -----
    *Published regression* (fractions of stature). For one person a length is off by several per cent: measure where
    it matters.

    References
    ----------
    drillis_contini_1966
    winter_2009
    de_leva_1996

    Examples
    --------
    >>> lengths = segment_lengths_mm(1750)
    >>> lengths.thigh_length_mm.item(), lengths.shank_length_mm.item()
    (428.75, 430.5)
    """
    stature = checked("stature_mm", stature_mm, at_least=1200, at_most=2300, advice="give millimetres")
    fractions = chosen("table", table, LENGTH_TABLES)
    share = male_share(sex)
    thigh, shank, foot = (
        np.asarray(stature * mix(part["male"], part["female"], share))
        for part in (fractions.thigh, fractions.shank, fractions.foot)
    )
    return LegLengths(thigh, shank, foot, np.asarray(stature * ANKLE_HEIGHT_OF_STATURE.value))


def check_rider(stature_mm: Numbers, body_mass_kg: Numbers) -> None:
    """Raise an error if stature and mass do not belong to a possible adult rider.

    Parameters
    ----------
    stature_mm : array_like
        Standing height, 1200 to 2300. [mm]
    body_mass_kg : array_like
        Body mass, 25 to 250. [kg]

    Raises
    ------
    OutOfRangeError
        If one value is impossible, or both together (mass over squared stature outside 12 to 60 kg/m²).

    Notes
    -----
    Limits of this package, no source: they catch a wrong unit or a slip of the pen and do not judge a body.

    Examples
    --------
    >>> check_rider(1750, 70)
    >>> check_rider(175, 70)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    pedalwright.errors.OutOfRangeError: stature_mm: received 175; allowed: at least 1200 and at most 2300; ...
    """
    stature = checked(
        "stature_mm", stature_mm, at_least=1200, at_most=2300, advice="give millimetres (1.75 m and 175 cm are 1750 mm)"
    )
    mass = checked("body_mass_kg", body_mass_kg, at_least=25, at_most=250, advice="give kilograms")
    index = mass / (stature / 1000) ** 2
    if np.any((index < 12) | (index > 60)):
        worst = np.atleast_1d(index)[np.atleast_1d((index < 12) | (index > 60))][0]
        raise OutOfRangeError(
            f"body_mass_kg and stature_mm: received a body mass index of {worst:.1f} kg/m²; allowed: 12 to 60; "
            "check both values and their units"
        )


def check_segment_lengths(
    stature_mm: Numbers,
    *,
    thigh_length_mm: Numbers | None = None,
    shank_length_mm: Numbers | None = None,
    foot_length_mm: Numbers | None = None,
) -> None:
    """Raise an error if a measured length cannot belong to a rider of that stature.

    Parameters
    ----------
    stature_mm : array_like
        Standing height, 1200 to 2300. [mm]
    thigh_length_mm, shank_length_mm, foot_length_mm : array_like, optional
        Measured lengths; each must lie within 20 % of the estimate from stature. [mm]

    Raises
    ------
    OutOfRangeError
        If a length is too far from the estimate; the message names the estimate.

    Notes
    -----
    *Convention*: the 20 % is a limit of this package, wide enough for real bodies and narrow enough to catch
    centimetres, a wrong landmark or exchanged columns.

    References
    ----------
    drillis_contini_1966

    Examples
    --------
    >>> check_segment_lengths(1750, thigh_length_mm=430)
    >>> check_segment_lengths(1750, thigh_length_mm=43)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    pedalwright.errors.OutOfRangeError: thigh_length_mm: received 43; allowed: 343 to 514 for a stature of 1750 mm; ...
    """
    estimate = segment_lengths_mm(stature_mm)
    for name, given in (
        ("thigh_length_mm", thigh_length_mm),
        ("shank_length_mm", shank_length_mm),
        ("foot_length_mm", foot_length_mm),
    ):
        if given is None:
            continue
        length, expected, stature = np.broadcast_arrays(
            checked(name, given, above=0), getattr(estimate, name), checked("stature_mm", stature_mm)
        )
        bad = np.abs(length / expected - 1) > _LENGTH_TOLERANCE
        if np.any(bad):
            raise OutOfRangeError(
                f"{name}: received {length[bad][0]:g}; allowed: {expected[bad][0] * (1 - _LENGTH_TOLERANCE):.0f} to "
                f"{expected[bad][0] * (1 + _LENGTH_TOLERANCE):.0f} for a stature of {stature[bad][0]:g} mm; "
                "measure again between the named landmarks and give millimetres"
            )
