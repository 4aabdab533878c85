"""Segment states for the equations of motion, from a solved stroke or from any pose."""

from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np

from pedalwright._links import Pair
from pedalwright._newton_euler import Segments, SegmentState
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.inertia import LegInertia
from pedalwright.stroke import Stroke


def stroke_states(stroke: Stroke, inertia: LegInertia) -> Segments:
    """Take lengths and directions of the segments from the joint centres of a stroke with rates."""
    motion = stroke.motion
    if motion is None:
        raise OutOfRangeError("stroke: received one without rates; allowed: one with rates; solve it with a cadence")
    chain = (stroke.hip_mm, stroke.knee_mm, stroke.ankle_mm, stroke.pedal_mm)
    lengths, along = [], []
    for upper, lower in pairwise(chain):
        x, y = lower[..., 0] - upper[..., 0], lower[..., 1] - upper[..., 1]
        length = np.hypot(x[..., :1], y[..., :1])
        along.append((x / length, y / length))
        lengths.append(length / 1000)
    rates = (motion.thigh_velocity_deg_s, motion.shank_velocity_deg_s, motion.foot_velocity_deg_s)
    changes = (motion.thigh_acceleration_deg_s2, motion.shank_acceleration_deg_s2, motion.foot_acceleration_deg_s2)
    return _states(lengths, along, rates, changes, inertia, lambda column: column[..., None])


def pose_states(
    lengths_mm: Sequence[Numbers],
    inertia: LegInertia,
    angles_deg: Sequence[Numbers],
    rates_deg_s: Sequence[Numbers],
    changes_deg_s2: Sequence[Numbers],
) -> Segments:
    """Take everything as given, three values each, in the order thigh, shank, foot."""
    lengths = [value / 1000 for value in _three("segment_lengths_mm", lengths_mm, above=0, at_most=2000)]
    angles = [np.radians(value) for value in _three("segment_angles_deg", angles_deg)]
    along = [(np.cos(angle), np.sin(angle)) for angle in angles]
    rates = _three("segment_velocities_deg_s", rates_deg_s)
    changes = _three("segment_accelerations_deg_s2", changes_deg_s2)
    return _states(lengths, along, rates, changes, inertia, np.asarray)


def _three(name: str, values: Sequence[Numbers], above: float = -np.inf, at_most: float = np.inf) -> list[Floats]:
    if len(values) != 3:
        raise OutOfRangeError(f"{name}: received {len(values)} values; allowed: 3; give thigh, shank and foot")
    return [checked(name, value, above=above, at_most=at_most) for value in values]


def _states(
    lengths: Sequence[Floats],
    along: Sequence[Pair],
    rates_deg_s: Sequence[Floats],
    changes_deg_s2: Sequence[Floats],
    inertia: LegInertia,
    per_rider: Callable[[Floats], Floats],
) -> Segments:
    mass = checked("mass_kg", inertia.mass_kg, at_least=0, at_most=100)
    com = checked("com_from_proximal", inertia.com_from_proximal, at_least=0, at_most=1)
    gyration = checked("radius_of_gyration", inertia.radius_of_gyration, at_least=0, at_most=1)
    for name, value in (("mass_kg", mass), ("com_from_proximal", com), ("radius_of_gyration", gyration)):
        if value.ndim == 0 or value.shape[-1] != 3:
            raise OutOfRangeError(
                f"{name}: received shape {value.shape}; allowed: 3 on the last axis; give thigh, shank and foot"
            )
    thigh, shank, foot = (
        SegmentState(
            length=lengths[i],
            along=along[i],
            rate=np.radians(rates_deg_s[i]),
            change=np.radians(changes_deg_s2[i]),
            mass=per_rider(mass[..., i]),
            com=per_rider(com[..., i]),
            inertia=per_rider(mass[..., i]) * (per_rider(gyration[..., i]) * lengths[i]) ** 2,
        )
        for i in range(3)
    )
    return thigh, shank, foot
