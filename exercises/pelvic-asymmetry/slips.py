"""Wrong ways to the answers: what each leads to, and what to say about it."""

from autograde.cases.writing import slips_on
from pedalwright.symmetry import right_share_pct, shortfall_pct

from .sides import Sides, drawn_in, index_pct, inward_mm, knee_mm, push_inward_mm, slope_deg

PAGE = "pelvic-support"
START = "start"
OTHER = {"right-in": "left-in", "left-in": "right-in"}
slip = slips_on(PAGE)


def rise_mm(case: Sides) -> float:
    """How much higher the right spine stands."""
    return case.right_spine_mm - case.left_spine_mm


PELVIS = (
    slip(
        "slope",
        "sign-turned",
        "took the lower side for the higher",
        lambda case, _: -slope_deg(case),
        "The size fits, the side does not: plus means that the right side is higher. Seen from behind, the rider's "
        "right is on your right.",
        0.5,
    ),
    slip(
        "slope",
        "mm-for-degrees",
        "took a millimetre for a degree",
        lambda case, _: rise_mm(case),
        "Your number is the difference of the heights in millimetres. How many degrees it is depends on how far the "
        "two places are apart.",
    ),
    slip(
        "slope",
        "ratio-for-angle",
        "gave the ratio or radians as degrees",
        lambda case, _: rise_mm(case) / case.spines_apart_mm,
        "Your number is the ratio of height to width, or the angle in radians. The angle in degrees is its inverse "
        "tangent.",
        0.25,
    ),
    slip(
        "which-knee",
        "other-knee",
        "drew the knee of the lower side in",
        lambda _, earlier: OTHER[drawn_in(earlier["slope"])],
        "You drew the other knee in. The pelvis leans towards its lower side and takes both hips along: on that side "
        "the knee comes further out.",
    ),
    slip(
        "which-knee",
        "both-alike",
        "let both knees do the same",
        lambda _case, _earlier: "both-in",
        "You let both knees do the same. A pelvis that shifts moves towards one pedal and away from the other.",
    ),
)

KNEES = (
    slip(
        "right-knee",
        "sign-turned",
        "turned inward into outward",
        lambda case, _: -push_inward_mm(case, "right"),
        "The size fits, the sign does not: inward is towards the frame. A right knee nearer to the midline than its "
        "pedal is inward.",
        0.5,
    ),
    slip(
        "right-knee",
        "from-midline",
        "measured from the frame instead of the pedal",
        lambda case, _: float(knee_mm(case, "right")[:4].mean()),
        "You gave the distance from the midline. The knee is compared with the middle of its own pedal.",
        0.25,
    ),
    slip(
        "right-knee",
        "whole-turn",
        "averaged over the whole turn",
        lambda case, _: float(inward_mm(case, "right").mean()),
        "You averaged over the whole turn. Asked is the way down, on which the leg pushes.",
        0.5,
    ),
    slip(
        "left-knee",
        "not-mirrored",
        "kept the right side's sign for the left",
        lambda case, _: -push_inward_mm(case, "left"),
        "You kept the sign of the right side. For the left knee the frame lies to the right, so inward is a larger "
        "number.",
        0.5,
    ),
    slip(
        "left-knee",
        "other-side",
        "gave the other knee",
        lambda case, _: push_inward_mm(case, "right"),
        "This is the right knee. Say which side a number belongs to, always.",
        0.25,
    ),
    slip(
        "left-knee",
        "averaged",
        "averaged right and left",
        lambda case, _: (push_inward_mm(case, "right") + push_inward_mm(case, "left")) / 2,
        "You averaged the two knees. One in and one out make a mean of little, and that is no even rider.",
    ),
    slip(
        "left-knee",
        "whole-turn",
        "averaged over the whole turn",
        lambda case, _: float(inward_mm(case, "left").mean()),
        "You averaged over the whole turn. Asked is the way down, on which the leg pushes.",
        0.5,
    ),
)

INDEX = (
    slip(
        "index",
        "share",
        "gave the right side's share",
        lambda case, _: float(right_share_pct(case.right_load_n, case.left_load_n)),
        "You gave the share of the right side. Two even sides have a share of a half and an index of nought.",
        0.25,
    ),
    slip(
        "index",
        "of-the-sum",
        "compared with the sum instead of the mean",
        lambda case, _: index_pct(case) / 2,
        "You divided by the sum of the sides. The index divides by their mean, so it is twice as large.",
        0.25,
    ),
    slip(
        "index",
        "of-the-larger",
        "compared with the larger side",
        lambda case, _: float(shortfall_pct(case.right_load_n, case.left_load_n)),
        "You divided by the larger side. That is another index, and the same two sides give another number.",
        0.25,
    ),
    slip(
        "index",
        "sign-turned",
        "took the right off the left",
        lambda case, _: -index_pct(case),
        "The size fits, the sign does not: plus means that the right side is larger.",
        0.5,
    ),
    slip(
        "compare",
        "index-near-zero",
        "took an index for distances near zero",
        lambda _case, _earlier: "index",
        "You took the index. One knee is inward and one outward: their mean is near zero, and an index that divides by "
        "it can be anything.",
        0.25,
    ),
    slip(
        "compare",
        "averaged",
        "averaged right and left",
        lambda _case, _earlier: "mean",
        "You averaged. A mean of one knee in and one knee out hides both.",
    ),
    slip(
        "today",
        "passed-over-warning",
        "went on in spite of a warning sign",
        lambda case, _: "look" if case.has_sign else None,
        "You went on although the rider named a sign that stops the fit. A fitter notices, says so calmly and refers.",
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
        "shim-at-once",
        "levelled a pelvis with a shim at once",
        lambda _case, _earlier: "shim",
        "You levelled the pelvis with a shim. Bones differ from side to side by more than this, a tape does not tell "
        "the length of a leg, and no trial shows what a shim does.",
    ),
)

MISCONCEPTIONS = PELVIS + KNEES + INDEX
