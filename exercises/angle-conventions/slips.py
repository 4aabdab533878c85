"""Wrong ways to the answers: what each leads to, and what to say about it."""

import numpy as np

from autograde.cases.writing import slips_on

from .picture_of_rider import (
    Picture,
    ankle_by_toe_deg,
    ankle_deg,
    from_to_px,
    knee_deg,
    sole_deg,
    thigh_deg,
    trunk_deg,
)

PAGE = "conventions"
slip = slips_on(PAGE)


def slope_of(case: Picture, start: str, end: str) -> float:
    """Ratio of rise to run, as a number."""
    ahead, up = from_to_px(case, start, end)
    return abs(up / ahead)


def shank_from_vertical_deg(case: Picture) -> float:
    """Lean of the shank, whatever the thigh does."""
    ahead, up = from_to_px(case, "knee", "ankle")
    return float(np.degrees(np.arctan2(abs(ahead), abs(up))))


SEGMENTS = (
    slip(
        "thigh",
        "upward-picture",
        "took the picture to count upward",
        lambda case, _: -thigh_deg(case),
        "The size fits, the sign does not: in a picture the second number grows downward, so a larger one is lower.",
        0.5,
    ),
    slip(
        "thigh",
        "from-vertical",
        "counted from the vertical",
        lambda case, _: 90 - thigh_deg(case),
        "You counted from the vertical, or turned the ratio upside down. Asked is the angle below the horizontal.",
        0.25,
    ),
    slip(
        "thigh",
        "ratio-for-angle",
        "gave the ratio as degrees",
        lambda case, _: slope_of(case, "hip", "knee"),
        "Your number is the ratio of the two differences. The angle in degrees is its inverse tangent.",
        0.25,
    ),
    slip(
        "trunk",
        "upward-picture",
        "took the picture to count upward",
        lambda case, _: -trunk_deg(case),
        "The size fits, the sign does not: in a picture the second number grows downward, so a smaller one is higher.",
        0.5,
    ),
    slip(
        "trunk",
        "from-vertical",
        "counted from the vertical",
        lambda case, _: 90 - trunk_deg(case),
        "You counted from the vertical, or turned the ratio upside down. Asked is the angle above the horizontal.",
        0.25,
    ),
    slip(
        "trunk",
        "ratio-for-angle",
        "gave the ratio as degrees",
        lambda case, _: slope_of(case, "hip", "shoulder"),
        "Your number is the ratio of the two differences. The angle in degrees is its inverse tangent.",
        0.25,
    ),
)

HIP = (
    slip(
        "trunk-thigh",
        "difference",
        "took one angle off the other",
        lambda _, earlier: abs(earlier["trunk"] - earlier["thigh"]),
        "You took one angle off the other. One opens upward from the horizontal, the other downward, so together they "
        "make the angle between the two.",
        0.25,
    ),
    slip(
        "trunk-thigh",
        "supplement",
        "gave how far the hip is bent for the included angle",
        lambda _, earlier: 180 - earlier["trunk"] - earlier["thigh"],
        "You gave how far the trunk is bent towards the thigh. Asked is the angle included between the two.",
        0.25,
    ),
    slip(
        "trunk-thigh",
        "trunk-alone",
        "gave the trunk alone",
        lambda _, earlier: earlier["trunk"],
        "You gave the trunk's angle to the horizontal. The thigh is the other arm of this angle.",
    ),
    slip(
        "hip",
        "trunk-for-pelvis",
        "took the trunk for the pelvis",
        lambda case, earlier: 180 - trunk_deg(case) - earlier["thigh"],
        "You took the line to the shoulder for the pelvis. A back bends; the hip joint lies between thigh and pelvis.",
        0.25,
    ),
    slip(
        "hip",
        "tilt-taken-off",
        "opened the hip by the pelvis's roll",
        lambda case, earlier: 90 - case.pelvis_tilt_deg - earlier["thigh"],
        "You took the tilt off. A pelvis that rolls forward comes nearer to the thigh: the hip closes.",
        0.5,
    ),
    slip(
        "hip",
        "pelvis-forgotten",
        "left the pelvis out",
        lambda _, earlier: 90 - earlier["thigh"],
        "You counted the thigh from where it hangs in standing and left the pelvis as it stands. It was tilted.",
        0.25,
    ),
)

KNEE_AND_ANKLE = (
    slip(
        "knee",
        "included-for-flexion",
        "took the included angle for the flexion",
        lambda case, _: 180 - knee_deg(case),
        "You gave the angle included between thigh and shank. Flexion counts from the straight leg.",
        0.25,
    ),
    slip(
        "knee",
        "extension-positive",
        "counted flexion negative",
        lambda case, _: -knee_deg(case),
        "You counted flexion negative, as some models and papers do. Here flexion is positive.",
        0.5,
    ),
    slip(
        "knee",
        "shank-alone",
        "gave the lean of the shank",
        lambda case, _: shank_from_vertical_deg(case),
        "You gave the lean of the shank from the vertical. A joint angle is between two segments.",
    ),
    slip(
        "ankle",
        "sign-turned",
        "took plantar flexion for dorsiflexion",
        lambda case, _: -ankle_deg(case),
        "The size fits, the sign does not: plus is plantar flexion, the toe away from the shin.",
        0.5,
    ),
    slip(
        "ankle",
        "included-for-flexion",
        "gave the included angle",
        lambda case, _: ankle_deg(case) + 90,
        "You gave the angle between shank and sole. Plantar flexion counts from the right angle.",
        0.25,
    ),
    slip(
        "ankle",
        "toe-line",
        "took the line to the toe for the sole",
        lambda case, _: ankle_by_toe_deg(case),
        "You used the line from the ankle to the toe. It dips below the sole, and that alone shifts the number by far "
        "more than any error.",
        0.25,
    ),
    slip(
        "ankle",
        "sole-to-floor",
        "gave the slope of the sole",
        lambda case, _: sole_deg(case),
        "You gave the slope of the sole to the horizontal. The ankle lies between sole and shank.",
        0.25,
    ),
    slip(
        "reported",
        "taken-literally",
        "took another convention's number as it stands",
        lambda case, _: case.reported_deg,
        "You took the number as it stands. With so much flexion the heel would be at the seat; a leg that is nearly "
        "straight tells which way the paper counts.",
    ),
    slip(
        "reported",
        "from-right-angle",
        "counted from a right angle",
        lambda case, _: case.reported_deg - 90,
        "You counted from a right angle. The straight leg has an included angle of a half turn.",
        0.25,
    ),
)

MISCONCEPTIONS = SEGMENTS + HIP + KNEE_AND_ANKLE
