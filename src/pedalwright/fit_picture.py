"""The figures of one rider on one setup, each side for itself: what a change is predicted to change."""

from dataclasses import dataclass

import numpy as np

from pedalwright.arch_load import arch_drop_mm
from pedalwright.fit_case import SIDES, Rider, Setup
from pedalwright.foot_collapse import foot_collapse
from pedalwright.forefoot import EDGE_SIGN, tilt_left_deg, wedge_angle_deg
from pedalwright.pelvis import bearing_width_mm, bone_margin_mm, hip_closure
from pedalwright.stroke import knee_over_pedal_mm
from pedalwright.uneven_seat import uneven_seat


@dataclass(frozen=True)
class SidePicture:
    """Figures of one side.

    Parameters
    ----------
    knee_flexion_bottom_deg : float
        Knee flexion with the crank at the bottom. [°]
    knee_over_pedal_mm : float
        Knee ahead of the pedal axle with the crank pointing forward. [mm]
    hip_flexion_top_deg : float
        Hip flexion with the crank at the top. [°]
    forefoot_tilt_left_deg : float
        Forefoot tilt that no wedge fills, positive varus. [°]
    foot_drift_mm : float
        Inward drift of the knee from the foot in the middle of the push. [mm]
    seat_drift_mm : float
        Inward drift of the knee from an uneven seat, mean over the downstroke. [mm]

    Examples
    --------
    >>> SidePicture(30.0, 0.0, 80.0, 1.0, 12.0, 0.0).knee_flexion_bottom_deg
    30.0
    """

    knee_flexion_bottom_deg: float
    knee_over_pedal_mm: float
    hip_flexion_top_deg: float
    forefoot_tilt_left_deg: float
    foot_drift_mm: float
    seat_drift_mm: float


@dataclass(frozen=True)
class Picture:
    """Figures of a rider on a setup.

    Parameters
    ----------
    right, left : SidePicture
        Each side.
    bearing_width_mm : float
        Width the pelvis bears on in this posture. [mm]
    bone_margin_mm : float
        How far the bones lie inside the saddle's edges, negative if they overhang. [mm]
    pelvis_shift_mm : float
        Sideways shift of the hips, positive to the rider's right. [mm]

    Examples
    --------
    >>> one = SidePicture(30.0, 0.0, 80.0, 1.0, 12.0, 0.0)
    >>> Picture(one, one, 90.0, 20.0, 0.0).side("left").foot_drift_mm
    12.0
    """

    right: SidePicture
    left: SidePicture
    bearing_width_mm: float
    bone_margin_mm: float
    pelvis_shift_mm: float

    def side(self, side: str) -> SidePicture:
        """Return the figures of one side."""
        return self.right if side == "right" else self.left


def picture(rider: Rider, setup: Setup, push_n: float = 300.0) -> Picture:
    """Compute the figures of a rider on a setup.

    Parameters
    ----------
    rider : Rider
        What was measured on the rider.
    setup : Setup
        How the bicycle is set.
    push_n : float
        Load on the foot in the middle of the push, above 0. [N]

    Returns
    -------
    Picture
        The figures.

    Raises
    ------
    UnreachablePositionError
        If a leg cannot follow its pedal.
    OutOfRangeError
        If a measurement is out of range.

    Notes
    -----
    *Teaching model*, put together from the closed chain and the models of foot, pelvis and seat. The position is taken
    as it was measured, with the rider's present posture; drifts from foot and seat are given apart, not added up.

    References
    ----------
    hull_jorge_1985
    branco_2023

    Examples
    --------
    >>> from pedalwright.fit_case import Foot
    >>> from pedalwright.position import Leg, Position
    >>> foot = Foot(0.34, 14.0, 2.0, 95.0)
    >>> rider = Rider(Leg(430, 430, 150), Leg(430, 430, 150), foot, foot, 120.0)
    >>> figures = picture(rider, Setup(Position(720, 150, 170), 140.0))
    >>> round(figures.bone_margin_mm, 1), round(figures.right.knee_flexion_bottom_deg, 1)
    (26.1, 43.3)
    """
    bearing = bearing_width_mm(rider.sit_bone_width_mm, setup.pelvic_roll_deg)
    sides, shift = {}, 0.0
    for side in SIDES:
        sides[side], shift = _side(rider, setup, side, push_n)
    return Picture(
        right=sides["right"],
        left=sides["left"],
        bearing_width_mm=bearing.item(),
        bone_margin_mm=bone_margin_mm(setup.saddle_width_mm, bearing).item(),
        pelvis_shift_mm=shift,
    )


def _side(rider: Rider, setup: Setup, side: str, push_n: float) -> tuple[SidePicture, float]:
    leg, foot, shoe = rider.leg(side), rider.foot(side), setup.shoe(side)
    seat = uneven_seat(leg, setup.position, setup.pelvic_obliquity_deg, pedal_angle_deg=setup.pedal_angle_deg)
    knee = seat.right_knee_flexion_deg if side == "right" else seat.left_knee_flexion_deg
    inward = seat.right_knee_inward_mm if side == "right" else seat.left_knee_inward_mm
    push = seat.crank_angle_deg <= 180
    at = {angle: int(np.argmin(np.abs(seat.crank_angle_deg - angle))) for angle in (90, 180)}
    wedge = EDGE_SIGN[shoe.wedge_edge] * wedge_angle_deg(shoe.wedge_height_mm, foot.forefoot_width_mm)
    collapse = foot_collapse(
        arch_drop_mm(foot.arch_flexibility_mm_per_kn, push_n),
        foot.forefoot_tilt_deg,
        leg,
        knee[at[90]],
        wedge_deg=wedge,
        held_share=shoe.held_share,
    )
    closure = hip_closure(
        leg,
        setup.position,
        pelvis_forward_tilt_deg=setup.pelvic_roll_deg,
        pedal_angle_deg=setup.pedal_angle_deg,
    )
    figures = SidePicture(
        knee_flexion_bottom_deg=knee[at[180]].item(),
        knee_over_pedal_mm=knee_over_pedal_mm(leg, setup.position, setup.pedal_angle_deg).item(),
        hip_flexion_top_deg=closure.top_hip_flexion_deg.item(),
        forefoot_tilt_left_deg=tilt_left_deg(
            foot.forefoot_tilt_deg, shoe.wedge_height_mm, foot.forefoot_width_mm, shoe.wedge_edge
        ).item(),
        foot_drift_mm=collapse.knee_drift_mm.item(),
        seat_drift_mm=inward[push].mean().item(),
    )
    return figures, seat.pelvis_shift_mm.item()
