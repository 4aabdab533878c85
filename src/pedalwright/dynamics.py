"""Inverse dynamics of the pedalling leg: what the joints must do for a motion and a pedal force."""

from dataclasses import dataclass

import numpy as np

from pedalwright._leg_states import pose_states, stroke_states
from pedalwright._links import Pair, as_points
from pedalwright._newton_euler import Loads, Segments, loads
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import STANDARD_GRAVITY_M_S2
from pedalwright.errors import checked
from pedalwright.inertia import LegInertia
from pedalwright.stroke import Stroke

__all__ = ["JointLoads", "LegInertia", "inverse_dynamics", "pose_loads"]

Three = tuple[Numbers, Numbers, Numbers]


@dataclass(frozen=True)
class JointLoads:
    """Moments, forces and powers at the joints; extensor and plantar-flexor moments positive.

    Parameters
    ----------
    hip_extension_moment_nm, knee_extension_moment_nm, ankle_plantar_flexion_moment_nm : numpy.ndarray
        Net joint moments of all tissues together. [N·m]
    hip_force_n, knee_force_n, ankle_force_n : numpy.ndarray, shape (..., 2)
        Net force (x, y) on the upper end of thigh, shank and foot; muscles crossing the joint press it together
        on top of this. [N]
    hip_power_w, knee_power_w, ankle_power_w : numpy.ndarray
        Joint powers, positive where the joint gives energy to the leg. [W]
    hip_transfer_w : numpy.ndarray
        Power that comes into the leg through a moving hip, 0 for a hip that stands still. [W]
    pedal_power_w : numpy.ndarray
        Power of the foot on the pedal. [W]

    Examples
    --------
    >>> "hip_power_w" in JointLoads.__dataclass_fields__
    True
    """

    hip_extension_moment_nm: Floats
    knee_extension_moment_nm: Floats
    ankle_plantar_flexion_moment_nm: Floats
    hip_force_n: Floats
    knee_force_n: Floats
    ankle_force_n: Floats
    hip_power_w: Floats
    knee_power_w: Floats
    ankle_power_w: Floats
    hip_transfer_w: Floats
    pedal_power_w: Floats

    @property
    def leg_gains_w(self) -> Floats:
        """Power of the joints and through the hip, less what goes into the pedal, in W: what the leg must take up."""
        given = self.hip_power_w + self.knee_power_w + self.ankle_power_w + self.hip_transfer_w
        return np.asarray(given - self.pedal_power_w)


def inverse_dynamics(
    stroke: Stroke,
    inertia: LegInertia,
    forward_force_n: Numbers,
    up_force_n: Numbers,
    *,
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2.value,
) -> JointLoads:
    """Joint moments, forces and powers around the turn.

    Parameters
    ----------
    stroke : Stroke
        The leg around the turn, solved with a cadence.
    inertia : LegInertia
        Masses; leading axes broadcast with the riders of the stroke.
    forward_force_n, up_force_n : array_like, shape (..., crank angles) or one number
        Force of the foot on the pedal at the crank angles of the stroke. [N]
    gravity_m_s2 : float
        Acceleration of free fall, 0 to 20. [m/s²]

    Returns
    -------
    JointLoads
        Moments [N·m], forces [N] and powers [W].

    Raises
    ------
    OutOfRangeError
        If the stroke has no rates, or a value is out of range.

    Notes
    -----
    *Measured law* (Newton–Euler, from the pedal up) on a *teaching model* of three rigid segments in a plane. A net
    moment is the sum of all muscles and ligaments: where opposing muscles work at once, each does more than it shows.

    The moment at the hip hangs on the direction of the push. The forces of ``park_caldwell_umberger_2022`` pass about
    0.4 m in front of the hip and so ask for about 85 N·m at 68 W a leg and 60 turns a minute, where 34 N·m are
    remembered from an ergometer study at a like power (from memory). The same forces leaning 15° further forward need
    37 N·m and give 6 % less power: compare hip moments of different records with care.

    References
    ----------
    hull_jorge_1985
    winter_2009
    park_caldwell_umberger_2022

    Examples
    --------
    >>> from pedalwright.position import Leg, Position
    >>> from pedalwright.stroke import solve_stroke
    >>> stroke = solve_stroke(Leg(428.75, 430.5, 150), Position(730, 200, 170), cadence_rpm=90)
    >>> inertia = LegInertia((7.0, 3.255, 1.015), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
    >>> joints = inverse_dynamics(stroke, inertia, 0.0, -100.0)
    >>> round(np.mean(joints.leg_gains_w).item(), 6)
    0.0
    """
    segments = stroke_states(stroke, inertia)
    force = checked("forward_force_n", forward_force_n), checked("up_force_n", up_force_n)
    still = np.zeros(()), np.zeros(())
    gravity = checked("gravity_m_s2", gravity_m_s2, at_least=0, at_most=20).item()
    return _joint_loads(loads(segments, force, gravity, still, still), segments, force, still)


