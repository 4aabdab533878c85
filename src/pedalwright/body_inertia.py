"""Mass distribution of a rider's leg in the form that the dynamics take."""

import numpy as np

from pedalwright._segment_tables import HEEL_TO_ANKLE, HEEL_TO_BALL
from pedalwright._typing import Numbers
from pedalwright.body_segments import DEFAULT_TABLE, leg_segments
from pedalwright.errors import checked
from pedalwright.inertia import LegInertia
from pedalwright.position import Leg


def leg_inertia(
    body_mass_kg: Numbers,
    leg: Leg,
    *,
    foot_length_mm: Numbers | None = None,
    sex: str | Numbers = "mean",
    table: str = DEFAULT_TABLE,
) -> LegInertia:
    """Masses, centres of mass and radii of gyration of a leg whose lengths are known, for ``inverse_dynamics``.

    Parameters
    ----------
    body_mass_kg : array_like
        Body mass, 25 to 250, one value or one a rider. [kg]
    leg : Leg
        Lengths between the joint centres and to the pedal. [mm]
    foot_length_mm : array_like, optional
        Heel to toe tip, above 0; left out, it is estimated with the ball of the foot above the pedal axle. [mm]
    sex : {"female", "male", "mean"} or array of these
        Column of the table; ``mean`` lies midway and is an assumption of this package.
    table : {"de_leva_1996", "winter_2009"}
        Where the fractions come from.

    Returns
    -------
    LegInertia
        Thigh, shank and foot on the last axis; the foot along the line from ankle to pedal axle.

    Raises
    ------
    OutOfRangeError
        If a value is out of range or a name unknown.

    Notes
    -----
    *Published regression*, for the foot a *teaching model* on top. The foot of ``winter_2009`` runs from malleolus to
    ball and is laid along the line from ankle to pedal. The foot of ``de_leva_1996`` runs from heel to toe tip: its
    centre of mass is carried over with the ankle a quarter of the foot's length ahead of the heel and the centre of
    mass half-way in height between ankle and pedal axle (assumptions, no source), then dropped onto that line.

    References
    ----------
    de_leva_1996
    winter_2009

    Examples
    --------
    >>> inertia = leg_inertia(70, Leg(428.75, 430.5, 150), table="winter_2009")
    >>> [round(float(mass), 3) for mass in inertia.mass_kg]
    [7.0, 3.255, 1.015]
    """
    reach = checked("ankle_to_pedal_mm", leg.ankle_to_pedal_mm, above=0)
    slope = np.radians(checked("ankle_to_pedal_slope_deg", leg.ankle_to_pedal_slope_deg, above=0, below=90))
    along = reach * np.cos(slope)
    foot_length = (
        along / (HEEL_TO_BALL.value - HEEL_TO_ANKLE.value)
        if foot_length_mm is None
        else checked("foot_length_mm", foot_length_mm, above=0)
    )
    segments = leg_segments(
        body_mass_kg,
        thigh_length_mm=leg.thigh_length_mm,
        shank_length_mm=leg.shank_length_mm,
        foot_length_mm=foot_length,
        ankle_to_ball_mm=reach,
        sex=sex,
        table=table,
    )
    foot = segments.foot
    com, radius = foot.com_from_proximal, foot.radius_of_gyration
    if foot.proximal == "heel":
        ahead = foot.com_from_proximal_mm - HEEL_TO_ANKLE.value * foot_length
        com = (ahead * np.cos(slope) + reach / 2 * np.sin(slope) ** 2) / reach
        radius = radius * foot_length / reach
    parts = (segments.thigh, segments.shank, foot)
    return LegInertia(
        np.stack(np.broadcast_arrays(*(part.mass_kg for part in parts)), axis=-1),
        np.stack(np.broadcast_arrays(segments.thigh.com_from_proximal, segments.shank.com_from_proximal, com), axis=-1),
        np.stack(
            np.broadcast_arrays(segments.thigh.radius_of_gyration, segments.shank.radius_of_gyration, radius), axis=-1
        ),
    )
