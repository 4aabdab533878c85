"""Tilt of the forefoot, and the wedge that fills it.

*Varus* (positive): the inner edge, on the side of the big toe, is the higher one. *Valgus* is the other way.
"""

from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked

EDGE_SIGN = {"inner": 1.0, "outer": -1.0}

# Common practice, no source: the wedge usually built into the sole of a cycling shoe, under the inner edge.
USUAL_SHOE_WEDGE_MM = 1.5


@dataclass(frozen=True)
class Prevalence:
    """How common each forefoot tilt was found, by one source.

    Parameters
    ----------
    varus_pct, neutral_pct, valgus_pct : float or None
        Shares; None where the source gives none. [%]
    sample : str
        Who was measured.
    source : str
        Bibliography key, or "common practice, no source".
    known_from : str
        How far the figures can be trusted.

    Examples
    --------
    >>> [one.varus_pct for one in FOREFOOT_PREVALENCE.values()]
    [87.0, 86.67, 97.1, 8.6, 83.67]
    """

    varus_pct: float | None
    neutral_pct: float | None
    valgus_pct: float | None
    sample: str
    source: str
    known_from: str


# Side by side because they contradict each other: the share depends on the method more than on the feet.
FOREFOOT_PREVALENCE = MappingProxyType(
    {
        "the trade": Prevalence(87.0, 11.0, 2.0, "riders", "common practice, no source", "told in the trade"),
        "garbalosa_1994": Prevalence(
            86.67, 4.58, 8.75, "240 feet of healthy adults", "garbalosa_1994", "figures from secondary pages"
        ),
        "carrelero_camp_2026": Prevalence(97.1, None, None, "70 limbs", "carrelero_camp_2026", "abstract read"),
        "lowest quoted": Prevalence(
            8.6, None, None, "lowest figure of the literature", "carrelero_camp_2026", "quoted there"
        ),
        "highest quoted": Prevalence(
            83.67, None, None, "highest figure of the literature", "carrelero_camp_2026", "quoted there"
        ),
    }
)
DEFAULT_PREVALENCE = "garbalosa_1994"


def forefoot_tilt_deg(inner_height_mm: Numbers, outer_height_mm: Numbers, width_mm: Numbers) -> Floats:
    """Tilt of the forefoot from the heights of its edges.

    Parameters
    ----------
    inner_height_mm, outer_height_mm : array_like
        Height of the inner and the outer edge above the same level, the heel held in the middle. [mm]
    width_mm : array_like
        Level distance between the two places, above 0. [mm]

    Returns
    -------
    numpy.ndarray
        Tilt, positive varus (inner edge higher). [°]

    Raises
    ------
    OutOfRangeError
        If the width is not above 0.

    Notes
    -----
    *Measured quantity.* The result depends on how the heel is held; leaving the outer column of the foot
    unloaded makes varus look larger. A tilt alone is no abnormality.

    References
    ----------
    garbalosa_1994
    buchanan_davis_2005

    Examples
    --------
    >>> round(forefoot_tilt_deg(6.0, 0.0, 90.0).item(), 2)
    3.81
    """
    rise = checked("inner_height_mm", inner_height_mm) - checked("outer_height_mm", outer_height_mm)
    return np.degrees(np.arctan(rise / checked("width_mm", width_mm, above=0)))


def forefoot_class(forefoot_tilt_deg: Numbers, neutral_within_deg: Numbers = 1.0) -> NDArray[Any]:
    """Call a forefoot varus, neutral or valgus.

    Parameters
    ----------
    forefoot_tilt_deg : array_like
        Tilt, positive varus. [°]
    neutral_within_deg : array_like
        Tilt up to which a forefoot counts as neutral, either way, at least 0. [°]

    Returns
    -------
    numpy.ndarray of str
        "varus", "neutral" or "valgus".

    Raises
    ------
    OutOfRangeError
        If the tilt is not finite or the band is negative.

    Notes
    -----
    *Convention*: the band of 1° is ours, no source. With a band smaller than the error of the measurement
    hardly any foot is neutral; that alone explains part of the contradiction in ``FOREFOOT_PREVALENCE``.

    References
    ----------
    garbalosa_1994

    Examples
    --------
    >>> forefoot_class([4.0, 0.5, -3.0]).tolist()
    ['varus', 'neutral', 'valgus']
    """
    tilt = checked("forefoot_tilt_deg", forefoot_tilt_deg)
    band = checked("neutral_within_deg", neutral_within_deg, at_least=0)
    return np.where(tilt > band, "varus", np.where(tilt < -band, "valgus", "neutral"))


