"""From landmarks in space to the sagittal plane."""

import warnings

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


class OutOfPlaneWarning(UserWarning):
    """A segment leans out of the sagittal plane so far that its projection misleads.

    Examples
    --------
    >>> issubclass(OutOfPlaneWarning, UserWarning)
    True
    """


def project_sagittal_mm(
    points_mm: Numbers,
    *,
    up: Numbers = (0.0, 1.0, 0.0),
    right: Numbers = (0.0, 0.0, 1.0),
    warn_above_deg: float = 10.0,
) -> Floats:
    """Project landmarks in space onto the rider's sagittal plane, and warn where that misleads.

    Parameters
    ----------
    points_mm : array_like, shape (..., landmarks, 3)
        Landmarks in order along the body, such as hip, knee and ankle. [mm]
    up, right : array_like, shape (3,)
        Directions of the laboratory that point up and to the rider's right, at a right angle to each other. The
        defaults are those of the biomechanics society: y up, z to the right.
    warn_above_deg : float
        Warn if the line between neighbouring landmarks leaves the plane by more, 0 to 90. [°]

    Returns
    -------
    numpy.ndarray, shape (..., landmarks, 2)
        Forward and upward coordinates. [mm]

    Warns
    -----
    OutOfPlaneWarning
        If a segment leans out of the plane by more than ``warn_above_deg``: joint angles from the projection are then
        off, since a leaning segment looks shorter.

    Raises
    ------
    OutOfRangeError
        If the points have no three coordinates or the two directions are not at a right angle.

    Notes
    -----
    *Measured law* (geometry). The limit of 10° is a choice of this package: at 10° a segment looks 1.5 % shorter.

    References
    ----------
    wu_cavanagh_1995

    Examples
    --------
    >>> project_sagittal_mm([[0, 0, 90], [300, -300, 100], [0, -600, 110]]).tolist()
    [[0.0, 0.0], [300.0, -300.0], [0.0, -600.0]]
    """
    points = checked("points_mm", points_mm)
    limit = checked("warn_above_deg", warn_above_deg, at_least=0, at_most=90)
    if points.ndim < 2 or points.shape[-1] != 3:
        raise OutOfRangeError(
            f"points_mm: received an array of shape {points.shape}; allowed: (..., landmarks, 3); "
            "give x, y and z of each landmark"
        )
    upward, rightward = _unit("up", up), _unit("right", right)
    if abs(upward @ rightward) > 1e-6:
        raise OutOfRangeError(
            f"up and right: received {upward.tolist()} and {rightward.tolist()}; allowed: directions at a right angle; "
            "check the axes of the room"
        )
    forward = np.cross(upward, rightward)
    span = np.diff(points, axis=-2)
    length = np.linalg.norm(span, axis=-1)
    lean = np.degrees(np.arcsin(np.clip(np.abs(span @ rightward) / np.where(length == 0, 1, length), 0, 1)))
    if lean.size and lean.max() > limit:
        warnings.warn(
            f"a segment leans {lean.max():.0f}° out of the sagittal plane (limit {limit:g}°): "
            "its joint angles in this projection are off; look at the rider from the front as well",
            OutOfPlaneWarning,
            stacklevel=2,
        )
    return np.stack([points @ forward, points @ upward], axis=-1)


def _unit(name: str, value: Numbers) -> Floats:
    vector = checked(name, value)
    if vector.shape != (3,) or not np.any(vector):
        raise OutOfRangeError(
            f"{name}: received {value!r}; allowed: three numbers, not all 0; give a direction in space"
        )
    return np.asarray(vector / np.linalg.norm(vector))
