"""The planar closed chain hip – knee – ankle – pedal – crank."""

from typing import NamedTuple

import numpy as np

from pedalwright._links import as_points, close_links, leg_angles_deg
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import ANKLE_TO_PEDAL_SLOPE_DEG
from pedalwright.errors import checked


class Chain(NamedTuple):
    """Joint centres and segment angles of the closed chain.

    Parameters
    ----------
    knee_mm, ankle_mm, pedal_mm : numpy.ndarray, shape (..., 2)
        Joint centres and pedal axle (x, y). [mm]
    hip_ankle_mm : numpy.ndarray
        Distance from hip to ankle. [mm]
    thigh_angle_deg, shank_angle_deg, foot_angle_deg : numpy.ndarray
        Directions hip to knee, knee to ankle, ankle to pedal axle, from forward, counter-clockwise. [°]

    Examples
    --------
    >>> Chain._fields[0]
    'knee_mm'
    """

    knee_mm: Floats
    ankle_mm: Floats
    pedal_mm: Floats
    hip_ankle_mm: Floats
    thigh_angle_deg: Floats
    shank_angle_deg: Floats
    foot_angle_deg: Floats


def solve_chain(
    hip_x_mm: Numbers,
    hip_y_mm: Numbers,
    thigh_length_mm: Numbers,
    shank_length_mm: Numbers,
    ankle_to_pedal_mm: Numbers,
    crank_length_mm: Numbers,
    crank_angle_deg: Numbers,
    pedal_angle_deg: Numbers,
    ankle_to_pedal_slope_deg: Numbers = ANKLE_TO_PEDAL_SLOPE_DEG.value,
) -> Chain:
    """Close the chain: where knee and ankle are for a hip, a crank angle and a pedal angle.

    All arguments broadcast against each other, element by element.

    Parameters
    ----------
    hip_x_mm, hip_y_mm : array_like
        Hip joint centre from the crank axis; x forward, so usually negative. [mm]
    thigh_length_mm, shank_length_mm, ankle_to_pedal_mm : array_like
        Lengths between joint centres and from ankle to pedal axle, above 0. [mm]
    crank_length_mm : array_like
        Crank length, above 0. [mm]
    crank_angle_deg : array_like
        Crank angle, any finite value. [°]
    pedal_angle_deg : array_like
        Pedal angle, toe down positive. [°]
    ankle_to_pedal_slope_deg : array_like
        Slope of the line from ankle to pedal axle with the sole level. [°]

    Returns
    -------
    Chain
        Joint centres [mm] and segment angles [°], knee in front of the line from hip to ankle.

    Raises
    ------
    OutOfRangeError
        If a value is not finite or a length not above 0.
    UnreachablePositionError
        If the leg is too short or cannot fold enough at some crank angle.

    Notes
    -----
    *Measured law* (plane geometry, law of cosines) on a *teaching model*: the hip stands still and the knee is a
    hinge; real pelves rock by 2° to 3° and real knees roll and slide.

    References
    ----------
    hull_jorge_1985

    Examples
    --------
    >>> chain = solve_chain(-200, 740, 428.75, 430.5, 150, 170, 90, 0)
    >>> round((chain.thigh_angle_deg - chain.shank_angle_deg).item(), 3)
    71.099
    """
    thigh, shank, foot, crank = (
        checked(name, value, above=0, advice="give the length in millimetres")
        for name, value in (
            ("thigh_length_mm", thigh_length_mm),
            ("shank_length_mm", shank_length_mm),
            ("ankle_to_pedal_mm", ankle_to_pedal_mm),
            ("crank_length_mm", crank_length_mm),
        )
    )
    crank_angle = checked("crank_angle_deg", crank_angle_deg)
    slope = checked("ankle_to_pedal_slope_deg", ankle_to_pedal_slope_deg)
    foot_angle = -(checked("pedal_angle_deg", pedal_angle_deg) + slope)
    hip_x, hip_y = checked("hip_x_mm", hip_x_mm), checked("hip_y_mm", hip_y_mm)
    phi = np.radians(foot_angle)
    links = close_links(hip_x, hip_y, thigh, shank, foot, crank, crank_angle, (np.cos(phi), np.sin(phi)))
    thigh_angle, shank_angle = leg_angles_deg(links)
    return Chain(
        as_points(links.knee),
        np.broadcast_to(as_points(links.ankle), (*thigh_angle.shape, 2)),
        np.broadcast_to(as_points(links.pedal), (*thigh_angle.shape, 2)),
        np.hypot(links.ankle[0] - hip_x, links.ankle[1] - hip_y),
        thigh_angle,
        shank_angle,
        np.broadcast_to(foot_angle, thigh_angle.shape),
    )
