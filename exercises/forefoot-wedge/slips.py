"""Wrong ways to the answers: what each leads to, and what to say about it."""

from typing import Any

from autograde.cases.writing import slips_on
from pedalwright.forefoot import wedge_angle_deg

from .foot import Forefoot, edge_of, first_stack_mm, one_wedge_deg, rise_mm, tilt_deg, wedges_in

PAGE = "foot-support"
START = "start"
FOUND = frozenset({"contact", "felt"})
slip = slips_on(PAGE)


def left_with(case: Forefoot, earlier: Any, taken_off_deg: float) -> float | None:
    """Tilt less a wrong angle of the stack, on the edge named before."""
    sign = {"inner": 1.0, "outer": -1.0, "none": 0.0}[earlier["edge"]]
    return earlier["tilt"] - sign * taken_off_deg if sign else None


def mm_stack(case: Forefoot, earlier: Any) -> float | None:
    """Stack of someone to whom a millimetre is a degree, where it differs."""
    stack_mm = int(abs(earlier["tilt"]) / 2 / case.wedge_mm) * case.wedge_mm
    return None if stack_mm == first_stack_mm(case, earlier["tilt"]) else stack_mm


def stack_deg(case: Forefoot, earlier: Any) -> float:
    """Angle of the named stack."""
    return float(wedge_angle_deg(earlier["stack"], case.shoe_width_mm))


MEASURING = (
    slip(
        "tilt",
        "sign-turned",
        "took varus for valgus",
        lambda case, _: -tilt_deg(case),
        "The size fits, the side does not. Varus, the plus sign, is a forefoot whose inner edge, on the side of the "
        "big toe, stands higher.",
        0.5,
    ),
    slip(
        "tilt",
        "shoe-width",
        "divided by the width of the shoe",
        lambda case, _: tilt_deg(case) * case.gauge_width_mm / case.shoe_width_mm,
        "You divided by the width of the shoe. The two heights were read under two places of the foot, and it is "
        "their distance that counts.",
        0.25,
    ),
    slip(
        "tilt",
        "mm-for-degrees",
        "took a millimetre for a degree",
        lambda case, _: rise_mm(case),
        "Your number is the difference of the heights in millimetres. How many degrees that is depends on the width.",
    ),
    slip(
        "tilt",
        "ratio-for-angle",
        "gave the ratio or radians as degrees",
        lambda case, _: rise_mm(case) / case.gauge_width_mm,
        "Your number is the ratio of height to width, or the angle in radians. The angle in degrees is its inverse "
        "tangent.",
        0.25,
    ),
    slip(
        "tilt",
        "one-edge-only",
        "left the lower edge out",
        lambda case, _: tilt_deg(case) * max(case.inner_height_mm, case.outer_height_mm) / abs(rise_mm(case)),
        "You took the height of one edge alone. A forefoot that hangs level above the plate has a height too, and no "
        "tilt: the difference of both edges counts.",
    ),
    slip(
        "edge",
        "lower-edge",
        "put the thick side under the lower edge",
        lambda _, earlier: "outer" if edge_of(earlier["tilt"]) == "inner" else None,
        "You put the thick side under the edge that already touches. The gap is under the higher edge.",
    ),
    slip(
        "edge",
        "varus-by-habit",
        "took every forefoot for varus",
        lambda _, earlier: "inner" if edge_of(earlier["tilt"]) == "outer" else None,
        "You put the wedge where most people put it. Read the sign of your own tilt: this gap is on the other side.",
    ),
    slip(
        "edge",
        "called-neutral",
        "called a tilted forefoot neutral",
        lambda _, earlier: None if edge_of(earlier["tilt"]) == "none" else "none",
        "You called the forefoot level. Your own tilt is far more than the gauge's error.",
    ),
)

