"""Two sit bones on a saddle: which side, which bone and how much soft tissue bears the load."""

from dataclasses import dataclass

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.bed import Contact, press, series_stiffness_kpa_mm
from pedalwright.constants import STANDARD_GRAVITY_M_S2
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.pressure import Mask, PressureMap, force_n
from pedalwright.pressure_summary import left_right_force_n, peak_pressure_kpa


@dataclass(frozen=True)
class SitBones:
    """Underside of a pelvis; arrays describe many riders. The defaults are assumptions to teach with.

    Parameters
    ----------
    width_mm : array_like
        Bearing width between the bones in this posture, 30 to 220. [mm]
    bone_radius_mm : array_like
        Radius of the round end of a bone with the flesh around it, above 0. [mm]
    soft_rise_mm : array_like
        How much higher the soft tissue between the bones lies than their ends, at least 0. [mm]
    bone_stiffness_kpa_mm, soft_stiffness_kpa_mm : array_like
        Stiffness of the flesh under a bone and of the soft tissue, above 0. [kPa/mm]

    Examples
    --------
    >>> SitBones(120.0).bone_radius_mm
    28.0
    """

    width_mm: Numbers
    bone_radius_mm: Numbers = 28.0
    soft_rise_mm: Numbers = 10.0
    bone_stiffness_kpa_mm: Numbers = 30.0
    soft_stiffness_kpa_mm: Numbers = 2.0


@dataclass(frozen=True)
class Saddle:
    """Top of a saddle; arrays describe many saddles. The defaults are assumptions to teach with.

    Parameters
    ----------
    width_mm : array_like
        Width that can bear load at the back, 40 to 300. [mm]
    crown_radius_mm : array_like
        Radius of the top seen from behind, above 0; large for a flat top. [mm]
    slot_width_mm : array_like
        Width of a slot along the middle, at least 0. [mm]
    nose_width_mm : array_like
        Width at the nose, above 0. [mm]
    stiffness_kpa_mm : array_like
        Stiffness of the padding, above 0. [kPa/mm]

    Examples
    --------
    >>> Saddle(145.0).slot_width_mm
    0.0
    """

    width_mm: Numbers
    crown_radius_mm: Numbers = 400.0
    slot_width_mm: Numbers = 0.0
    nose_width_mm: Numbers = 40.0
    stiffness_kpa_mm: Numbers = 20.0


@dataclass(frozen=True)
class Seating:
    """A pelvis at rest on a saddle.

    Parameters
    ----------
    contact : bed.Contact
        Pressure map, depth and tilt. [kPa, mm, °]
    left_force_n, right_force_n : numpy.ndarray
        Force on either side of the middle. [N]
    bone_share : numpy.ndarray
        Share of the load under the sit bones; soft tissue bears the rest. [1]
    peak_pressure_kpa : numpy.ndarray
        Highest pressure. [kPa]
    soft_peak_kpa : numpy.ndarray
        Highest pressure on soft tissue. [kPa]

    Examples
    --------
    >>> seating = sit(SitBones(120.0), Saddle(145.0), 300.0)
    >>> round(float(seating.left_force_n + seating.right_force_n), 6)
    300.0
    """

    contact: Contact
    left_force_n: Floats
    right_force_n: Floats
    bone_share: Floats
    peak_pressure_kpa: Floats
    soft_peak_kpa: Floats


