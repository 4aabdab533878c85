"""What a pressure map says: contact area, peak and where it is, centre of pressure, regions, left and right."""

from collections.abc import Mapping

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import checked
from pedalwright.frontal import SIDES
from pedalwright.pressure import N_PER_KPA_MM2, Mask, PressureMap, cells_of, force_n


def contact_area_mm2(pressure: PressureMap, threshold_kpa: Numbers = 0.0, region: Mask | None = None) -> Floats:
    """Area of the cells that bear load.

    Parameters
    ----------
    pressure : PressureMap
        The map. [kPa]
    threshold_kpa : array_like
        Pressure above which a cell counts, at least 0. [kPa]
    region : numpy.ndarray of bool, optional
        Cells that count, shape of the grid.

    Returns
    -------
    numpy.ndarray
        Area. [mm²]

    Raises
    ------
    OutOfRangeError
        If the threshold is negative or the region has not the shape of the grid.

    Notes
    -----
    *Measured quantity.* It grows with the size of the cells and falls with the threshold: name both.

    References
    ----------
    bousie_2013

    Examples
    --------
    >>> from pedalwright.pressure import pressure_map
    >>> contact_area_mm2(pressure_map([[4.0, 0.5]], 10, 10), 1.0).item()
    100.0
    """
    limit = checked("threshold_kpa", threshold_kpa, at_least=0)[..., None, None]
    loaded = pressure.pressure_kpa > limit
    if region is not None:
        loaded = loaded & cells_of(pressure, region)
    return np.asarray(loaded.sum(axis=(-2, -1)) * pressure.cell_area_mm2)


def peak_pressure_kpa(pressure: PressureMap, region: Mask | None = None) -> Floats:
    """Highest pressure of one cell.

    Parameters
    ----------
    pressure : PressureMap
        The map. [kPa]
    region : numpy.ndarray of bool, optional
        Cells that count, shape of the grid.

    Returns
    -------
    numpy.ndarray
        Peak. [kPa]

    Raises
    ------
    OutOfRangeError
        If the region has not the shape of the grid.

    Notes
    -----
    *Measured quantity.* A larger cell hides a peak: compare only maps of the same mat.

    References
    ----------
    bousie_2013

    Examples
    --------
    >>> from pedalwright.pressure import pressure_map
    >>> peak_pressure_kpa(pressure_map([[4.0, 0.5]], 10, 10)).item()
    4.0
    """
    cells = pressure.pressure_kpa if region is None else pressure.pressure_kpa * cells_of(pressure, region)
    return np.asarray(cells.max(axis=(-2, -1)))


def centre_of_pressure_mm(pressure: PressureMap, region: Mask | None = None) -> Floats:
    """Point on which the whole force can be thought to act.

    Parameters
    ----------
    pressure : PressureMap
        The map, loaded. [kPa]
    region : numpy.ndarray of bool, optional
        Cells that count, shape of the grid.

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Across (to the right) and along (forward) from the middle of the grid. [mm]

    Raises
    ------
    OutOfRangeError
        If the map or the region carries no load.

    Notes
    -----
    *Measured law* (balance of moments).

    References
    ----------
    potter_2008

    Examples
    --------
    >>> from pedalwright.pressure import pressure_map
    >>> centre_of_pressure_mm(pressure_map([[30.0, 10.0]], 10, 10)).tolist()
    [-2.5, 0.0]
    """
    cells = pressure.pressure_kpa if region is None else pressure.pressure_kpa * cells_of(pressure, region)
    total = checked("load on the map", cells.sum(axis=(-2, -1)), above=0, advice="give a map that carries load")
    across = (cells.sum(axis=-2) @ pressure.across_mm) / total
    along = (cells.sum(axis=-1) @ pressure.along_mm) / total
    return np.stack([across, along], axis=-1)


def left_right_force_n(pressure: PressureMap, midline_mm: Numbers = 0.0) -> tuple[Floats, Floats]:
    """Force on either side of a midline.

    Parameters
    ----------
    pressure : PressureMap
        The map. [kPa]
    midline_mm : array_like
        Place of the midline, to the right of the middle of the grid. [mm]

    Returns
    -------
    left, right : numpy.ndarray
        Forces; a cell that the midline cuts counts for both sides by area. [N]

    Raises
    ------
    OutOfRangeError
        If the midline is not finite.

    Notes
    -----
    *Measured law* (definition of pressure). Take the midline from the saddle or the rider, not from the map itself.

    References
    ----------
    potter_2008

    Examples
    --------
    >>> from pedalwright.pressure import pressure_map
    >>> left, right = left_right_force_n(pressure_map([[100.0, 300.0]], 10, 10))
    >>> left.item(), right.item()
    (10.0, 30.0)
    """
    midline = checked("midline_mm", midline_mm)[..., None]
    right_part = np.clip((pressure.across_mm - midline) / pressure.cell_across_mm + 0.5, 0, 1)
    columns = pressure.pressure_kpa.sum(axis=-2) * (pressure.cell_area_mm2 * N_PER_KPA_MM2)
    return np.asarray((columns * (1 - right_part)).sum(axis=-1)), np.asarray((columns * right_part).sum(axis=-1))


