"""The drawn case: landmarks read from a picture, and the angles they make under the project's conventions."""

from dataclasses import dataclass

import numpy as np

from autograde.cases.writing import RIDERS
from pedalwright.angle_conventions import convert_knee_angle_deg
from pedalwright.joints import (
    ankle_plantar_flexion_deg,
    hip_flexion_deg,
    included_angle_deg,
    knee_flexion_deg,
    segment_angle_deg,
    trunk_thigh_angle_deg,
)

LANDMARKS = ("shoulder", "hip", "knee", "ankle", "heel", "toe")
PIXELS_A_MM = 0.8
REASONS = (
    "a colleague in another town will fit the rider on with your numbers",
    "you measured three months ago with another program, and the numbers do not agree",
    "the rider wants to compare the numbers with those of a friend from another school",
)


@dataclass(frozen=True)
class Picture:
    """What the trainee is given: places in pixels, to the right and down from the upper left corner."""

    rider: str
    reason: str
    facing: str
    places_px: tuple[tuple[float, float], ...]
    pelvis_tilt_deg: float
    reported_deg: float


def draw(rng: np.random.Generator) -> Picture:
    """Draw one posture and the places of its landmarks."""
    trunk, thigh = np.radians(rng.uniform(28, 62)), np.radians(rng.uniform(18, 66))
    shank = thigh + np.radians(rng.uniform(32, 92))
    sole = np.radians(rng.uniform(-16, 22))
    hip = np.zeros(2)
    shoulder = rng.uniform(470, 540) * np.array([np.cos(trunk), np.sin(trunk)])
    knee = rng.uniform(400, 450) * np.array([np.cos(thigh), -np.sin(thigh)])
    ankle = knee + rng.uniform(400, 450) * np.array([np.cos(shank), -np.sin(shank)])
    along, down = np.array([np.cos(sole), -np.sin(sole)]), np.array([-np.sin(sole), -np.cos(sole)])
    heel = ankle - rng.uniform(40, 55) * along + rng.uniform(75, 90) * down
    toe = heel + rng.uniform(205, 240) * along
    places = np.array([shoulder, hip, knee, ankle, heel, toe]) * PIXELS_A_MM
    facing = str(rng.choice(["right", "left"]))
    places *= [1 if facing == "right" else -1, -1]
    places += rng.integers(40, 90, 2) - places.min(axis=0)
    return Picture(
        rider=str(rng.choice(RIDERS)),
        reason=str(rng.choice(REASONS)),
        facing=facing,
        places_px=tuple((float(x), float(y)) for x, y in np.round(places)),
        pelvis_tilt_deg=float(rng.integers(12, 36)),
        reported_deg=float(rng.integers(141, 158)),
    )


def clear(case: Picture) -> list[str]:
    """Reasons against a drawn posture."""
    return [] if trunk_deg(case) > thigh_deg(case) + 3 or trunk_deg(case) < thigh_deg(case) - 3 else ["alike angles"]


def place(case: Picture, landmark: str) -> np.ndarray:
    """Place of a landmark, upward positive as everywhere else in the project."""
    return np.array(case.places_px[LANDMARKS.index(landmark)]) * [1, -1]


def places(case: Picture, *landmarks: str) -> tuple[np.ndarray, ...]:
    """Places of several landmarks."""
    return tuple(place(case, landmark) for landmark in landmarks)


def from_to_px(case: Picture, start: str, end: str) -> tuple[float, float]:
    """How far a landmark lies ahead of another and above it."""
    ahead, up = place(case, end) - place(case, start)
    return float(ahead if case.facing == "right" else -ahead), float(up)


def thigh_deg(case: Picture) -> float:
    """Thigh below the horizontal."""
    return -float(segment_angle_deg(*places(case, "hip", "knee"), facing=case.facing))


def trunk_deg(case: Picture) -> float:
    """Trunk above the horizontal."""
    return float(segment_angle_deg(*places(case, "hip", "shoulder"), facing=case.facing))


def trunk_thigh_deg(case: Picture) -> float:
    """Angle included between trunk and thigh."""
    return float(trunk_thigh_angle_deg(*places(case, "shoulder", "hip", "knee")))


def knee_deg(case: Picture) -> float:
    """Knee flexion from the straight leg."""
    return float(knee_flexion_deg(*places(case, "hip", "knee", "ankle"), facing=case.facing))


def ankle_deg(case: Picture) -> float:
    """Plantar flexion of the sole against the shank."""
    return float(ankle_plantar_flexion_deg(*places(case, "knee", "ankle", "heel", "toe"), facing=case.facing))


def ankle_by_toe_deg(case: Picture) -> float:
    """The same with the line from the ankle to the toe for the sole."""
    return float(included_angle_deg(*places(case, "knee", "ankle", "toe"))) - 90


def sole_deg(case: Picture) -> float:
    """Sole below the horizontal towards the toe."""
    return -float(segment_angle_deg(*places(case, "heel", "toe"), facing=case.facing))


def hip_deg(case: Picture) -> float:
    """Hip flexion, thigh against pelvis."""
    return float(hip_flexion_deg(*places(case, "hip", "knee"), case.pelvis_tilt_deg, facing=case.facing))


def reported_flexion_deg(case: Picture) -> float:
    """Flexion behind a reported included angle."""
    return float(convert_knee_angle_deg(case.reported_deg, "included angle", "flexion"))