def wedge_angle_deg(wedge_height_mm: Numbers, width_mm: Numbers) -> Floats:
    """Angle of a wedge from the height of its thick edge.

    Parameters
    ----------
    wedge_height_mm : array_like
        Height of the thick edge above the thin one, at least 0. [mm]
    width_mm : array_like
        Width it stands on, from edge to edge, above 0: the width of this shoe, not a round number. [mm]

    Returns
    -------
    numpy.ndarray
        Angle, at least 0. [°]

    Raises
    ------
    OutOfRangeError
        If the height is negative or the width not above 0.

    Notes
    -----
    *Measured law* (geometry): atan(height/width). The same wedge gives a larger angle in a narrow shoe.

    References
    ----------
    yeo_bonanno_2014

    Examples
    --------
    >>> round(wedge_angle_deg(1.5, 95.0).item(), 3)
    0.905
    """
    height = checked("wedge_height_mm", wedge_height_mm, at_least=0)
    return np.degrees(np.arctan(height / checked("width_mm", width_mm, above=0)))


def wedge_height_mm(wedge_angle_deg: Numbers, width_mm: Numbers) -> Floats:
    """Height of the thick edge of a wedge of a given angle.

    Parameters
    ----------
    wedge_angle_deg : array_like
        Angle, 0 to below 45. [°]
    width_mm : array_like
        Width it stands on, above 0. [mm]

    Returns
    -------
    numpy.ndarray
        Height of the thick edge. [mm]

    Raises
    ------
    OutOfRangeError
        If the angle or the width is out of range.

    Notes
    -----
    *Measured law* (geometry), the inverse of `wedge_angle_deg`.

    References
    ----------
    yeo_bonanno_2014

    Examples
    --------
    >>> round(wedge_height_mm(1.909, 90.0).item(), 2)
    3.0
    """
    angle = checked("wedge_angle_deg", wedge_angle_deg, at_least=0, below=45)
    return np.asarray(np.tan(np.radians(angle)) * checked("width_mm", width_mm, above=0))


def wedge_edge(forefoot_tilt_deg: Numbers, neutral_within_deg: Numbers = 1.0) -> NDArray[Any]:
    """Under which edge the thick side of a wedge fills the gap.

    Parameters
    ----------
    forefoot_tilt_deg : array_like
        Tilt, positive varus. [°]
    neutral_within_deg : array_like
        Tilt up to which no wedge is set, at least 0. [°]

    Returns
    -------
    numpy.ndarray of str
        "inner" for varus, "outer" for valgus, "none" for neutral.

    Raises
    ------
    OutOfRangeError
        If the tilt is not finite or the band is negative.

    Notes
    -----
    *Measured law* (geometry): a wedge fills the gap under the higher edge. That filling it helps a rider is
    weakly evidenced: six laboratory studies, no effect on kinematics, comfort or power.

    References
    ----------
    yeo_bonanno_2014

    Examples
    --------
    >>> wedge_edge([4.0, 0.0, -3.0]).tolist()
    ['inner', 'none', 'outer']
    """
    names = forefoot_class(forefoot_tilt_deg, neutral_within_deg)
    return np.where(names == "varus", "inner", np.where(names == "valgus", "outer", "none"))


def tilt_left_deg(forefoot_tilt_deg: Numbers, wedge_height_mm: Numbers, width_mm: Numbers, edge: str) -> Floats:
    """Tilt that stays unfilled when a wedge is set.

    Parameters
    ----------
    forefoot_tilt_deg : array_like
        Tilt, positive varus. [°]
    wedge_height_mm : array_like
        Height of the thick edge, at least 0. [mm]
    width_mm : array_like
        Width it stands on, above 0. [mm]
    edge : {"inner", "outer"}
        Under which edge the thick side lies.

    Returns
    -------
    numpy.ndarray
        Tilt left; the other sign if the wedge is too high, more tilt if it is on the wrong edge. [°]

    Raises
    ------
    OutOfRangeError
        If an input is out of range.

    Notes
    -----
    *Measured law* (geometry) for a rigid forefoot on a rigid wedge.

    References
    ----------
    yeo_bonanno_2014

    Examples
    --------
    >>> round(tilt_left_deg(3.0, 3.0, 90.0, "inner").item(), 2), round(tilt_left_deg(3.0, 3.0, 90.0, "outer").item(), 2)
    (1.09, 4.91)
    """
    sign = chosen("edge", edge, EDGE_SIGN)
    tilt = checked("forefoot_tilt_deg", forefoot_tilt_deg)
    return np.asarray(tilt - sign * wedge_angle_deg(wedge_height_mm, width_mm))
