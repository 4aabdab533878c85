"""Mass distribution of the leg as the dynamics take it."""

from dataclasses import dataclass

from pedalwright._typing import Numbers


@dataclass(frozen=True)
class LegInertia:
    """Mass and its distribution for thigh, shank and foot, in this order on the last axis.

    Parameters
    ----------
    mass_kg : array_like, shape (..., 3)
        Segment masses, at least 0. [kg]
    com_from_proximal : array_like, shape (..., 3)
        Centre of mass from the upper end, as a share of the segment's length, 0 to 1; for the foot along the line
        from ankle to pedal axle. [1]
    radius_of_gyration : array_like, shape (..., 3)
        Radius of gyration about the centre of mass for turning in the sagittal plane, as a share of the length,
        0 to 1. [1]

    References
    ----------
    winter_2009

    Notes
    -----
    *Teaching model*: rigid segments.

    Examples
    --------
    >>> LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475)).mass_kg[0]
    7.0
    """

    mass_kg: Numbers
    com_from_proximal: Numbers
    radius_of_gyration: Numbers
