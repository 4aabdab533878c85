"""Pressure maps of a foot or a seat: units, checks and force.

A map is a grid of cells on the last two axes. Rows go from back to front, columns from the rider's left to
the right; places are measured from the middle of the grid, across (to the right) and along (forward).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.units import convert, kind_of_unit

Mask = NDArray[np.bool_]

# No cell under a sitting or pedalling rider carries more: an assumption that catches a wrong unit.
HIGHEST_PLAUSIBLE_KPA = 2000.0
N_PER_KPA_MM2 = 0.001


@dataclass(frozen=True)
class PressureMap:
    """Pressure on a grid of equal cells.

    Parameters
    ----------
    pressure_kpa : numpy.ndarray, shape (..., rows, columns)
        Pressure of each cell, rows from back to front, columns from left to right. [kPa]
    cell_across_mm, cell_along_mm : float
        Size of a cell across and along. [mm]

    Examples
    --------
    >>> PressureMap(np.ones((2, 3)), 10.0, 5.0).across_mm.tolist()
    [-10.0, 0.0, 10.0]
    """

    pressure_kpa: Floats
    cell_across_mm: float
    cell_along_mm: float

    @property
    def across_mm(self) -> Floats:
        """Place of each column, to the right of the middle, in millimetres."""
        return _centred(self.pressure_kpa.shape[-1], self.cell_across_mm)

    @property
    def along_mm(self) -> Floats:
        """Place of each row, forward of the middle, in millimetres."""
        return _centred(self.pressure_kpa.shape[-2], self.cell_along_mm)

    @property
    def cell_area_mm2(self) -> float:
        """Area of one cell, in square millimetres."""
        return self.cell_across_mm * self.cell_along_mm


def pressure_map(values: Numbers, cell_across_mm: float, cell_along_mm: float, unit: str = "kpa") -> PressureMap:
    """Make a pressure map from sensor values, with checks that catch a wrong unit.

    Parameters
    ----------
    values : array_like, shape (..., rows, columns)
        Values of the cells, none negative, peak at most 2000 kPa. [the unit named]
    cell_across_mm, cell_along_mm : float
        Size of a cell, above 0. [mm]
    unit : str
        Unit of the values: "kpa", "pa", "n_cm2", "mmhg" or "psi".

    Returns
    -------
    PressureMap
        The map. [kPa]

    Raises
    ------
    OutOfRangeError
        If there is no grid, a value is negative or not finite, the peak is not plausible, the cell size is not
        above 0 or the unit is not known.

    Notes
    -----
    *Measured quantity.* Whether the whole is plausible shows in the force: see `force_against_expected`.

    References
    ----------
    potter_2008

    Examples
    --------
    >>> pressure_map([[2.0, 3.0]], 10, 10, unit="n_cm2").pressure_kpa.tolist()
    [[20.0, 30.0]]
    """
    if kind_of_unit(unit) != "pressure":
        raise OutOfRangeError(f"unit: received {unit!r}; allowed: a unit of pressure; name the unit the mat gives")
    raw = checked("values", values, at_least=0, advice="zero the mat without load, then measure again")
    grid = convert(raw, unit, "kpa")
    if grid.ndim < 2 or 0 in grid.shape:
        raise OutOfRangeError(
            f"values: received shape {grid.shape}; allowed: rows and columns on the last two axes; give a whole grid"
        )
    checked("peak pressure in kPa", grid, at_most=HIGHEST_PLAUSIBLE_KPA, advice="name the unit the mat gives")
    across = checked("cell_across_mm", cell_across_mm, above=0).item()
    return PressureMap(grid, across, checked("cell_along_mm", cell_along_mm, above=0).item())


def force_n(pressure: PressureMap, region: Mask | None = None) -> Floats:
    """Force on the map or on a region of it.

    Parameters
    ----------
    pressure : PressureMap
        The map. [kPa]
    region : numpy.ndarray of bool, optional
        Cells that count, shape of the grid.

    Returns
    -------
    numpy.ndarray
        Sum of pressure times area. [N]

    Raises
    ------
    OutOfRangeError
        If the region has not the shape of the grid.

    Notes
    -----
    *Measured law* (definition of pressure).

    References
    ----------
    potter_2008

    Examples
    --------
    >>> force_n(pressure_map([[100.0]], 10, 10)).item()
    10.0
    """
    cells = pressure.pressure_kpa if region is None else pressure.pressure_kpa * cells_of(pressure, region)
    return np.asarray(cells.sum(axis=(-2, -1)) * (pressure.cell_area_mm2 * N_PER_KPA_MM2))


def force_against_expected(pressure: PressureMap, expected_force_n: Numbers, largest_ratio: Numbers = 3.0) -> Floats:
    """Force of the map over the force it should show, or an error that points to unit and cell size.

    Parameters
    ----------
    pressure : PressureMap
        The map. [kPa]
    expected_force_n : array_like
        Force from a scale or a force-measuring pedal, above 0. [N]
    largest_ratio : array_like
        How many times too much or too little passes, above 1. [1]

    Returns
    -------
    numpy.ndarray
        Ratio; mats often read some tenths low. [1]

    Raises
    ------
    OutOfRangeError
        If the ratio is not plausible.

    Notes
    -----
    *Measured quantity*; the limit is a *convention* of ours: a wrong unit is wrong by 7 times or more.

    References
    ----------
    potter_2008

    Examples
    --------
    >>> force_against_expected(pressure_map([[100.0]], 10, 10), 12.5).item()
    0.8
    """
    expected = checked("expected_force_n", expected_force_n, above=0)
    most = checked("largest_ratio", largest_ratio, above=1)
    ratio = force_n(pressure) / expected
    limit = float(np.max(most))
    checked("force of the map over the expected force", ratio, at_least=1 / limit, at_most=limit,
            advice="check the unit of the pressure and the size of the cells")  # fmt: skip
    return ratio


def cells_of(pressure: PressureMap, region: Mask) -> Mask:
    """Check that a region has the shape of a map's grid.

    Parameters
    ----------
    pressure : PressureMap
        The map. [kPa]
    region : numpy.ndarray of bool
        Cells that count.

    Returns
    -------
    numpy.ndarray of bool
        The region.

    Raises
    ------
    OutOfRangeError
        If the region has not the shape of the grid.

    Notes
    -----
    *Convention.*

    References
    ----------
    potter_2008

    Examples
    --------
    >>> cells_of(pressure_map([[1.0, 2.0]], 10, 10), np.array([[True, False]])).tolist()
    [[True, False]]
    """
    mask = np.asarray(region, dtype=bool)
    if mask.shape[-2:] != pressure.pressure_kpa.shape[-2:]:
        raise OutOfRangeError(
            f"region: received shape {mask.shape}; allowed: the shape of the grid {pressure.pressure_kpa.shape[-2:]}; "
            "make the region from this map"
        )
    return mask


def _centred(count: int, size: float) -> Floats:
    return np.asarray((np.arange(count, dtype=np.float64) - (count - 1) / 2) * size)
