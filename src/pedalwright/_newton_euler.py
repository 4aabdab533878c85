"""Newton–Euler equations of thigh, shank and foot in components, from the pedal up; metres, radians, newtons.

::

    hip o---thigh---o knee ---shank---o ankle ---foot---o pedal axle
         τ_hip →     τ_knee →          τ_ankle →        ← force of the pedal on the foot

Moments act on the segment below the joint, counter-clockwise positive, balanced about the joint above each segment:
τ = I·α + r_com × m(a_com − g) + r_end × F_below + τ_below.
"""

from typing import NamedTuple

import numpy as np

from pedalwright._typing import Floats

Pair = tuple[Floats, Floats]


class SegmentState(NamedTuple):
    """One segment: length, unit vector along it, its angular velocity and acceleration, and its inertia."""

    length: Floats
    along: Pair
    rate: Floats
    change: Floats
    mass: Floats
    com: Floats
    inertia: Floats


Segments = tuple[SegmentState, SegmentState, SegmentState]


class Loads(NamedTuple):
    """Moments and forces at hip, knee and ankle, pedal velocity, and the rate of the leg's energy."""

    moments: tuple[Floats, Floats, Floats]
    forces: tuple[Pair, Pair, Pair]
    pedal_velocity: Pair
    energy_rate: Floats


def loads(
    segments: Segments,
    foot_force: Pair,
    gravity: float,
    hip_velocity: Pair,
    hip_acceleration: Pair,
) -> Loads:
    """Solve the leg from the pedal up; ``foot_force`` is the force of the foot on the pedal."""
    velocity, acceleration = hip_velocity, hip_acceleration
    pulls: list[Pair] = []
    energy_rate: Floats = np.zeros(())
    for part in segments:
        speed_x, speed_y = -part.rate * part.along[1], part.rate * part.along[0]
        turn_x = -part.change * part.along[1] - part.rate * speed_y
        turn_y = part.change * part.along[0] + part.rate * speed_x
        reach = part.com * part.length
        pull = (
            part.mass * (acceleration[0] + reach * turn_x),
            part.mass * (acceleration[1] + reach * turn_y + gravity),
        )
        energy_rate = (
            energy_rate
            + pull[0] * (velocity[0] + reach * speed_x)
            + pull[1] * (velocity[1] + reach * speed_y)
            + part.inertia * part.rate * part.change
        )
        pulls.append(pull)
        velocity = velocity[0] + part.length * speed_x, velocity[1] + part.length * speed_y
        acceleration = acceleration[0] + part.length * turn_x, acceleration[1] + part.length * turn_y
    moment: Floats = np.zeros(())
    below = foot_force
    found: list[tuple[Floats, Pair]] = []
    for part, pull in zip(reversed(segments), reversed(pulls), strict=True):
        reach = part.com * part.length
        arm_x, arm_y = reach * pull[0] + part.length * below[0], reach * pull[1] + part.length * below[1]
        moment = moment + part.inertia * part.change + part.along[0] * arm_y - part.along[1] * arm_x
        below = below[0] + pull[0], below[1] + pull[1]
        found.append((moment, below))
    (ankle, ankle_force), (knee, knee_force), (hip, hip_force) = found
    return Loads((hip, knee, ankle), (hip_force, knee_force, ankle_force), velocity, energy_rate)