WEDGES = (
    slip(
        "wedge-angle",
        "gauge-width",
        "took the width of the gauge for that of the shoe",
        lambda case, _: one_wedge_deg(case) * case.shoe_width_mm / case.gauge_width_mm,
        "You divided by the distance of the places on the gauge. This wedge runs out over the width of the shoe.",
        0.25,
    ),
    slip(
        "wedge-angle",
        "mm-for-degrees",
        "took a millimetre for a degree",
        lambda case, _: case.wedge_mm,
        "You gave the thickness as if millimetres were degrees. The same wedge makes a larger angle in a narrow shoe.",
    ),
    slip(
        "wedge-angle",
        "ratio-for-angle",
        "gave the ratio or radians as degrees",
        lambda case, _: case.wedge_mm / case.shoe_width_mm,
        "Your number is the ratio of thickness to width, or the angle in radians. The angle in degrees was asked.",
        0.25,
    ),
    slip(
        "wedge-angle",
        "half-width",
        "took half of the width",
        lambda case, _: 2 * one_wedge_deg(case),
        "You let the wedge run out in the middle of the shoe. It runs from one edge to the other.",
        0.25,
    ),
    slip(
        "stack",
        "whole-tilt",
        "filled the whole tilt",
        lambda case, earlier: int(wedges_in(case, abs(earlier["tilt"]))) * case.wedge_mm,
        "You filled the whole tilt. A first wedge fills at most half of it: the foot gives under load, and nothing "
        "says that all of a tilt wants filling.",
        0.25,
    ),
    slip(
        "stack",
        "rounded-up",
        "rounded up over the limit",
        lambda case, earlier: first_stack_mm(case, earlier["tilt"]) + case.wedge_mm,
        "Your stack fills more than half of the tilt. The half is a limit, so round down.",
        0.5,
    ),
    slip(
        "stack",
        "mm-for-degrees",
        "took a millimetre for a degree",
        mm_stack,
        "You counted the millimetres of the wedges against the degrees of the tilt. Compare angle with angle.",
    ),
    slip(
        "tilt-left",
        "added",
        "added the wedge to the tilt",
        lambda case, earlier: left_with(case, earlier, -stack_deg(case, earlier)),
        "You added the wedge to the tilt. That is what a wedge under the wrong edge would do.",
    ),
    slip(
        "tilt-left",
        "one-wedge",
        "took one wedge off instead of the stack",
        lambda case, earlier: (
            left_with(case, earlier, one_wedge_deg(case)) if earlier["stack"] > 1.5 * case.wedge_mm else None
        ),
        "You took off one wedge. The whole stack lies under the foot.",
        0.25,
    ),
    slip(
        "tilt-left",
        "mm-for-degrees",
        "took a millimetre for a degree",
        lambda case, earlier: left_with(case, earlier, earlier["stack"]),
        "You took millimetres off degrees. Turn the height of the stack into an angle first.",
    ),
    slip(
        "tilt-left",
        "nothing-left",
        "took the gap to be filled",
        lambda _case, _earlier: 0.0,
        "You took the gap to be filled. Your own stack fills a part of it by the rule: reckon what is left.",
        0.25,
    ),
)

JUDGING = (
    slip(
        "evidence",
        "knee-believed",
        "took a straighter knee for proven",
        lambda _case, _earlier: FOUND | {"knee"},
        "You counted a straighter path of the knee as found. The laboratory studies looked for it and did not find it.",
        0.5,
    ),
    slip(
        "evidence",
        "claims-believed",
        "believed what is claimed for wedges",
        lambda _case, _earlier: {"knee", "power", "injury"},
        "You named what is claimed for wedges. A claim that is often heard is not yet a finding.",
    ),
    slip(
        "evidence",
        "everything",
        "named everything",
        lambda _case, _earlier: FOUND | {"knee", "power", "injury"},
        "You named everything. The few small studies found a change in some of these and none in the others.",
    ),
    slip(
        "evidence",
        "nothing",
        "took weak evidence for none",
        lambda _case, _earlier: set(),
        "You named nothing. The evidence is weak, but some things were measured and did change: read which.",
        0.25,
    ),
    slip(
        "today",
        "passed-over-warning",
        "set a wedge in spite of a warning sign",
        lambda case, _: "small" if case.has_sign else None,
        "You set a wedge although the rider named a sign that belongs to a physician first. A foot that feels little "
        "does not tell when something presses.",
        page=START,
    ),
    slip(
        "today",
        "referred-without-sign",
        "referred without a sign",
        lambda case, _: None if case.has_sign else "refer",
        "You referred although none of the signs was named. Read the list again: what stops a change, what does not?",
        0.25,
        page=START,
    ),
    slip(
        "today",
        "treatment",
        "set a wedge as a treatment",
        lambda _case, _earlier: "treat",
        "You set a wedge as a treatment. A tilt is a number of the gauge, not a disease, and a fitter treats nothing.",
        page=START,
    ),
)

MISCONCEPTIONS = MEASURING + WEDGES + JUDGING
