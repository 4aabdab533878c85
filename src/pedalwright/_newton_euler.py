"""Newton–Euler equations of thigh, shank and foot in components, from the pedal up; metres, radians, newtons.

::

    hip o---thigh---o knee ---shank---o ankle ---foot---o pedal axle
         τ_hip →     τ_knee →          τ_ankle →        ← force of the pedal on the foot

Forces act on the upper end of a segment, moments on the segment below the joint, counter-clockwise positive and
balanced about that joint: τ = I·α + L·e × (c·F + (1 − c)·F_below) + τ_below, where F = F_below + m(a_com − g).
"""

from typing import NamedTuple

import numpy as np

from pedalwright._links import Pair
from pedalwright._typing import Floats


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
    """Moments and forces at hip, knee and ankle, and the velocity of the pedal."""

    moments: tuple[Floats, Floats, Floats]
    forces: tuple[Pair, Pair, Pair]
    pedal_velocity: Pair


def loads(segments: Segments, foot_force: Pair, gravity: float, hip_velocity: Pair, hip_acceleration: Pair) -> Loads:
    """Solve the leg from the pedal up; ``foot_force`` is the force of the foot on the pedal."""
    turns = [_turn(part) for part in segments]
    moment: Floats = np.zeros(())
    below = foot_force
    moments, forces = [], []
    for index in (2, 1, 0):
        part = segments[index]
        force_x = below[0] + part.mass * hip_acceleration[0]
        force_y = below[1] + part.mass * (hip_acceleration[1] + gravity)
        for above, turn in zip(segments[: index + 1], turns, strict=False):
            share = part.mass * above.length * (part.com if above is part else 1.0)
            force_x = force_x + share * turn[0]
            force_y = force_y + share * turn[1]
        near, far = part.com * part.length, (1 - part.com) * part.length
        cross = part.along[0] * (near * force_y + far * below[1]) - part.along[1] * (near * force_x + far * below[0])
        moment = moment + part.inertia * part.change + cross
        below = force_x, force_y
        moments.append(moment)
        forces.append(below)
    velocity = hip_velocity
    for part in segments:
        speed = part.length * part.rate
        velocity = velocity[0] - speed * part.along[1], velocity[1] + speed * part.along[0]
    return Loads((moments[2], moments[1], moments[0]), (forces[2], forces[1], forces[0]), velocity)


def energies(
    segments: Segments, gravity: float, hip_height: Floats, hip_velocity: Pair, hip_acceleration: Pair
) -> tuple[Floats, Floats, Floats]:
    """Kinetic energy, energy of height, and the rate of their sum, from the motion alone."""
    velocity, acceleration, height = hip_velocity, hip_acceleration, hip_height
    kinetic: Floats = np.zeros(())
    potential: Floats = np.zeros(())
    rate: Floats = np.zeros(())
    for part in segments:
        turn = _turn(part)
        spin = -part.rate * part.along[1], part.rate * part.along[0]
        near = part.com * part.length
        speed_x, speed_y = velocity[0] + near * spin[0], velocity[1] + near * spin[1]
        gain_x, gain_y = acceleration[0] + near * turn[0], acceleration[1] + near * turn[1]
        kinetic = kinetic + part.mass * (speed_x**2 + speed_y**2) / 2 + part.inertia * part.rate**2 / 2
        potential = potential + part.mass * gravity * (height + near * part.along[1])
        rate = rate + part.mass * (speed_x * gain_x + speed_y * (gain_y + gravity))
        rate = rate + part.inertia * part.rate * part.change
        velocity = velocity[0] + part.length * spin[0], velocity[1] + part.length * spin[1]
        acceleration = acceleration[0] + part.length * turn[0], acceleration[1] + part.length * turn[1]
        height = height + part.length * part.along[1]
    return kinetic, potential, rate


def _turn(part: SegmentState) -> Pair:
    """Second derivative of the unit vector along a segment: α·n − ω²·e."""
    pull = part.rate * part.rate
    x, y = part.along
    return -part.change * y - pull * x, part.change * x - pull * y
