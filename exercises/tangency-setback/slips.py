"""Wrong ways to the answers: what each leads to, and what to say about it."""

from collections.abc import Callable
from typing import Any

import numpy as np

from autograde.cases import Misconception

from .rider import TRIAL_MM, Measured, height_change_mm, knee_offset_mm, lean_deg, move_mm, travel_mm

PAGE = "lever-tangency"
START = "start"


def slip(
    task: str,
    name: str,
    label: str,
    predict: Callable[[Measured, Any], Any],
    feedback: str,
    credit: float = 0.0,
    page: str = PAGE,
) -> Misconception:
    """One wrong way."""
    return Misconception(name, task, label, predict, feedback, page, credit)


def lean_of(case: Measured, earlier: Any) -> float:
    """Lean from the named offset."""
    return lean_deg(case, earlier["knee-offset"])


def move_of(earlier: Any) -> float:
    """Move from the named offset and travel."""
    return move_mm(earlier["knee-offset"], earlier["travel"])


KNEE = (
    slip(
        "knee-offset",
        "front-for-centre",
        "took the front of the knee for its centre",
        lambda case, _: case.front_ahead_mm,
        "You gave what the plumb line shows. It hangs from the front of the kneecap; the centre of the joint lies "
        "further back, and the depth was measured.",
        0.25,
    ),
    slip(
        "knee-offset",
        "depth-added",
        "added the depth of the knee",
        lambda case, _: case.front_ahead_mm + case.front_to_centre_mm,
        "You added the depth of the knee. The centre lies behind the front of the kneecap, so the depth is taken off.",
        0.25,
    ),
    slip(
        "knee-offset",
        "sign-turned",
        "turned ahead into behind",
        lambda case, _: -knee_offset_mm(case),
        "The size fits, the side does not: plus is the knee ahead of the axle, minus behind it.",
        0.5,
    ),
    slip(
        "knee-offset",
        "from-bottom-bracket",
        "measured from the bottom bracket",
        lambda case, _: knee_offset_mm(case) + case.crank_length_mm,
        "You measured from the bottom bracket. With the crank forward the axle of the pedal is a crank length ahead "
        "of it.",
    ),
    slip(
        "lean",
        "angle-to-crank",
        "gave the angle to the crank",
        lambda case, earlier: 90 - abs(lean_of(case, earlier)),
        "You gave the angle between the line and the crank. With the crank forward the tangent points straight "
        "down; the angle to that line was asked.",
        0.25,
    ),
    slip(
        "lean",
        "ratio-for-angle",
        "gave the ratio or radians as degrees",
        lambda case, earlier: earlier["knee-offset"] / case.knee_height_mm,
        "Your number is the ratio of the two lengths, or the angle in radians. The angle in degrees was asked: the "
        "inverse tangent of the ratio.",
        0.25,
    ),
    slip(
        "lean",
        "slope-in-per-cent",
        "gave a slope in per cent as degrees",
        lambda case, earlier: 100 * earlier["knee-offset"] / case.knee_height_mm,
        "Your number is the slope in per cent. A slope of one in one is 45°, so the two are not the same.",
        0.25,
    ),
    slip(
        "lean",
        "sign-turned",
        "turned the side of the lean",
        lambda case, earlier: -lean_of(case, earlier),
        "The size fits, the side does not: plus belongs to a knee ahead of the axle.",
        0.5,
    ),
    slip(
        "useful-share",
        "sine-for-cosine",
        "took the sine for the cosine",
        lambda _, earlier: 100 * abs(np.sin(np.radians(earlier["lean"]))),
        "You gave the part across the tangent. For a small angle nearly the whole push points along it: the cosine.",
        0.25,
    ),
    slip(
        "useful-share",
        "loss-in-proportion",
        "let the push fall in proportion to the angle",
        lambda _, earlier: 100 * (1 - abs(earlier["lean"]) / 90),
        "You let the useful part fall evenly from all to nothing over 90°. It falls with the cosine: hardly at all "
        "at first.",
    ),
    slip(
        "useful-share",
        "calculator-in-radians",
        "took degrees as radians",
        lambda _, earlier: 100 * np.cos(earlier["lean"]),
        "Your calculator took the degrees as radians. Check it with the cosine of 60, which must be one half.",
        0.25,
    ),
)

