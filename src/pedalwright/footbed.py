"""A loaded foot on a flat or a contoured footbed: where the pressure goes."""

from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.bed import Contact, press
from pedalwright.errors import checked
from pedalwright.frontal import SIDES
from pedalwright.pressure_summary import contact_area_mm2, foot_regions, peak_pressure_kpa, region_shares


@dataclass(frozen=True)
class Sole:
    """Underside of a foot; arrays describe many feet. The defaults are assumptions to teach with.

    Parameters
    ----------
    length_mm, width_mm : float
        Length and greatest width of the foot, above 0. [mm]
    arch_height_mm : array_like
        Height of the arch over the ground at the inner edge of the midfoot, at least 0. [mm]
    forefoot_tilt_deg : array_like
        Tilt of the forefoot, positive varus, −15 to 15. [°]

    Examples
    --------
    >>> Sole().arch_height_mm
    14.0
    """

    length_mm: float = 255.0
    width_mm: float = 95.0
    arch_height_mm: Numbers = 14.0
    forefoot_tilt_deg: Numbers = 0.0


@dataclass(frozen=True)
class Footing:
    """A foot at rest on its support.

    Parameters
    ----------
    contact : bed.Contact
        Pressure map, depth and tilt. [kPa, mm, °]
    contact_area_mm2, midfoot_area_mm2 : numpy.ndarray
        Loaded area of the sole and of the midfoot. [mm²]
    peak_pressure_kpa : numpy.ndarray
        Highest pressure. [kPa]
    region_shares : dict of str to numpy.ndarray
        Share of the load on each region of `pressure_summary.foot_regions`. [1]

    Examples
    --------
    >>> footing = stand_on_footbed(Sole(), 300.0)
    >>> round(float(sum(footing.region_shares.values())), 6)
    1.0
    """

    contact: Contact
    contact_area_mm2: Floats
    midfoot_area_mm2: Floats
    peak_pressure_kpa: Floats
    region_shares: dict[str, Floats]


def stand_on_footbed(
    sole: Sole,
    load_n: Numbers,
    *,
    side: str = "right",
    filled_share: Numbers = 0.0,
    wedge_deg: Numbers = 0.0,
    load_along_share: Numbers = 0.70,
    stiffness_kpa_mm: Numbers = 20.0,
    tilt: str = "both",
    cell_mm: float = 5.0,
) -> Footing:
    """Press a foot on a footbed, the load over the pedal.

    Parameters
    ----------
    sole : Sole
        Underside of the foot. [mm, °]
    load_n : array_like
        Load, above 0. [N]
    side : {"right", "left"}
        Which foot.
    filled_share : array_like
        Share of the arch's height that the footbed fills: 0 flat, 1 full contour. [1]
    wedge_deg : array_like
        Angle of a forefoot wedge, positive under the inner edge. [°]
    load_along_share : array_like
        Where the load acts, as a share of the foot's length from the heel, 0 to 1. [1]
    stiffness_kpa_mm : array_like
        Stiffness of flesh and padding together, above 0. [kPa/mm]
    tilt : {"both", "across", "along", "none"}
        Which way the foot may tilt; "along" holds it upright sideways, as an ankle that does not give.
    cell_mm : float
        Size of the cells, 2 to 10. [mm]

    Returns
    -------
    Footing
        Contact and its summary. [kPa, mm², 1]

    Raises
    ------
    OutOfRangeError
        If an input is out of range, or the load acts where nothing bears it.

    Notes
    -----
    *Teaching model*: a rigid sole with an arch and a tilted forefoot on springs. A footbed that fills the arch gains
    contact and lowers the peak, as measured (more midfoot contact, twelve riders); that study also found more
    pressure under the big toe, which this sole cannot show.

    References
    ----------
    bousie_2013
    johnson_1985

    Examples
    --------
    >>> flat, shaped = (stand_on_footbed(Sole(), 400.0, filled_share=share) for share in (0.0, 0.9))
    >>> bool(shaped.midfoot_area_mm2 > flat.midfoot_area_mm2)
    True
    """
    length = checked("length_mm", sole.length_mm, above=0).item()
    width = checked("width_mm", sole.width_mm, above=0).item()
    cell = checked("cell_mm", cell_mm, at_least=2, at_most=10).item()
    inward = chosen("side", side, SIDES)
    rows, columns = round(length / cell), round(width / cell)
    from_heel = (np.arange(rows) + 0.5)[:, None] / rows
    across = np.asarray((np.arange(columns) - (columns - 1) / 2) * cell, dtype=np.float64)
    from_outer = 0.5 + inward * across / width
    filled = checked("filled_share", filled_share, at_least=0, at_most=1)[..., None, None]
    arch = checked("arch_height_mm", sole.arch_height_mm, at_least=0)[..., None, None] * (1 - filled)
    tilted = checked("forefoot_tilt_deg", sole.forefoot_tilt_deg, at_least=-15, at_most=15) - checked(
        "wedge_deg", wedge_deg, at_least=-15, at_most=15
    )
    rise = np.tan(np.radians(tilted))[..., None, None] * width * from_outer * (from_heel > 0.6)
    vault = arch * np.sin(np.pi * np.clip((from_heel - 0.25) / 0.40, 0, 1)) ** 2 * np.clip(from_outer, 0, 1)
    share = checked("load_along_share", load_along_share, at_least=0, at_most=1)
    contact = press(
        vault + rise,
        _outline(from_heel, np.asarray(across / width))
        * checked("stiffness_kpa_mm", stiffness_kpa_mm, above=0)[..., None, None],
        load_n,
        cell_across_mm=cell,
        cell_along_mm=cell,
        load_along_mm=(share - 0.5) * rows * cell,
        tilt=tilt,
    )
    regions = foot_regions(contact.pressure, side)
    return Footing(
        contact=contact,
        contact_area_mm2=contact_area_mm2(contact.pressure),
        midfoot_area_mm2=contact_area_mm2(contact.pressure, 0.0, regions["inner midfoot"] | regions["outer midfoot"]),
        peak_pressure_kpa=peak_pressure_kpa(contact.pressure),
        region_shares=region_shares(contact.pressure, regions),
    )


def _outline(from_heel: Floats, across_share: Floats) -> Floats:
    """1 on the sole, 0 beside it: a round heel, a narrower waist, a broad forefoot, round toes."""
    half = np.interp(
        from_heel, [0, 0.06, 0.15, 0.40, 0.70, 0.88, 0.96, 1.0], [0.15, 0.28, 0.34, 0.38, 0.50, 0.44, 0.30, 0.12]
    )
    return (np.abs(across_share) <= half).astype(np.float64)
