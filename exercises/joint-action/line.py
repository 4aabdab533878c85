"""The drawn case: a leg in a pose, a muscle as a line over two joints, and what its shortening does at each.

Attachments are invented around where they are in an adult; the line is straight, or led over the kneecap.
"""

from dataclasses import dataclass, replace

import numpy as np

from autograde.cases.writing import RIDERS

PLACES = ("hip", "knee", "ankle", "origin", "kneecap", "insertion")
CROSSED = {"back of the thigh": ("hip", "knee"), "front of the thigh": ("hip", "knee"), "calf": ("knee", "ankle")}
KNEE_DEG = {"back of the thigh": (26.0, 50.0), "front of the thigh": (40.0, 88.0), "calf": (40.0, 88.0)}
# Turn of the lower segment that counts as flexion, seen from the right, counter-clockwise positive.
FLEXION_TURN = {"hip": 1.0, "knee": -1.0, "ankle": -1.0}
HIP_AT_MM = (300.0, 900.0)
SIZES_DEG = np.arange(9.0, 24.0)
DOES = {"flexes": 1.0, "extends": -1.0, "none": 0.0}
CLAIMS = (
    "was told that every muscle at the back of the leg works only when the pedal is pulled up",
    "read that a muscle which bends the knee must hold back while the knee opens",
    "wants to know which muscle to rest while the pedal goes down",
)


@dataclass(frozen=True)
class Line:
    """What the trainee is given: places in millimetres, forward and up."""

    rider: str
    claim: str
    muscle: str
    places_mm: tuple[tuple[str, float, float], ...]
    force_n: float
    upper_closes_deg: float
    lower_closes_deg: float


def draw(rng: np.random.Generator) -> Line:
    """Draw a pose, a muscle and a movement that opens or closes both joints."""
    muscle = str(rng.choice(list(CROSSED)))
    tilt, hip, knee = rng.uniform(20, 36), rng.uniform(52, 92), rng.uniform(*KNEE_DEG[muscle])
    ankle = rng.uniform(-8, 18)
    turns = np.radians([-tilt, hip - tilt, hip - tilt - knee, hip - tilt - knee - ankle])
    thigh, shank = rng.uniform(395, 445, 2)
    at = {"hip": np.array(HIP_AT_MM)}
    at["knee"] = at["hip"] + turned((0, -thigh), turns[1])
    at["ankle"] = at["knee"] + turned((0, -shank), turns[2])
    own = rng.uniform(0.88, 1.12, 4)
    if muscle == "back of the thigh":
        at["origin"] = at["hip"] + turned((-48 * own[0], -41 * own[1]), turns[0])
        at["insertion"] = at["knee"] + turned((-14 * own[2], -52 * own[3]), turns[2])
    elif muscle == "front of the thigh":
        at["origin"] = at["hip"] + turned((32 * own[0], 27 * own[1]), turns[0])
        at["kneecap"] = at["knee"] + turned((49 * own[2], -4), turns[1] - np.radians(knee) / 2)
        at["insertion"] = at["knee"] + turned((36, -66 * own[3]), turns[2])
    else:
        at["origin"] = at["knee"] + turned((-24 * own[0], 18 * own[1]), turns[1])
        at["insertion"] = at["ankle"] + turned((-44 * own[2], -30 * own[3]), turns[3])
    pose = Line(
        rider=str(rng.choice(RIDERS)),
        claim=str(rng.choice(CLAIMS)),
        muscle=muscle,
        places_mm=tuple((name, *(float(round(each)) for each in at[name])) for name in PLACES if name in at),
        force_n=float(10 * rng.integers(25, 95)),
        upper_closes_deg=0.0,
        lower_closes_deg=0.0,
    )
    upper_deg, lower_deg = rng.choice(movements_deg(pose)) * rng.choice([-1.0, 1.0])
    return replace(pose, upper_closes_deg=float(upper_deg), lower_closes_deg=float(lower_deg))


def movements_deg(pose: Line) -> np.ndarray:
    """Angles by which the joints can close so that the line changes its length and no slip hides the change."""
    sizes = np.stack(np.meshgrid(SIZES_DEG, SIZES_DEG, indexing="ij"), axis=-1).reshape(-1, 2)
    closes = sizes * (1, -1 if pose.muscle == "calf" else 1)
    upper, lower = (np.radians(closes) * [signed_arm_mm(pose, joint) for joint in crossed(pose)]).T
    fair = np.minimum(abs(upper + lower), abs(2 * upper + lower)) > 2.2
    return closes[fair] if fair.any() else closes


def turned(place: tuple[float, float], by_rad: float) -> np.ndarray:
    """A place in a segment's frame, turned with the segment."""
    cos, sin = np.cos(by_rad), np.sin(by_rad)
    return np.array([cos * place[0] - sin * place[1], sin * place[0] + cos * place[1]])


def clear(case: Line) -> list[str]:
    """Reasons against a drawn pose."""
    reasons = []
    if min(abs(signed_arm_mm(case, joint)) for joint in crossed(case)) < 12:
        reasons.append("the line passes a joint too near its centre")
    upper, lower = crossed(case)
    longer = longer_by_mm(case, does(case, upper), does(case, lower), arm_mm(case, upper), arm_mm(case, lower))
    if abs(longer) < 2:
        reasons.append("the line hardly changes its length")
    return reasons


def crossed(case: Line) -> tuple[str, str]:
    """The two joints the line crosses, the upper one first."""
    return CROSSED[case.muscle]


def place_mm(case: Line, name: str) -> np.ndarray:
    """Where a place is."""
    return next(np.array([x, y]) for each, x, y in case.places_mm if each == name)


def piece(case: Line, joint: str) -> tuple[str, str]:
    """Names of the ends of the piece of the line that passes a joint."""
    if case.muscle != "front of the thigh":
        return "origin", "insertion"
    return ("origin", "kneecap") if joint == "hip" else ("kneecap", "insertion")


def signed_arm_mm(case: Line, joint: str) -> float:
    """Distance of the line from a joint's centre, positive where shortening flexes it."""
    start, end = (place_mm(case, name) for name in piece(case, joint))
    pull = (start - end) / np.hypot(*(start - end))
    reach = end - place_mm(case, joint)
    return float(FLEXION_TURN[joint] * (reach[0] * pull[1] - reach[1] * pull[0]))


def arm_mm(case: Line, joint: str) -> float:
    """The same without the sign."""
    return abs(signed_arm_mm(case, joint))


def does(case: Line, joint: str) -> str:
    """What shortening does at a joint."""
    return "flexes" if signed_arm_mm(case, joint) > 0 else "extends"


def longer_by_mm(case: Line, upper: str, lower: str, upper_arm_mm: float, lower_arm_mm: float) -> float:
    """Change of the line's length in the movement, arms taken as constant, longer positive."""
    closes_rad = np.radians([case.upper_closes_deg, case.lower_closes_deg])
    return float(-closes_rad @ [DOES[upper] * upper_arm_mm, DOES[lower] * lower_arm_mm])