SADDLE = (
    slip(
        "travel",
        "one-to-one",
        "took the knee to move as far as the saddle",
        lambda _case, _earlier: 10.0,
        "You let the knee move as far as the saddle. The foot stays on the pedal, so the knee moves less: read the "
        "trial.",
    ),
    slip(
        "travel",
        "upside-down",
        "turned the ratio upside down",
        lambda case, _: 100 / travel_mm(case),
        "Your ratio is upside down: asked is the move of the knee for a move of the saddle.",
        0.25,
    ),
    slip(
        "travel",
        "not-scaled",
        "gave the move of the whole trial",
        lambda case, _: travel_mm(case) * TRIAL_MM / 10,
        "You gave how far the knee moved in the whole trial. Asked is the move for each 10 mm of the saddle.",
        0.5,
    ),
    slip(
        "move",
        "one-to-one",
        "moved the saddle by the offset of the knee",
        lambda _, earlier: earlier["knee-offset"],
        "You moved the saddle as far as the knee should move. Your own trial says that the knee moves less than the "
        "saddle.",
        0.25,
    ),
    slip(
        "move",
        "wrong-way",
        "moved the saddle the wrong way",
        lambda _, earlier: -move_of(earlier),
        "The distance fits, the direction does not: a knee ahead of the axle asks for a saddle further back.",
        0.25,
    ),
    slip(
        "move",
        "multiplied",
        "multiplied by the travel instead of dividing",
        lambda _, earlier: earlier["knee-offset"] * earlier["travel"] / 10,
        "You multiplied where you have to divide: the saddle has to move further than the knee, not less far.",
        0.25,
    ),
    slip(
        "height",
        "level-rails-keep-height",
        "took level rails to keep the saddle height",
        lambda _case, _earlier: 0.0,
        "You left the height alone because the rails are level. The saddle height is the distance from the bottom "
        "bracket, and that changes when the saddle slides.",
    ),
    slip(
        "height",
        "wrong-way",
        "changed the height the wrong way",
        lambda case, earlier: -height_change_mm(case, earlier["move"]),
        "The distance fits, the direction does not. A saddle that slides back moves away from the bottom bracket.",
        0.5,
    ),
    slip(
        "height",
        "whole-move",
        "changed the height by the whole slide",
        lambda _, earlier: -earlier["move"],
        "You changed the height by the whole slide. Only the part of the slide along the line to the bottom bracket "
        "counts; compare the two distances with Pythagoras.",
        0.25,
    ),
)

JUDGING = (
    slip(
        "also-changes",
        "knee-only",
        "thought of the knee alone",
        lambda _case, _earlier: {"knee"},
        "You thought of the knee alone. The hips move back with the saddle and the hands stay where they are.",
        0.25,
    ),
    slip(
        "also-changes",
        "reach-only",
        "thought of the reach alone",
        lambda _case, _earlier: {"reach"},
        "You thought of the reach alone. The legs hang from a place further back and further from the pedals.",
        0.25,
    ),
    slip(
        "also-changes",
        "hip-forgotten",
        "forgot the hip",
        lambda _case, _earlier: {"reach", "knee"},
        "You left out the hip. With the hands where they were and the seat further back, thigh and trunk meet at "
        "another angle.",
        0.5,
    ),
    slip(
        "also-changes",
        "everything",
        "named everything",
        lambda _case, _earlier: {"reach", "hip", "knee", "crank", "stance"},
        "You named everything. A saddle that slides leaves the cranks and the distance between the feet as they are.",
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
        "cure-by-saddle",
        "wanted to cure a knee with the saddle",
        lambda _case, _earlier: "cure",
        "You promised a cure. No study shows that a plumb line through the axle protects or heals a knee, and a "
        "large move at once tells nobody anything.",
    ),
)

MISCONCEPTIONS = KNEE + SADDLE + JUDGING
