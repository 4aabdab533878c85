"""Rules of thumb for the saddle height, as named choices that disagree with each other."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pedalwright._choices import chosen
from pedalwright._lengths import crank_mm
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import (
    INSEAM_TO_BRACKET_FACTOR,
    INSEAM_TO_PEDAL_FACTOR,
    REGRESSION_INSEAM_FACTOR,
    REGRESSION_KNEE_MM_PER_DEG,
    REGRESSION_OFFSET_MM,
    TROCHANTER_HIGH_FACTOR,
    TROCHANTER_LOW_FACTOR,
)
from pedalwright.errors import OutOfRangeError, checked


@dataclass(frozen=True)
class SaddleRule:
    """A rule of thumb for the saddle height.

    Parameters
    ----------
    name : str
        Name of the choice.
    measure : str
        Body measure it starts from, ``inseam`` or ``trochanter``.
    factor : float
        Share of that measure. [1]
    to_pedal : bool
        True if the rule gives the distance to the pedal, crank in line; False if to the bottom bracket.
    offset_mm : float
        Constant term. [mm]
    knee_mm_per_deg : float
        Change with the wanted knee flexion. [mm/°]
    source : str
        Bibliography key.
    remark : str
        What is known of it.

    Examples
    --------
    >>> SADDLE_RULES["inseam 0.883"].factor
    0.883
    """

    name: str
    measure: str
    factor: float
    to_pedal: bool
    offset_mm: float
    knee_mm_per_deg: float
    source: str
    remark: str


DEFAULT_SADDLE_RULE = "inseam 0.883"

SADDLE_RULES: Mapping[str, SaddleRule] = MappingProxyType(
    {
        rule.name: rule
        for rule in (
            SaddleRule(
                "inseam 109 %",
                "inseam",
                INSEAM_TO_PEDAL_FACTOR.value,
                True,
                0.0,
                0.0,
                "hamley_thomas_1967",
                "The oldest of them. More than half of elite riders sat outside 106–109 %, though only a quarter of "
                "them had an unsuitable knee angle.",
            ),
            SaddleRule(
                "inseam 0.883",
                "inseam",
                INSEAM_TO_BRACKET_FACTOR.value,
                False,
                0.0,
                0.0,
                "peveler_2005",
                "No primary study behind it; on 19 riders it did not differ from 109 %. Default because it needs no "
                "crank length and is the most used starting point, not because it is better.",
            ),
            SaddleRule(
                "trochanter 96 %",
                "trochanter",
                TROCHANTER_LOW_FACTOR.value,
                True,
                0.0,
                0.0,
                "nordeen_snyder_1977",
                "Low end of the usual band.",
            ),
            SaddleRule(
                "trochanter 100 %",
                "trochanter",
                TROCHANTER_HIGH_FACTOR.value,
                True,
                0.0,
                0.0,
                "nordeen_snyder_1977",
                "Lowest oxygen uptake of 95, 100 and 105 % tested.",
            ),
            SaddleRule(
                "knee regression",
                "inseam",
                REGRESSION_INSEAM_FACTOR.value,
                True,
                REGRESSION_OFFSET_MM.value,
                REGRESSION_KNEE_MM_PER_DEG.value,
                "ferrer_roca_2012",
                "Fits 23 elite riders: it says how they sat, not how riders should sit.",
            ),
        )
    }
)


@dataclass(frozen=True)
class HeightStudy:
    """What a study found about saddle height and the cost of riding.

    Parameters
    ----------
    source : str
        Bibliography key.
    favours : str
        ``lower`` or ``higher`` saddle of those compared.
    finding : str
        The finding in a sentence.

    Examples
    --------
    >>> sorted({study.favours for study in HEIGHT_STUDIES.values()})
    ['higher', 'lower']
    """

    source: str
    favours: str
    finding: str


HEIGHT_STUDIES: Mapping[str, HeightStudy] = MappingProxyType(
    {
        study.source: study
        for study in (
            HeightStudy(
                "nordeen_snyder_1977",
                "higher",
                "Oxygen uptake was lowest at 100 % of the trochanter height, of 95, 100 and 105 % (from memory).",
            ),
            HeightStudy(
                "peveler_green_2011",
                "higher",
                "Riders were more economical with 25° of knee flexion than at 109 % of the inseam (from memory).",
            ),
            HeightStudy(
                "ferrer_roca_2014",
                "lower",
                "Gross efficiency 20.4 ± 1.3 % with the saddle 2 % lower, 19.9 ± 1.5 % with it 2 % higher.",
            ),
        )
    }
)
"""Studies that point in opposite directions: no height is best for everyone, and no calculation uses them."""
DEFAULT_HEIGHT_STUDY = "ferrer_roca_2014"


def saddle_height_rule_mm(
    inseam_mm: Numbers | None,
    rule: str = DEFAULT_SADDLE_RULE,
    *,
    crank_length_mm: Numbers = 170.0,
    trochanter_height_mm: Numbers | None = None,
    knee_flexion_deg: Numbers = 30.0,
) -> Floats:
    """Saddle height above the bottom bracket that a rule of thumb gives.

    A starting point for a rider to be looked at, never a verdict: one rule and the next lie up to 14 mm apart.

    Parameters
    ----------
    inseam_mm : array_like or None
        Floor to crotch, bare feet, a book pressed up firmly, 400 to 1200; None for a rule that does not use it. [mm]
    rule : str
        A key of ``SADDLE_RULES``.
    crank_length_mm : array_like
        Crank length, 50 to 300; used by rules that measure to the pedal. [mm]
    trochanter_height_mm : array_like or None
        Floor to greater trochanter, bare feet, 400 to 1300; for the trochanteric rules. [mm]
    knee_flexion_deg : array_like
        Knee flexion wanted at the bottom, 0 to 90; used by the regression only. [°]

    Returns
    -------
    numpy.ndarray
        Bottom bracket axis to saddle top along the seat tube line. [mm]

    Raises
    ------
    OutOfRangeError
        If the rule is not known, its measure is missing, or a value is out of range.

    Notes
    -----
    *Published regression* for the knee regression; the other rules are common practice that papers describe and test.
    With a crank of 172.5 mm, 109 % and 0.883 differ by −7 mm at an inseam of 800 mm and by +14 mm at 900 mm.

    References
    ----------
    hamley_thomas_1967
    peveler_2005
    nordeen_snyder_1977
    ferrer_roca_2012

    Examples
    --------
    >>> round(saddle_height_rule_mm(850, "inseam 0.883").item(), 1)
    750.5
    >>> round(saddle_height_rule_mm(850, "inseam 109 %", crank_length_mm=172.5).item(), 1)
    754.0
    """
    choice = chosen("rule", rule, SADDLE_RULES)
    if choice.measure == "trochanter":
        measure = _measured("trochanter_height_mm", trochanter_height_mm, 1300, rule)
    else:
        measure = _measured("inseam_mm", inseam_mm, 1200, rule)
    crank = crank_mm(crank_length_mm)
    knee = checked("knee_flexion_deg", knee_flexion_deg, at_least=0, at_most=90)
    height = choice.factor * measure + choice.offset_mm + choice.knee_mm_per_deg * knee
    return np.asarray(height - crank if choice.to_pedal else height)


def _measured(name: str, value: Numbers | None, at_most: float, rule: str) -> Floats:
    if value is None:
        raise OutOfRangeError(
            f"{name}: received nothing; allowed: 400 to {at_most:g}; measure it for the rule {rule!r}"
        )
    return checked(name, value, at_least=400, at_most=at_most, advice="give it in millimetres")
