"""Small helpers for points and directions in the sagittal plane."""

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


def points(name: str, value: Numbers) -> Floats:
    """Check that points have two coordinates."""
    points = checked(name, value)
    if points.ndim == 0 or points.shape[-1] != 2:
        raise OutOfRangeError(
            f"{name}: received an array of shape {points.shape}; allowed: two coordinates (x, y) on the last axis; "
            "project points in space with project_sagittal_mm first"
        )
    return points


def span(start_name: str, start: Numbers, end_name: str, end: Numbers) -> Floats:
    """Vector from one point to another; an error if they coincide."""
    line = np.asarray(points(end_name, end) - points(start_name, start))
    if np.any(np.hypot(line[..., 0], line[..., 1]) == 0):
        raise OutOfRangeError(
            f"{start_name} and {end_name}: received the same point; allowed: two points apart; check the landmarks"
        )
    return line


def turn(first: Floats, last: Floats) -> Floats:
    """Signed angle from one vector to another, counter-clockwise, in radians."""
    cross = first[..., 0] * last[..., 1] - first[..., 1] * last[..., 0]
    return np.asarray(np.arctan2(cross, first[..., 0] * last[..., 0] + first[..., 1] * last[..., 1]))


def side(facing: str) -> int:
    """Sign of the x axis in the picture."""
    return chosen("facing", facing, {"right": 1, "left": -1})


def wrapped(angle: Floats) -> Floats:
    """Bring an angle in degrees above −180 and up to 180."""
    return np.asarray(180 - np.mod(180 - angle, 360))
