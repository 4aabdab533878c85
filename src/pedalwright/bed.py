"""A body pressed into an elastic bed: how a load spreads over a flat or a shaped support.

Each cell of the bed is a spring of its own (a Winkler bed): pressure = stiffness × depth. The body is rigid; it sinks
and tilts until the load and its two moments are in balance.
"""

from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.pressure import N_PER_KPA_MM2, PressureMap

FREEDOMS = {"both": (0, 1, 2), "across": (0, 1), "along": (0, 2), "none": (0,)}
_RESIDUAL = 1e-11
_MOST_STEPS = 200
_MOST_HALVINGS = 60


@dataclass(frozen=True)
class Contact:
    """A body at rest in the bed.

    Parameters
    ----------
    pressure : PressureMap
        Pressure of each cell. [kPa]
    depth_mm : numpy.ndarray
        How far the body sank at the middle of the grid. [mm]
    tilt_across_deg, tilt_along_deg : numpy.ndarray
        Tilt, positive when the right side, or the front, sank deeper. [°]

    Examples
    --------
    >>> press(np.zeros((4, 4)), 1.0, 16.0, cell_across_mm=10.0, cell_along_mm=10.0).tilt_across_deg.round(9).item()
    0.0
    """

    pressure: PressureMap
    depth_mm: Floats
    tilt_across_deg: Floats
    tilt_along_deg: Floats


def series_stiffness_kpa_mm(*stiffness_kpa_mm: Numbers) -> Floats:
    """Stiffness of layers that lie on each other.

    Parameters
    ----------
    *stiffness_kpa_mm : array_like
        Stiffness of each layer, at least 0. [kPa/mm]

    Returns
    -------
    numpy.ndarray
        Stiffness of the whole, 0 where a layer has none. [kPa/mm]

    Raises
    ------
    OutOfRangeError
        If no layer is given or one is negative.

    Notes
    -----
    *Measured law* (springs in series).

    References
    ----------
    johnson_1985

    Examples
    --------
    >>> series_stiffness_kpa_mm(20.0, 5.0).item()
    4.0
    """
    if not stiffness_kpa_mm:
        raise OutOfRangeError("stiffness_kpa_mm: received no layer; allowed: at least one; give its stiffness")
    layers = np.broadcast_arrays(*(checked("stiffness_kpa_mm", layer, at_least=0) for layer in stiffness_kpa_mm))
    empty = np.any([layer == 0 for layer in layers], axis=0)
    give = sum(1 / np.where(layer > 0, layer, 1.0) for layer in layers)
    return np.asarray(np.where(empty, 0.0, 1 / give))