def pose_loads(
    segment_lengths_mm: Three,
    inertia: LegInertia,
    segment_angles_deg: Three,
    segment_velocities_deg_s: Three,
    segment_accelerations_deg_s2: Three,
    forward_force_n: Numbers,
    up_force_n: Numbers,
    *,
    hip_velocity_mm_s: tuple[Numbers, Numbers] = (0.0, 0.0),
    hip_acceleration_mm_s2: tuple[Numbers, Numbers] = (0.0, 0.0),
    gravity_m_s2: float = STANDARD_GRAVITY_M_S2.value,
) -> JointLoads:
    """Joint moments, forces and powers for any pose and motion of the leg, measured ones included.

    Everything broadcasts, element by element; segments are thigh, shank, foot, and their angles are directions
    downward from forward, counter-clockwise positive.

    Parameters
    ----------
    segment_lengths_mm : tuple of three array_like
        Hip to knee, knee to ankle, ankle to pedal axle, above 0. [mm]
    inertia : LegInertia
        Masses and their distribution.
    segment_angles_deg : tuple of three array_like
        Directions of the segments. [°]
    segment_velocities_deg_s : tuple of three array_like
        Angular velocities. [°/s]
    segment_accelerations_deg_s2 : tuple of three array_like
        Angular accelerations. [°/s²]
    forward_force_n, up_force_n : array_like
        Force of the foot on the pedal. [N]
    hip_velocity_mm_s : tuple of two array_like
        Velocity (x, y) of the hip. [mm/s]
    hip_acceleration_mm_s2 : tuple of two array_like
        Acceleration (x, y) of the hip. [mm/s²]
    gravity_m_s2 : float
        Acceleration of free fall, 0 to 20. [m/s²]

    Returns
    -------
    JointLoads
        Moments [N·m], forces [N] and powers [W].

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Notes
    -----
    *Measured law* (Newton–Euler) on a *teaching model* of three rigid segments in a plane.

    References
    ----------
    winter_2009

    Examples
    --------
    >>> hanging = (-90.0, -90.0, -90.0)
    >>> inertia = LegInertia((7.0, 3.3, 1.0), (0.433, 0.433, 0.5), (0.323, 0.302, 0.475))
    >>> still = (0.0, 0.0, 0.0)
    >>> pose_loads((429, 431, 150), inertia, hanging, still, still, 0, 0).hip_force_n.round(2).tolist()
    [0.0, 110.82]
    """
    segments = pose_states(
        segment_lengths_mm, inertia, segment_angles_deg, segment_velocities_deg_s, segment_accelerations_deg_s2
    )
    force = checked("forward_force_n", forward_force_n), checked("up_force_n", up_force_n)
    velocity = _pair("hip_velocity_mm_s", hip_velocity_mm_s)
    acceleration = _pair("hip_acceleration_mm_s2", hip_acceleration_mm_s2)
    gravity = checked("gravity_m_s2", gravity_m_s2, at_least=0, at_most=20).item()
    return _joint_loads(loads(segments, force, gravity, velocity, acceleration), segments, force, velocity)


def _pair(name: str, value: tuple[Numbers, Numbers]) -> Pair:
    return checked(name, value[0]) / 1000, checked(name, value[1]) / 1000


def _joint_loads(found: Loads, segments: Segments, foot_force: Pair, hip_velocity: Pair) -> JointLoads:
    hip, knee, ankle = found.moments
    thigh, shank, foot = segments
    shape = np.shape(hip)
    hip_force, knee_force, ankle_force = (np.broadcast_to(as_points(force), (*shape, 2)) for force in found.forces)
    transfer = found.forces[0][0] * hip_velocity[0] + found.forces[0][1] * hip_velocity[1]
    pedal = foot_force[0] * found.pedal_velocity[0] + foot_force[1] * found.pedal_velocity[1]
    return JointLoads(
        hip_extension_moment_nm=np.asarray(-hip),
        knee_extension_moment_nm=np.broadcast_to(knee, shape),
        ankle_plantar_flexion_moment_nm=np.broadcast_to(-ankle, shape),
        hip_force_n=hip_force,
        knee_force_n=knee_force,
        ankle_force_n=ankle_force,
        hip_power_w=np.asarray(hip * thigh.rate),
        knee_power_w=np.broadcast_to(knee * (shank.rate - thigh.rate), shape),
        ankle_power_w=np.broadcast_to(ankle * (foot.rate - shank.rate), shape),
        hip_transfer_w=np.broadcast_to(transfer, shape),
        pedal_power_w=np.broadcast_to(pedal, shape),
    )
