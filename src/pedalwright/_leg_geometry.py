"""Where points of the four segments lie in a posture, and the shortest way past a rounded joint."""

import numpy as np

from pedalwright._typing import Floats
from pedalwright.errors import OutOfRangeError

SEGMENTS = ("pelvis", "thigh", "shank", "foot")
JOINTS = ("hip", "knee", "ankle")

# Turning a joint one way moves everything below it: hip flexion counter-clockwise seen from the right, knee flexion
# and plantar flexion clockwise.
TURN = {"hip": 1.0, "knee": -1.0, "ankle": -1.0}


class Frames:
    """Places and directions of the segments, the pelvis upright and the hip at the origin."""

    def __init__(self, angles_deg: dict[str, Floats], thigh_mm: Floats, shank_mm: Floats) -> None:
        turned = [
            np.zeros(np.broadcast_shapes(*(a.shape for a in angles_deg.values()), thigh_mm.shape, shank_mm.shape))
        ]
        for joint in JOINTS:
            turned.append(turned[-1] + TURN[joint] * np.radians(angles_deg[joint]))
        self.turned = turned
        hip = np.zeros((*turned[0].shape, 2))
        knee = hip + self._rotated(1, 0 * thigh_mm, -thigh_mm)
        ankle = knee + self._rotated(2, 0 * shank_mm, -shank_mm)
        self.origins = [hip, hip, knee, ankle]
        self.centres = {"hip": hip, "knee": knee, "ankle": ankle}

    def _rotated(self, segment: int, forward: Floats | float, up: Floats | float) -> Floats:
        cosine, sine = np.cos(self.turned[segment]), np.sin(self.turned[segment])
        return np.stack([cosine * forward - sine * up, sine * forward + cosine * up], axis=-1)

    def place(self, segment: int, forward_mm: float, up_mm: float) -> Floats:
        """Place of a point given in the frame of its segment."""
        return np.asarray(self.origins[segment] + self._rotated(segment, forward_mm, up_mm))


def cross(first: Floats, second: Floats) -> Floats:
    """Cross product in the plane."""
    return np.asarray(first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0])


def norm(vector: Floats) -> Floats:
    """Length of a vector."""
    return np.hypot(vector[..., 0], vector[..., 1])


def around(upper: Floats, lower: Floats, centre: Floats, radius: float, side: float) -> tuple[Floats, Floats, Floats]:
    """Shortest way from an upper to a lower point past a circle on one side (1 in front, −1 behind).

    Returns the length and the points where it meets the circle, coming from above and from below; where it passes
    clear of the circle, these are the other ends themselves.
    """
    above, below = upper - centre, lower - centre
    far_above, far_below = norm(above), norm(below)
    if np.any(far_above < radius) or np.any(far_below < radius):
        raise OutOfRangeError(
            f"radius_mm: received {radius:g}, with an attachment {min(far_above.min(), far_below.min()):.1f} mm from "
            "the joint; allowed: attachments outside the circle; choose a smaller radius or move the attachment"
        )
    swept = np.mod(
        side * (np.arctan2(above[..., 1], above[..., 0]) - np.arctan2(below[..., 1], below[..., 0])), 2 * np.pi
    )
    first, second = np.arccos(radius / far_above), np.arccos(radius / far_below)
    arc = swept - first - second
    touched = arc > 0
    straight = norm(lower - upper)
    length = np.where(
        touched, np.sqrt(far_above**2 - radius**2) + np.sqrt(far_below**2 - radius**2) + radius * arc, straight
    )
    leave = centre + radius * _turned(above / far_above[..., None], -side * first)
    meet = centre + radius * _turned(below / far_below[..., None], side * second)
    return np.asarray(length), np.where(touched[..., None], leave, lower), np.where(touched[..., None], meet, upper)


def _turned(direction: Floats, angle: Floats) -> Floats:
    cosine, sine = np.cos(angle), np.sin(angle)
    return np.stack(
        [cosine * direction[..., 0] - sine * direction[..., 1], sine * direction[..., 0] + cosine * direction[..., 1]],
        axis=-1,
    )