def press(
    gap_mm: Numbers,
    stiffness_kpa_mm: Numbers,
    load_n: Numbers,
    *,
    cell_across_mm: float,
    cell_along_mm: float,
    load_across_mm: Numbers = 0.0,
    load_along_mm: Numbers = 0.0,
    tilt: str = "both",
) -> Contact:
    """Press a rigid body into an elastic bed until load and moments balance.

    Parameters
    ----------
    gap_mm : array_like, shape (..., rows, columns)
        Height of the body above the bed at each cell before it sinks, from any level. [mm]
    stiffness_kpa_mm : array_like, shape (..., rows, columns) or ()
        Stiffness of each cell, at least 0; 0 where nothing bears. [kPa/mm]
    load_n : array_like, shape (...)
        Load, above 0. [N]
    cell_across_mm, cell_along_mm : float
        Size of a cell, above 0. [mm]
    load_across_mm, load_along_mm : array_like, shape (...)
        Where the load acts, from the middle of the grid to the right and forward. [mm]
    tilt : {"both", "across", "along", "none"}
        Which way the body may tilt; where it may not, something else holds the moment.

    Returns
    -------
    Contact
        Pressure, depth and tilt in balance to 1e-10 of the load. [kPa, mm, °]

    Raises
    ------
    OutOfRangeError
        If an input is out of range or the load acts outside the cells that can bear: the body would tip over.

    Notes
    -----
    *Teaching model.* Cells do not pull on their neighbours, the body does not bend, there is no friction and
    tilts are small. The balance itself is exact: it is the minimum of a convex energy, found by Newton steps.

    References
    ----------
    johnson_1985

    Examples
    --------
    >>> contact = press(np.zeros((10, 10)), 2.0, 100.0, cell_across_mm=10.0, cell_along_mm=10.0)
    >>> contact.depth_mm.item(), contact.pressure.pressure_kpa.max().item()
    (5.0, 10.0)
    """
    gap, stiffness = np.broadcast_arrays(
        np.atleast_2d(checked("gap_mm", gap_mm)), checked("stiffness_kpa_mm", stiffness_kpa_mm, at_least=0)
    )
    width = checked("cell_across_mm", cell_across_mm, above=0).item()
    length = checked("cell_along_mm", cell_along_mm, above=0).item()
    load, right, ahead = np.broadcast_arrays(
        checked("load_n", load_n, above=0),
        checked("load_across_mm", load_across_mm),
        checked("load_along_mm", load_along_mm),
    )
    free = chosen("tilt", tilt, FREEDOMS)
    cases = np.broadcast_shapes(gap.shape[:-2], load.shape)
    grid = gap.shape[-2:]
    empty = PressureMap(np.zeros(grid), width, length)
    reach = 0.5 * np.hypot(grid[0] * length, grid[1] * width)
    across, along = np.meshgrid(empty.across_mm / reach, empty.along_mm / reach)
    basis = np.stack([np.ones(grid[0] * grid[1]), across.ravel(), along.ravel()])[list(free)]
    target = np.stack([load, load * right / reach, load * ahead / reach], axis=-1)[..., list(free)]
    force_stiffness = stiffness * (width * length * N_PER_KPA_MM2)
    sunk = _balance(
        np.broadcast_to(gap, cases + grid).reshape(-1, grid[0] * grid[1]),
        np.broadcast_to(force_stiffness, cases + grid).reshape(-1, grid[0] * grid[1]),
        np.broadcast_to(target, (*cases, len(free))).reshape(-1, len(free)),
        basis,
    )
    pose = np.zeros((sunk.shape[0], 3))
    pose[:, list(free)] = sunk
    depth = np.maximum((sunk @ basis).reshape(cases + grid) - gap, 0)
    pose = pose.reshape((*cases, 3))
    return Contact(
        PressureMap(depth * stiffness, width, length),
        pose[..., 0],
        np.degrees(np.arctan(pose[..., 1] / reach)),
        np.degrees(np.arctan(pose[..., 2] / reach)),
    )


def _balance(gap: Floats, stiffness: Floats, target: Floats, basis: Floats) -> Floats:
    """Pose (cases × freedoms) whose spring forces equal the target forces.

    Newton steps on the energy ½Σk·depth₊² − target·pose, halved until the energy falls.
    """
    total = checked("stiffness of the whole bed", stiffness.sum(axis=-1), above=0, advice="let some cells bear load")
    pose = np.zeros_like(target)
    pose[:, 0] = (target[:, 0] + (stiffness * gap).sum(axis=-1)) / total
    lowest = np.where(stiffness > 0, gap, np.inf).min(axis=-1)
    pose[:, 0] = np.maximum(pose[:, 0], lowest + target[:, 0] / total)
    soft = 1e-13 * total[:, None, None] * np.eye(target.shape[-1])
    scale = target[:, :1]

    def energy(where: Floats) -> Floats:
        depth = np.maximum(where @ basis - gap[open_rows], 0)
        return np.asarray(
            0.5 * (stiffness[open_rows] * depth**2).sum(axis=-1) - (target[open_rows] * where).sum(axis=-1)
        )

    open_rows = np.arange(len(gap))
    for _ in range(_MOST_STEPS):
        depth = np.maximum(pose[open_rows] @ basis - gap[open_rows], 0)
        missing = target[open_rows] - (stiffness[open_rows] * depth) @ basis.T
        still_open = np.max(np.abs(missing) / scale[open_rows], axis=-1) > _RESIDUAL
        open_rows, depth, missing = open_rows[still_open], depth[still_open], missing[still_open]
        if open_rows.size == 0:
            return pose
        bearing = stiffness[open_rows] * (depth > 0)
        curvature = (bearing[:, None, :] * basis) @ basis.T + soft[open_rows]
        step = np.linalg.solve(curvature, missing[..., None])[..., 0]
        before, share = energy(pose[open_rows]), np.ones(open_rows.size)
        promised = (missing * step).sum(axis=-1)
        for _ in range(_MOST_HALVINGS):
            after = energy(pose[open_rows] + share[:, None] * step)
            short = after > before - 1e-4 * share * promised + 1e-12 * np.abs(before)
            if not np.any(short):
                break
            share = np.where(short, share / 2, share)
        pose[open_rows] += share[:, None] * step
    raise OutOfRangeError(
        f"load_across_mm, load_along_mm: received a load with no balance in {open_rows.size} of {len(gap)} cases; "
        "allowed: a load inside the cells that can bear; move the load or widen the support"
    )
