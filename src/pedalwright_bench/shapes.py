"""Shapes that benches share: arrows as polygons, and outlines given in their own coordinates."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def arrow_polygons(start: ArrayLike, vector: ArrayLike, shaft: float, head: float) -> list[Floats]:
    """Outlines of straight arrows.

    Parameters
    ----------
    start : array_like, shape (n, 2)
        Where the arrows begin. [any length unit]
    vector : array_like, shape (n, 2)
        From begin to tip; its length is exact, however short. [same unit]
    shaft, head : float
        Width of the shaft and of the head; the head is as long as it is wide, and shrinks with an
        arrow shorter than itself. [same unit]

    Returns
    -------
    list of numpy.ndarray, each of shape (7, 2)
        Corners, from one side of the tail round the tip to the other.

    Examples
    --------
    >>> arrow_polygons([[0, 0]], [[10, 0]], 2.0, 4.0)[0][3]
    array([10., 0.])
    """
    begin, along = np.asarray(start, float), np.asarray(vector, float)
    length = np.hypot(along[:, 0], along[:, 1])[:, None]
    unit = along / np.where(length > 0, length, 1.0)
    side = np.stack([-unit[:, 1], unit[:, 0]], axis=-1)
    shrink = np.minimum(1.0, length / (1.3 * head))
    neck = begin + along - unit * head * shrink
    tail_side, head_side = side * (shaft / 2) * shrink, side * (head / 2) * shrink
    tip = begin + along
    corners = (
        begin + tail_side,
        neck + tail_side,
        neck + head_side,
        tip,
        neck - head_side,
        neck - tail_side,
        begin - tail_side,
    )
    return list(np.stack(corners, axis=1))
