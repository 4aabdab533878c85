"""Wrong ways to the answers: what each leads to, and what to say about it."""

from typing import Any

import numpy as np

from autograde.cases.writing import slips_on

from .seat import (
    DENT_MM,
    MARGIN_MM,
    NARROWS_MM_PER_DEG,
    Seat,
    first_that_fits,
    margin_mm,
    right_load_n,
    sit_bone_width_mm,
)

PAGE = "pelvic-support"
START = "start"
slip = slips_on(PAGE)


def unless_right(case: Seat, earlier: Any, choice: str) -> str | None:
    """A wrong choice of the saddle where it is not the right one by luck."""
    return None if choice == first_that_fits(case.treads_mm, earlier["tread"]) else choice


def by_overall(case: Seat, earlier: Any) -> str | None:
    """Choice of someone who compares the greatest width."""
    return unless_right(case, earlier, first_that_fits(case.overall_mm, earlier["tread"]))


def by_nearest(case: Seat, earlier: Any) -> str | None:
    """Choice of someone who takes the nearest tread, even if it is too narrow."""
    nearest = str(int(np.argmin(np.abs(np.subtract(case.treads_mm, earlier["tread"])))) + 1)
    return None if nearest == by_overall(case, earlier) else unless_right(case, earlier, nearest)


WIDTHS = (
    slip(
        "width",
        "averaged",
        "averaged left and right",
        lambda case, _: sit_bone_width_mm(case) / 2,
        "You averaged the left and the right distance from the middle line. The width is from one bone to the other, "
        "so the two distances are added.",
        0.25,
    ),
    slip(
        "width",
        "left-doubled",
        "took the rider to sit in the middle",
        lambda case, _: 2 * float(np.mean(case.left_mm)),
        "You doubled the left side. The rider did not sit in the middle of the pad, so each side has its own distance.",
        0.25,
    ),
    slip(
        "width",
        "outer-edges",
        "measured to the outer edges of the dents",
        lambda case, _: sit_bone_width_mm(case) + DENT_MM,
        "You measured to the outer edges of the dents. Flesh makes a dent wide; the bone stands over its middle.",
        0.25,
    ),
    slip(
        "bearing",
        "posture-forgotten",
        "took the upright width for the bearing width",
        lambda _, earlier: earlier["width"],
        "You took the width on the upright stool for the width on the bicycle. A pelvis that rolls forward bears on "
        "places further in front, which stand closer together.",
    ),
    slip(
        "bearing",
        "widened",
        "let the bearing width grow",
        lambda case, earlier: earlier["width"] + NARROWS_MM_PER_DEG * case.roll_deg,
        "You added where the model takes off: the two bones run together towards the front.",
        0.25,
    ),
    slip(
        "bearing",
        "degrees-as-mm",
        "took a degree for a millimetre",
        lambda case, earlier: earlier["width"] - case.roll_deg,
        "You took the degrees off as millimetres. Each degree of roll narrows the bearing by more than that.",
        0.25,
    ),
    slip(
        "bearing",
        "trunk-for-pelvis",
        "took the trunk's angle for the pelvis's roll",
        lambda case, earlier: earlier["width"] - NARROWS_MM_PER_DEG * case.trunk_deg,
        "You used the angle of the trunk. A back can bend while the pelvis stays upright; the roll of the pelvis was "
        "measured on its own.",
    ),
    slip(
        "tread",
        "no-margin",
        "left no margin",
        lambda _, earlier: earlier["bearing"],
        "You left no margin. Bones that stand on the edge slip off it with every turn.",
        0.25,
    ),
    slip(
        "tread",
        "one-side",
        "gave a margin on one side only",
        lambda _, earlier: earlier["bearing"] + MARGIN_MM,
        "You gave the margin once. A saddle has two edges, and the margin stands on each side.",
        0.5,
    ),
    slip(
        "tread",
        "from-upright-width",
        "started from the upright sit-bone width",
        lambda case, _: sit_bone_width_mm(case) + 2 * MARGIN_MM,
        "You started from the width on the upright stool. The saddle has to fit where the pelvis bears when riding.",
        0.25,
    ),
)

SADDLES = (
    slip(
        "margin",
        "overall-for-tread",
        "took the greatest width for the tread",
        lambda case, earlier: (case.own_overall_mm - earlier["bearing"]) / 2,
        "You used the greatest width of the saddle. Its edges fall away and bear nothing: it is the tread that counts.",
    ),
    slip(
        "margin",
        "not-halved",
        "gave both sides together",
        lambda case, earlier: case.own_tread_mm - earlier["bearing"],
        "You gave the difference of the two widths. It is shared between two edges.",
        0.5,
    ),
    slip(
        "margin",
        "sign-turned",
        "turned overhang into margin",
        lambda case, earlier: -margin_mm(case, earlier["bearing"]),
        "The size fits, the sign does not: minus means that the bones overhang and soft tissue has to bear.",
        0.5,
    ),
    slip(
        "margin",
        "posture-forgotten",
        "took the upright width for the bearing width",
        lambda case, _: (case.own_tread_mm - sit_bone_width_mm(case)) / 2,
        "You compared with the width on the upright stool. Riding, this pelvis bears on a narrower width.",
        0.25,
    ),
    slip(
        "saddle",
        "overall-for-tread",
        "took the greatest width for the tread",
        by_overall,
        "You chose by the greatest width. That saddle's tread is too narrow: the bones would overhang it and soft "
        "tissue would bear the load.",
    ),
    slip(
        "saddle",
        "nearest",
        "took the nearest tread although it is too narrow",
        by_nearest,
        "You chose the nearest tread. It is narrower than what you asked for yourself, and bones that overhang leave "
        "the load to soft tissue.",
        0.5,
    ),
    slip(
        "right-load",
        "shared-evenly",
        "averaged left and right",
        lambda case, _: case.load_n / 2,
        "You shared the load evenly. It does not act in the middle, and left and right are never averaged.",
    ),
    slip(
        "right-load",
        "other-side",
        "gave the other side's load",
        lambda case, earlier: case.load_n - right_load_n(case, earlier["bearing"]),
        "This is the load under the left bone. The bone nearer to the line of the load bears more.",
        0.5,
    ),
    slip(
        "right-load",
        "half-lever",
        "took half of the width for the lever",
        lambda case, earlier: 2 * right_load_n(case, earlier["bearing"]) - case.load_n / 2,
        "You took the lever from the middle to a bone. Moments about one bone have the whole bearing width as lever.",
        0.25,
    ),
)

JUDGING = (
    slip(
        "today",
        "passed-over-warning",
        "went on in spite of a warning sign",
        lambda case, _: "go-on" if case.has_sign else None,
        "You went on although the rider named a sign that stops the fit. Numbness where one sits is heard in private, "
        "taken seriously and referred; the width of a saddle comes later.",
        page=START,
    ),
    slip(
        "today",
        "referred-without-sign",
        "referred without a sign",
        lambda case, _: None if case.has_sign else "stop",
        "You stopped although none of the signs was named. Read the list again: what stops a fit, and what does not?",
        0.25,
        page=START,
    ),
    slip(
        "today",
        "padding",
        "trusted in padding",
        lambda _case, _earlier: "padding",
        "You trusted in padding. Where it was measured, a thickly padded narrow saddle pressed more on soft tissue "
        "than a wide one with little padding.",
    ),
)

MISCONCEPTIONS = WIDTHS + SADDLES + JUDGING
