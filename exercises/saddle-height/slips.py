"""Wrong ways to the answers: what each leads to, and what to say about it."""

from typing import Any

import numpy as np

from autograde.cases.writing import slips_on

from .rider import (
    FROM_BRACKET,
    FROM_PEDAL,
    TRIAL_MM,
    Rider,
    at_face_value,
    change_mm,
    in_window,
    per_10_mm_deg,
    rule_mm,
    to_pedal_mm,
)

PAGE = "flexion-extension"
START = "start"
slip = slips_on(PAGE)


def change_of(case: Rider, earlier: Any) -> float:
    """Change from the named flexion and the named effect of the saddle."""
    return change_mm(earlier["flexion"], earlier["per-10-mm"], case.target_deg)


def face_value(earlier: Any) -> str | None:
    """The window at face value, where that is more than can be said."""
    said = at_face_value(earlier["flexion"])
    return None if said == in_window(earlier["flexion"]) else said


RULES = (
    slip(
        "from-bracket",
        "other-factor",
        "took the factor of the other rule",
        lambda case, _: to_pedal_mm(case),
        "You took the factor that belongs to the distance from the pedal. Each rule has its own factor and its own "
        "place to measure from.",
    ),
    slip(
        "from-bracket",
        "crank-taken-off",
        "measured from the pedal instead of the bottom bracket",
        lambda case, _: rule_mm(case, FROM_BRACKET) - case.crank_length_mm,
        "You took the crank off. This rule measures from the bottom bracket, and the crank plays no part in it.",
        0.25,
    ),
    slip(
        "from-bracket",
        "cm-for-mm",
        "gave centimetres as millimetres",
        lambda case, _: rule_mm(case, FROM_BRACKET) / 10,
        "Your number is in centimetres, as the inseam was, and you wrote millimetres.",
        0.5,
    ),
    slip(
        "from-pedal",
        "crank-forgotten",
        "took the distance to the pedal for that to the bottom bracket",
        lambda case, _: to_pedal_mm(case),
        "You gave the distance from the pedal. From the bottom bracket it is less: the crank lies between the two.",
        0.25,
    ),
    slip(
        "from-pedal",
        "crank-added",
        "added the crank",
        lambda case, _: to_pedal_mm(case) + case.crank_length_mm,
        "You added the crank. With the crank in line and the pedal at its lowest, the bottom bracket is nearer to the "
        "saddle than the pedal is.",
        0.25,
    ),
    slip(
        "from-pedal",
        "cm-for-mm",
        "gave centimetres as millimetres",
        lambda case, _: rule_mm(case, FROM_PEDAL) / 10,
        "Your number is in centimetres, as the inseam was, and you wrote millimetres.",
        0.5,
    ),
    slip(
        "from-pedal",
        "other-factor",
        "took the factor of the other rule",
        lambda case, _: rule_mm(case, FROM_BRACKET) - case.crank_length_mm,
        "You took the factor that belongs to the distance from the bottom bracket and then took the crank off.",
    ),
)

KNEE = (
    slip(
        "flexion",
        "included-for-flexion",
        "took the included angle for the flexion",
        lambda case, _: float(np.mean(case.included_deg)),
        "You gave the angle included between thigh and shank. Flexion counts from the straight leg, whose included "
        "angle is a half turn.",
    ),
    slip(
        "flexion",
        "from-right-angle",
        "counted from a right angle",
        lambda case, _: float(np.mean(case.included_deg)) - 90,
        "You counted from a right angle. Flexion counts from the straight leg.",
        0.25,
    ),
    slip(
        "flexion",
        "from-standing",
        "counted from the standing knee",
        lambda case, _: case.standing_included_deg - float(np.mean(case.included_deg)),
        "You took the standing knee off. That is another convention, of use when it is named; asked is the flexion "
        "from the straight leg.",
        0.5,
    ),
    slip(
        "per-10-mm",
        "not-scaled",
        "gave the change of the whole trial",
        lambda case, _: per_10_mm_deg(case) * TRIAL_MM / 10,
        "You gave the change of the whole trial. Asked is the change for each 10 mm.",
        0.5,
    ),
    slip(
        "per-10-mm",
        "upside-down",
        "turned the ratio upside down",
        lambda case, _: 10 / per_10_mm_deg(case),
        "Your ratio is upside down: you gave the millimetres for each degree.",
        0.25,
    ),
    slip(
        "per-10-mm",
        "one-degree-a-mm",
        "took a degree for a millimetre",
        lambda _case, _earlier: 10.0,
        "You took a degree for each millimetre. The trial says how much it is for this rider, whose ankle gives too.",
    ),
)

SADDLE = (
    slip(
        "change",
        "wrong-way",
        "changed the saddle the wrong way",
        lambda case, earlier: -change_of(case, earlier),
        "The distance fits, the direction does not: a higher saddle straightens the knee.",
        0.25,
    ),
    slip(
        "change",
        "multiplied",
        "multiplied by the effect instead of dividing",
        lambda case, earlier: (earlier["flexion"] - case.target_deg) * earlier["per-10-mm"] / 10,
        "You multiplied where you have to divide: ask how often 10 mm are needed for so many degrees.",
        0.25,
    ),
    slip(
        "change",
        "degrees-as-mm",
        "took a degree for a millimetre",
        lambda case, earlier: earlier["flexion"] - case.target_deg,
        "You moved the saddle as many millimetres as the knee lacks degrees. Your own trial says what 10 mm do.",
        0.25,
    ),
    slip(
        "change",
        "rule-over-knee",
        "trusted the rule of thumb over the measured knee",
        lambda case, _: rule_mm(case, FROM_BRACKET) - case.saddle_height_mm,
        "You went to the height of a rule of thumb. The rule knows the inseam only; this rider's knee was measured.",
        0.25,
    ),
    slip(
        "window",
        "face-value",
        "took the number as exact",
        lambda _, earlier: face_value(earlier),
        "You took the number at face value. Another fitter may read six degrees more or less, and then it falls on the "
        "other side of the edge.",
    ),
    slip(
        "window",
        "doubt-for-everything",
        "doubted what is beyond doubt",
        lambda _, earlier: "open" if in_window(earlier["flexion"]) == "outside" else None,
        "You left it open although your number lies further outside than two fitters ever differ.",
        0.25,
    ),
    slip(
        "window",
        "comfort-zone",
        "called a knee inside that is far outside",
        lambda _, earlier: "inside" if in_window(earlier["flexion"]) == "outside" else None,
        "You called the knee inside. Compare your own flexion with both ends of the window.",
    ),
    slip(
        "today",
        "passed-over-warning",
        "went on in spite of a warning sign",
        lambda case, _: "go-on" if case.has_sign else None,
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
        "whole-change",
        "made the whole change at once",
        lambda _case, _earlier: "whole",
        "You made the whole change at once. The angle repeats to some degrees only, and a body used to one height "
        "tells little about another on the first day.",
    ),
)

MISCONCEPTIONS = RULES + KNEE + SADDLE
