"""Seen from the front: the knee's path beside its line, and markers beside the midline.

Positions across the bicycle grow to the rider's right. *Inward* always means towards the frame,
on either side.
"""

from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

SIDES = {"right": -1.0, "left": 1.0}


@dataclass(frozen=True)
class KneePath:
    """The knee's way in and out over one turn.

    Parameters
    ----------
    inward_mm : numpy.ndarray
        Distance of the knee inward of its line at each crank angle. [mm]
    mean_inward_mm : numpy.ndarray
        Mean over the turn. [mm]
    push_inward_mm : numpy.ndarray
        Mean over the downstroke, crank 0 to 180. [mm]
    width_mm : numpy.ndarray
        Innermost less outermost point. [mm]
    innermost_crank_angle_deg : numpy.ndarray
        Crank angle of the innermost point. [°]

    Examples
    --------
    >>> knee_path([100, 110, 120, 110], 110, "left").mean_inward_mm.item()
    0.0
    """

    inward_mm: Floats
    mean_inward_mm: Floats
    push_inward_mm: Floats
    width_mm: Floats
    innermost_crank_angle_deg: Floats


def knee_path(knee_lateral_mm: Numbers, line_lateral_mm: Numbers, side: str) -> KneePath:
    """Describe the knee's path across its line over one turn.

    Parameters
    ----------
    knee_lateral_mm : array_like, shape (..., samples)
        Knee marker across the bicycle, evenly sampled over one turn of this side's own crank, first
        sample at the top, at least 4 samples, positive to the rider's right. [mm]
    line_lateral_mm : array_like, shape (...)
        Where the knee is compared with, usually the middle of the pedal. [mm]
    side : {"right", "left"}
        Which knee.

    Returns
    -------
    KneePath
        Path and its summary; inward positive. [mm]

    Raises
    ------
    OutOfRangeError
        If there are fewer than 4 samples or the side is not known.

    Notes
    -----
    *Measured quantity.* A knee that moves in and out is a finding, not a fault: in one study of riders
    frontal alignment was not associated with anterior knee pain, in another riders with injury history
    moved the knee further inward. Skin markers and the turning of the thigh add to it.

    References
    ----------
    branco_2023
    bailey_2003

    Examples
    --------
    >>> path = knee_path([125, 115, 125, 135], 125, "right")
    >>> path.width_mm.item(), path.innermost_crank_angle_deg.item()
    (20.0, 90.0)
    """
    lateral = checked("knee_lateral_mm", knee_lateral_mm)
    if lateral.ndim == 0 or lateral.shape[-1] < 4:
        raise OutOfRangeError(
            f"knee_lateral_mm: received {lateral.size} samples; allowed: at least 4 on the last axis; "
            "give a whole turn of samples"
        )
    toward = chosen("side", side, SIDES)
    inward = toward * (lateral - checked("line_lateral_mm", line_lateral_mm)[..., None])
    crank = np.arange(inward.shape[-1]) * (360 / inward.shape[-1])
    return KneePath(
        inward_mm=inward,
        mean_inward_mm=inward.mean(axis=-1),
        push_inward_mm=inward[..., crank < 180].mean(axis=-1),
        width_mm=np.ptp(inward, axis=-1),
        innermost_crank_angle_deg=crank[np.argmax(inward, axis=-1)],
    )


def midline_offset_mm(marker_mm: Numbers, lower_mid_mm: Numbers, upper_mid_mm: Numbers) -> Floats:
    """Distance of a marker from the midline of the bicycle, in a picture from the front or behind.

    Parameters
    ----------
    marker_mm : array_like, shape (..., 2)
        Marker, across (to the rider's right) and up. [mm]
    lower_mid_mm, upper_mid_mm : array_like, shape (..., 2)
        Two points of the midline, such as the middle of the bottom bracket and of the head tube;
        the upper one higher than the lower one. [mm]

    Returns
    -------
    numpy.ndarray, shape (...)
        Distance square to the midline, positive to the rider's right. [mm]

    Raises
    ------
    OutOfRangeError
        If points are not pairs or the upper point is not above the lower one.

    Notes
    -----
    *Measured quantity.* A leaning camera or bicycle leans the midline too, so the offset is not changed by
    it. In a picture from the front the rider's right is on the left: mind the sign.

    References
    ----------
    wu_cavanagh_1995

    Examples
    --------
    >>> midline_offset_mm([12, 500], [0, 0], [0, 700]).item()
    12.0
    """
    marker = _pairs("marker_mm", marker_mm)
    lower = _pairs("lower_mid_mm", lower_mid_mm)
    along = _pairs("upper_mid_mm", upper_mid_mm) - lower
    checked("upper_mid_mm above lower_mid_mm", along[..., 1], above=0, advice="swap the points or mark them again")
    away = marker - lower
    return np.asarray(
        (away[..., 0] * along[..., 1] - away[..., 1] * along[..., 0]) / np.hypot(along[..., 0], along[..., 1])
    )


def pair_offset_mm(right_lateral_mm: Numbers, left_lateral_mm: Numbers) -> Floats:
    """Distance of the middle between two paired markers from the midline.

    Parameters
    ----------
    right_lateral_mm, left_lateral_mm : array_like
        Offsets of the right and left marker from the midline, as `midline_offset_mm` gives them. [mm]

    Returns
    -------
    numpy.ndarray
        Middle of the pair, positive to the rider's right: 0 when the rider sits in the middle. [mm]

    Raises
    ------
    OutOfRangeError
        If the right marker is not to the right of the left one.

    Notes
    -----
    *Measured quantity*, of hips, sit bones or shoulders.

    References
    ----------
    wu_cavanagh_1995

    Examples
    --------
    >>> pair_offset_mm(70, -60).item()
    5.0
    """
    right, left = checked("right_lateral_mm", right_lateral_mm), checked("left_lateral_mm", left_lateral_mm)
    checked("right marker to the right of the left marker", right - left, above=0, advice="swap the two markers")
    return np.asarray((right + left) / 2)


def _pairs(name: str, points: Numbers) -> Floats:
    pairs = checked(name, points)
    if pairs.ndim == 0 or pairs.shape[-1] != 2:
        raise OutOfRangeError(
            f"{name}: received shape {pairs.shape}; allowed: (across, up) on the last axis; give two numbers a point"
        )
    return pairs