def sit_bone_forces_n(load_n: Numbers, load_across_mm: Numbers, bearing_width_mm: Numbers) -> tuple[Floats, Floats]:
    """Force under each of two sit bones from the balance of moments alone.

    Parameters
    ----------
    load_n : array_like
        Load, at least 0. [N]
    load_across_mm : array_like
        Where it acts, to the right of the middle between the bones. [mm]
    bearing_width_mm : array_like
        Distance between the bones, above 0. [mm]

    Returns
    -------
    left, right : numpy.ndarray
        Forces; F_left/F_right is the inverse of the distances to the load. [N]

    Raises
    ------
    OutOfRangeError
        If the load acts outside the bones: one of them would lift.

    Notes
    -----
    *Measured law* (lever).

    References
    ----------
    johnson_1985

    Examples
    --------
    >>> left, right = sit_bone_forces_n(400.0, 10.0, 100.0)
    >>> left.item(), right.item()
    (160.0, 240.0)
    """
    load = checked("load_n", load_n, at_least=0)
    width = checked("bearing_width_mm", bearing_width_mm, above=0)
    right_share = 0.5 + checked("load_across_mm", load_across_mm) / width
    checked(
        "share of the right sit bone", right_share, at_least=0, at_most=1, advice="let the load act between the bones"
    )
    return np.asarray(load * (1 - right_share)), np.asarray(load * right_share)


def saddle_load_n(body_mass_kg: Numbers, hand_share: Numbers, pedal_share: Numbers) -> Floats:
    """Load on the saddle: body weight less what hands and pedals carry.

    Parameters
    ----------
    body_mass_kg : array_like
        Body mass, above 0. [kg]
    hand_share, pedal_share : array_like
        Shares of body weight on the hands and, on average, on the pedals, at least 0, together at most 1. [1]

    Returns
    -------
    numpy.ndarray
        Load. [N]

    Raises
    ------
    OutOfRangeError
        If a share is negative or both together are more than 1.

    Notes
    -----
    *Measured law* (balance of vertical forces, mean over the turn). Pushing harder unloads the saddle.

    References
    ----------
    potter_2008

    Examples
    --------
    >>> round(saddle_load_n(70.0, 0.2, 0.3).item(), 1)
    343.2
    """
    mass = checked("body_mass_kg", body_mass_kg, above=0)
    hands = checked("hand_share", hand_share, at_least=0, at_most=1)
    pedals = checked("pedal_share", pedal_share, at_least=0, at_most=1)
    left = checked(
        "share left for the saddle", 1 - hands - pedals, at_least=0, advice="check both shares of body weight"
    )
    return np.asarray(mass * STANDARD_GRAVITY_M_S2.value * left)


