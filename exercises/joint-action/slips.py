"""Wrong ways to the answers: what each leads to, and what to say about it."""

from collections.abc import Callable
from typing import Any

import numpy as np

from autograde.cases.writing import slips_on

from .line import DOES, Line, arm_mm, crossed, does, longer_by_mm, piece, place_mm

PAGE = "contraction"
OTHER_WAY = {"flexes": "extends", "extends": "flexes"}
slip = slips_on(PAGE)


def to_end_mm(case: Line, joint: str, end: int) -> float:
    """Distance from a joint to an end of the piece that passes it."""
    return float(np.hypot(*(place_mm(case, piece(case, joint)[end]) - place_mm(case, joint))))


def longer_of(case: Line, earlier: Any) -> float:
    """Change of length from the named actions and arms."""
    return longer_by_mm(case, earlier["upper"], earlier["lower"], earlier["upper-arm"], earlier["lower-arm"])


def share_mm(case: Line, earlier: Any, joint: str) -> float:
    """Part of one joint in the change of length."""
    closes_deg = case.upper_closes_deg if joint == "upper" else case.lower_closes_deg
    return -float(np.radians(closes_deg)) * DOES[earlier[joint]] * earlier[f"{joint}-arm"]


def both_alike_mm(case: Line, earlier: Any) -> float | None:
    """Both parts with the sign of the upper one, where that differs."""
    upper, lower = share_mm(case, earlier, "upper"), share_mm(case, earlier, "lower")
    return upper + float(np.copysign(lower, upper)) if upper * lower < 0 else None


UPPER_ALONE = "You named the upper joint alone. Follow the line down to its other end: it runs past one more joint."
LOWER_ALONE = "You named the lower joint alone. Follow the line up to its other end: it runs past one more joint."


def only(index: int) -> Callable[[Line, Any], set[str]]:
    """One of the two joints alone."""
    return lambda case, _: {crossed(case)[index]}


ACTIONS = (
    slip("crosses", "upper-only", "took a two-joint muscle for one of the upper joint", only(0), UPPER_ALONE, 0.25),
    slip("crosses", "lower-only", "took a two-joint muscle for one of the lower joint", only(1), LOWER_ALONE, 0.25),
    slip(
        "crosses",
        "all-joints",
        "let the line cross every joint",
        lambda _case, _earlier: {"hip", "knee", "ankle"},
        "You named every joint. A line acts only between the segments its ends hold on to.",
    ),
    slip(
        "upper",
        "turned-round",
        "turned flexion and extension round",
        lambda case, _: OTHER_WAY[does(case, crossed(case)[0])],
        "You turned it round. Look on which side of the joint's centre the line passes, and pull its ends together.",
    ),
    slip(
        "upper",
        "does-nothing",
        "let a line do nothing at a joint it passes",
        lambda _case, _earlier: "none",
        "You let the line do nothing here. Only a line through the centre itself has no lever.",
    ),
    slip(
        "lower",
        "turned-round",
        "turned flexion and extension round",
        lambda case, _: OTHER_WAY[does(case, crossed(case)[1])],
        "You turned it round. A muscle can open one joint and close the next: look at each joint by itself.",
    ),
    slip(
        "lower",
        "does-nothing",
        "let a line do nothing at a joint it passes",
        lambda _case, _earlier: "none",
        "You let the line do nothing here. Only a line through the centre itself has no lever.",
    ),
)

ARMS = (
    slip(
        "upper-arm",
        "to-far-end",
        "took the distance to the far end for the lever",
        lambda case, _: to_end_mm(case, crossed(case)[0], 1),
        "You took the distance from the joint to the far end. The lever is the shortest distance to the line, "
        "square to it.",
        0.25,
    ),
    slip(
        "upper-arm",
        "other-joint",
        "gave the lever at the other joint",
        lambda case, _: arm_mm(case, crossed(case)[1]),
        "This is the lever at the other joint.",
        0.25,
    ),
    slip(
        "lower-arm",
        "to-attachment",
        "took the distance to the attachment for the lever",
        lambda case, _: to_end_mm(case, crossed(case)[1], 1),
        "You took the distance from the joint to the attachment. The lever is the shortest distance to the line, "
        "square to it.",
        0.25,
    ),
    slip(
        "lower-arm",
        "other-joint",
        "gave the lever at the other joint",
        lambda case, _: arm_mm(case, crossed(case)[0]),
        "This is the lever at the other joint.",
        0.25,
    ),
    slip(
        "moment",
        "mm-for-m",
        "multiplied by millimetres",
        lambda case, earlier: case.force_n * earlier["lower-arm"],
        "You multiplied newtons by millimetres and wrote newton metres. There are a thousand millimetres in a metre.",
        0.5,
    ),
    slip(
        "moment",
        "cm-for-m",
        "slipped by a factor of ten",
        lambda case, earlier: case.force_n * earlier["lower-arm"] / 100,
        "Your lever is ten times too long: ten millimetres are a hundredth of a metre.",
        0.5,
    ),
    slip(
        "moment",
        "other-joint",
        "took the lever at the other joint",
        lambda case, _: case.force_n * arm_mm(case, crossed(case)[0]) / 1000,
        "You took the lever at the other joint. One force, two levers, two moments.",
        0.25,
    ),
    slip(
        "longer",
        "sign-turned",
        "turned longer into shorter",
        lambda case, earlier: -longer_of(case, earlier),
        "The size fits, the sign does not: a joint that goes the way its muscle pulls makes the line shorter.",
        0.5,
    ),
    slip(
        "longer",
        "upper-only",
        "left the lower joint out",
        lambda case, earlier: share_mm(case, earlier, "upper"),
        "You reckoned the upper joint alone. The lower one moves too and gives or takes length of its own.",
        0.25,
    ),
    slip(
        "longer",
        "signs-alike",
        "let both joints change the length the same way",
        both_alike_mm,
        "You added both parts with one sign. Here one joint lengthens what the other shortens: that is what makes a "
        "two-joint muscle.",
        0.25,
    ),
    slip(
        "longer",
        "degrees-as-radians",
        "multiplied by degrees",
        lambda case, earlier: float(np.degrees(longer_of(case, earlier))),
        "You multiplied the lever by degrees. Arc is radius times the angle in radians.",
        0.25,
    ),
)

MISCONCEPTIONS = ACTIONS + ARMS