def region_shares(pressure: PressureMap, regions: Mapping[str, Mask]) -> dict[str, Floats]:
    """Share of the force on each of several regions.

    Parameters
    ----------
    pressure : PressureMap
        The map, loaded. [kPa]
    regions : mapping of str to numpy.ndarray of bool
        Cells of each region, shape of the grid.

    Returns
    -------
    dict of str to numpy.ndarray
        Share of each region; they sum to 1 if the regions cover the grid without overlap. [1]

    Raises
    ------
    OutOfRangeError
        If the map carries no load or a region has not the shape of the grid.

    Notes
    -----
    *Measured quantity.* Where a region ends is a convention: state it.

    References
    ----------
    potter_2008

    Examples
    --------
    >>> from pedalwright.pressure import pressure_map
    >>> grid = pressure_map([[30.0, 10.0]], 10, 10)
    >>> region_shares(grid, {"left": np.array([[True, False]])})["left"].item()
    0.75
    """
    total = checked("load on the map", force_n(pressure), above=0, advice="give a map that carries load")
    return {name: np.asarray(force_n(pressure, region) / total) for name, region in regions.items()}


def hot_spot_mm(pressure: PressureMap) -> Floats:
    """Place of the cell with the highest pressure.

    Parameters
    ----------
    pressure : PressureMap
        The map, loaded. [kPa]

    Returns
    -------
    numpy.ndarray, shape (..., 2)
        Across (to the right) and along (forward) from the middle of the grid; the first of equal cells. [mm]

    Raises
    ------
    OutOfRangeError
        If the map carries no load.

    Notes
    -----
    *Measured quantity.* A single cell can be a fold of the mat: look at its neighbours.

    References
    ----------
    bousie_2013

    Examples
    --------
    >>> from pedalwright.pressure import pressure_map
    >>> hot_spot_mm(pressure_map([[30.0, 10.0]], 10, 10)).tolist()
    [-5.0, 0.0]
    """
    cells = pressure.pressure_kpa
    checked("load on the map", cells.sum(axis=(-2, -1)), above=0, advice="give a map that carries load")
    row, column = np.divmod(np.argmax(cells.reshape((*cells.shape[:-2], -1)), axis=-1), cells.shape[-1])
    return np.stack([pressure.across_mm[column], pressure.along_mm[row]], axis=-1)


def foot_regions(
    pressure: PressureMap, side: str, bounds: tuple[float, float, float] = (0.3, 0.6, 0.8)
) -> dict[str, Mask]:
    """Cut the grid of one foot into heel, midfoot, forefoot and toes, inner and outer half each.

    Parameters
    ----------
    pressure : PressureMap
        A map whose grid is as long as the foot, heel at the back. [kPa]
    side : {"right", "left"}
        Which foot.
    bounds : tuple of float
        Where the midfoot, the forefoot and the toes begin, as shares of the length from the heel, growing
        between 0 and 1. [1]

    Returns
    -------
    dict of str to numpy.ndarray of bool
        Eight regions, "inner heel" to "outer toes", that cover the grid without overlap. A middle column of an
        odd grid counts as outer.

    Raises
    ------
    OutOfRangeError
        If the side is not known or the bounds do not grow.

    Notes
    -----
    *Convention*, from memory; other masks are in use, so compare only maps cut alike.

    References
    ----------
    bousie_2013

    Examples
    --------
    >>> from pedalwright.pressure import pressure_map
    >>> regions = foot_regions(pressure_map(np.ones((10, 4)), 10, 10), "right")
    >>> int(regions["inner midfoot"].sum())
    6
    """
    steps = checked("steps of the bounds", np.diff([0.0, *bounds, 1.0]), above=0, advice="give three growing shares")
    inward = chosen("side", side, SIDES)
    inner = np.broadcast_to(inward * pressure.across_mm > 0, pressure.pressure_kpa.shape[-2:])
    rows = pressure.pressure_kpa.shape[-2]
    part = np.searchsorted(np.cumsum(steps)[:-1], (np.arange(rows) + 0.5) / rows, side="right")[:, None]
    names = ("heel", "midfoot", "forefoot", "toes")
    return {
        f"{half} {name}": (part == number) & half_cells
        for number, name in enumerate(names)
        for half, half_cells in (("inner", inner), ("outer", ~inner))
    }