def sit(
    bones: SitBones,
    saddle: Saddle,
    load_n: Numbers,
    *,
    load_across_mm: Numbers = 0.0,
    load_along_mm: Numbers = 0.0,
    cell_mm: float = 4.0,
) -> Seating:
    """Let a pelvis down on a saddle.

    Parameters
    ----------
    bones : SitBones
        Underside of the pelvis; its arrays broadcast with those of the saddle and the load. [mm, kPa/mm]
    saddle : Saddle
        Top of the saddle. [mm, kPa/mm]
    load_n : array_like
        Load, above 0. [N]
    load_across_mm, load_along_mm : array_like
        Where it acts, to the right of the middle and forward of the line between the bones. [mm]
    cell_mm : float
        Size of the cells, 1 to 10. [mm]

    Returns
    -------
    Seating
        Contact and its summary. [kPa, N]

    Raises
    ------
    OutOfRangeError
        If an input is out of range, or the load acts where nothing bears it.

    Notes
    -----
    *Teaching model*: two round bone ends and a sheet of soft tissue between them, pressed into springs that stand on
    the outline of the saddle. Where it is narrower than the bones, soft tissue bears more. The numbers show what
    changes which way; they are no prediction of a rider's pressure, and comfort does not follow from them.

    References
    ----------
    potter_2008
    lin_2023
    johnson_1985

    Examples
    --------
    >>> narrow, wide = (sit(SitBones(130.0), Saddle(width), 350.0) for width in (110.0, 150.0))
    >>> bool(wide.bone_share > narrow.bone_share)
    True
    """
    cell = checked("cell_mm", cell_mm, at_least=1, at_most=10).item()
    width = _on_grid("bones width_mm", bones.width_mm, at_least=30, at_most=220)
    radius = _on_grid("bone_radius_mm", bones.bone_radius_mm, above=0)
    saddle_width = _on_grid("saddle width_mm", saddle.width_mm, at_least=40, at_most=300)
    reach_across = float(max(saddle_width.max(), 60.0)) / 2 + cell
    across = _places(-reach_across, reach_across, cell)
    along = _places(-60.0, 60.0, cell)[:, None]
    bone_gap, under_bone = _bone_gap(across, along, width, radius)
    soft_gap = _on_grid("soft_rise_mm", bones.soft_rise_mm, at_least=0)
    crown = across**2 / (2 * _on_grid("crown_radius_mm", saddle.crown_radius_mm, above=0))
    is_bone = under_bone & (bone_gap <= soft_gap)
    stiffness = np.where(
        is_bone,
        series_stiffness_kpa_mm(
            _on_grid("bone_stiffness_kpa_mm", bones.bone_stiffness_kpa_mm, above=0),
            _on_grid("stiffness_kpa_mm", saddle.stiffness_kpa_mm, above=0),
        ),
        series_stiffness_kpa_mm(
            _on_grid("soft_stiffness_kpa_mm", bones.soft_stiffness_kpa_mm, above=0),
            _on_grid("stiffness_kpa_mm", saddle.stiffness_kpa_mm, above=0),
        ),
    )
    contact = press(
        np.where(is_bone, bone_gap, soft_gap) + crown,
        stiffness * _outline(across, along, cell, saddle) * (is_bone | (np.abs(across) <= width / 2)),
        load_n,
        cell_across_mm=cell,
        cell_along_mm=cell,
        load_across_mm=load_across_mm,
        load_along_mm=load_along_mm,
    )
    left, right = left_right_force_n(contact.pressure)
    soft = PressureMap(np.where(is_bone, 0.0, contact.pressure.pressure_kpa), cell, cell)
    return Seating(
        contact=contact,
        left_force_n=left,
        right_force_n=right,
        bone_share=1 - force_n(soft) / force_n(contact.pressure),
        peak_pressure_kpa=peak_pressure_kpa(contact.pressure),
        soft_peak_kpa=peak_pressure_kpa(soft),
    )


def _on_grid(name: str, value: Numbers, **limits: float) -> Floats:
    return np.asarray(checked(name, value, **limits)[..., None, None])  # type: ignore[arg-type]


def _places(first: float, last: float, cell: float) -> Floats:
    count = max(round((last - first) / cell), 2)
    return np.asarray((np.arange(count) - (count - 1) / 2) * cell + (first + last) / 2, dtype=np.float64)


def _bone_gap(across: Floats, along: Floats, width: Floats, radius: Floats) -> tuple[Floats, Mask]:
    """Height of the nearer bone end over its lowest point, and where a bone is above."""
    squared = (np.abs(across) - width / 2) ** 2 + along**2
    below = squared < radius**2
    return radius - np.sqrt(np.where(below, radius**2 - squared, 0.0)), below


def _outline(across: Floats, along: Floats, cell: float, saddle: Saddle) -> Floats:
    """Share of each cell that lies on the saddle: full width behind, tapering to the nose in front."""
    wide = _on_grid("width_mm", saddle.width_mm)
    nose = np.minimum(_on_grid("nose_width_mm", saddle.nose_width_mm, above=0), wide)
    slot = _on_grid("slot_width_mm", saddle.slot_width_mm, at_least=0)
    if np.any(slot >= nose):
        raise OutOfRangeError(
            f"slot_width_mm: received {float(slot.max()):g}; allowed: below the nose width; make the slot narrower"
        )
    half = np.where(along <= 0, wide, wide + (nose - wide) * np.clip(along / 60.0, 0, 1)) / 2
    inside = np.clip((half - np.abs(across)) / cell + 0.5, 0, 1)
    return np.asarray(inside - np.clip((slot / 2 - np.abs(across)) / cell + 0.5, 0, 1) * (slot > 0))
