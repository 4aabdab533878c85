"""Published body-segment tables: fractions of body mass, of segment length and of stature."""

from dataclasses import dataclass

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers
from pedalwright.constants import Constant


@dataclass(frozen=True)
class SegmentRow:
    """One segment of a table; fractions of the length between its two end points."""

    mass_fraction: float
    com_from_proximal: float
    radius_of_gyration: float
    proximal: str
    distal: str


@dataclass(frozen=True)
class SegmentTable:
    """One published table; ``rows`` by sex, equal where the table does not tell the sexes apart."""

    name: str
    source: str
    population: str
    rows: dict[str, dict[str, SegmentRow]]


@dataclass(frozen=True)
class LengthTable:
    """Segment lengths as fractions of stature, by sex."""

    name: str
    source: str
    thigh: dict[str, float]
    shank: dict[str, float]
    foot: dict[str, float]


HIP, KNEE, ANKLE = "hip joint centre", "knee joint centre", "ankle joint centre"
HEEL, TOE, MALLEOLUS, BALL = "heel", "toe tip", "lateral malleolus", "ball of the foot (head of metatarsal II)"

# Dempster 1955 in the form of Winter 2009, table 4.1: eight older men, dissected.
_WINTER = {
    "thigh": SegmentRow(0.100, 0.433, 0.323, "greater trochanter", "femoral condyles"),
    "shank": SegmentRow(0.0465, 0.433, 0.302, "femoral condyles", "medial malleolus"),
    "foot": SegmentRow(0.0145, 0.50, 0.475, MALLEOLUS, BALL),
}

# De Leva 1996, table 4: gamma scans of young athletes, moved to joint centres.
# The radius of gyration is the one about the transverse axis, which motion in the sagittal plane needs.
_DE_LEVA_MALE = {
    "thigh": SegmentRow(0.1416, 0.4095, 0.329, HIP, KNEE),
    "shank": SegmentRow(0.0433, 0.4395, 0.246, KNEE, ANKLE),
    "shank to malleolus": SegmentRow(0.0433, 0.4459, 0.249, KNEE, MALLEOLUS),
    "foot": SegmentRow(0.0137, 0.4415, 0.245, HEEL, TOE),
}
_DE_LEVA_FEMALE = {
    "thigh": SegmentRow(0.1478, 0.3612, 0.364, HIP, KNEE),
    "shank": SegmentRow(0.0481, 0.4352, 0.263, KNEE, ANKLE),
    "shank to malleolus": SegmentRow(0.0481, 0.4416, 0.267, KNEE, MALLEOLUS),
    "foot": SegmentRow(0.0129, 0.4014, 0.279, HEEL, TOE),
}

SEGMENT_TABLES: dict[str, SegmentTable] = {
    "de_leva_1996": SegmentTable(
        "de_leva_1996",
        "de_leva_1996",
        "100 young men and 15 young women, physically active, living",
        {"male": _DE_LEVA_MALE, "female": _DE_LEVA_FEMALE},
    ),
    "winter_2009": SegmentTable(
        "winter_2009",
        "winter_2009",
        "8 older men, dissected",
        {"male": _WINTER, "female": _WINTER},
    ),
}

# Female lengths and both statures (1741 and 1735 mm) of the second table are from memory.
LENGTH_TABLES: dict[str, LengthTable] = {
    "drillis_contini_1966": LengthTable(
        "drillis_contini_1966",
        "drillis_contini_1966",
        {"male": 0.245, "female": 0.245},
        {"male": 0.246, "female": 0.246},
        {"male": 0.152, "female": 0.152},
    ),
    "de_leva_1996": LengthTable(
        "de_leva_1996",
        "de_leva_1996",
        {"male": 422.2 / 1741, "female": 368.5 / 1735},
        {"male": 440.3 / 1741, "female": 438.6 / 1735},
        {"male": 258.1 / 1741, "female": 228.3 / 1735},
    ),
}

ANKLE_HEIGHT_OF_STATURE = Constant(
    0.039, "1", "height of the ankle above the floor, of stature", "published", "drillis_contini_1966"
)
# The next two serve only where the distance from ankle to pedal, or the foot, was not measured.
HEEL_TO_ANKLE = Constant(0.25, "1", "heel to ankle along the sole, of foot length; rounded by eye", "assumption")
HEEL_TO_BALL = Constant(
    0.73, "1", "heel to ball of the foot along the sole, of foot length; rounded by eye", "assumption"
)


def male_share(sex: str | Numbers) -> Floats:
    """Weight of the male column: 1 male, 0 female, 0.5 midway."""
    shares = {"female": 0.0, "male": 1.0, "mean": 0.5}
    return np.asarray(np.vectorize(lambda word: chosen("sex", str(word), shares), otypes=[float])(np.asarray(sex)))


def mix(male: float, female: float, share: Floats) -> Floats:
    """Weigh the two columns."""
    return np.asarray(male * share + female * (1 - share))
