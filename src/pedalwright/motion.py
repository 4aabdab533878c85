"""How fast the segments and joints of the leg turn at a steady cadence."""

from dataclasses import dataclass

from pedalwright._typing import Floats


@dataclass(frozen=True)
class Motion:
    """Angular rates of the segments at a steady cadence, counter-clockwise positive seen from the right.

    Parameters
    ----------
    cadence_rpm : numpy.ndarray
        Cadence, last axis of length 1. [1/min]
    thigh_velocity_deg_s, shank_velocity_deg_s, foot_velocity_deg_s : numpy.ndarray
        Angular velocities. [°/s]
    thigh_acceleration_deg_s2, shank_acceleration_deg_s2, foot_acceleration_deg_s2 : numpy.ndarray
        Angular accelerations. [°/s²]

    Examples
    --------
    >>> from pedalwright.position import Leg, Position
    >>> from pedalwright.stroke import solve_stroke
    >>> motion = solve_stroke(Leg(428.75, 430.5, 150), Position(730, 200, 170), cadence_rpm=90).motion
    >>> motion.foot_velocity_deg_s.max().item()
    0.0
    """

    cadence_rpm: Floats
    thigh_velocity_deg_s: Floats
    shank_velocity_deg_s: Floats
    foot_velocity_deg_s: Floats
    thigh_acceleration_deg_s2: Floats
    shank_acceleration_deg_s2: Floats
    foot_acceleration_deg_s2: Floats

    @property
    def hip_flexion_velocity_deg_s(self) -> Floats:
        """Rate of hip flexion, the pelvis standing still, in °/s."""
        return self.thigh_velocity_deg_s

    @property
    def knee_flexion_velocity_deg_s(self) -> Floats:
        """Rate of knee flexion, in °/s."""
        return self.thigh_velocity_deg_s - self.shank_velocity_deg_s

    @property
    def ankle_plantar_flexion_velocity_deg_s(self) -> Floats:
        """Rate of plantar flexion, in °/s."""
        return self.shank_velocity_deg_s - self.foot_velocity_deg_s
