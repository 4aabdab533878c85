"""What the placeholders of the brief stand for, and the worked solution."""

import numpy as np

from autograde.cases.writing import plain

from .line import DOES, Line, arm_mm, crossed, does, longer_by_mm, piece, place_mm

LETTERS = {"hip": "B", "knee": "C", "ankle": "A"}
ENDS = {
    "back of the thigh": "from the pelvis to the back of the shank, straight",
    "front of the thigh": "from the pelvis over the kneecap to the front of the shank",
    "calf": "from the back of the thigh bone to the heel, straight",
}


def goes(joint: str, closes_deg: float) -> str:
    """A movement of a joint in words."""
    if joint == "ankle":
        return f"the ankle {'points the toe down' if closes_deg > 0 else 'lifts the toe'} by {abs(closes_deg):g}°"
    return f"the {joint} {'closes' if closes_deg > 0 else 'opens'} by {abs(closes_deg):g}°"


def context(case: Line) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    upper, lower = crossed(case)
    return {
        "rider": case.rider,
        "claim": case.claim,
        "muscle": case.muscle,
        "ends": ENDS[case.muscle],
        "rows": [{"name": name, "forward": f"{x:g}", "up": f"{y:g}"} for name, x, y in case.places_mm],
        "upper": upper,
        "lower": lower,
        "force": f"{case.force_n:g}",
        "movement": f"{goes(upper, case.upper_closes_deg)} and {goes(lower, case.lower_closes_deg)}",
    }


def lever_in_words(case: Line, joint: str) -> str:
    """How a lever is worked out."""
    start, end = piece(case, joint)
    along = place_mm(case, end) - place_mm(case, start)
    reach = place_mm(case, joint) - place_mm(case, start)
    area = abs(along[0] * reach[1] - along[1] * reach[0])
    return (
        f"From {start} to {end} it is ({plain(along[0])}, {plain(along[1])}) mm, {np.hypot(*along):.1f} mm long; from "
        f"{start} to the {joint} ({plain(reach[0])}, {plain(reach[1])}) mm. Cross product over length: {area:.0f} / "
        f"{np.hypot(*along):.1f} = **{plain(arm_mm(case, joint), 1)} mm**."
    )


def worked(case: Line) -> dict[str, str]:
    """A worked solution of each task."""
    upper, lower = crossed(case)
    arms = {joint: arm_mm(case, joint) for joint in (upper, lower)}
    longer = longer_by_mm(case, does(case, upper), does(case, lower), arms[upper], arms[lower])
    parts = {
        joint: -np.radians(closes) * DOES[does(case, joint)] * arms[joint]
        for joint, closes in ((upper, case.upper_closes_deg), (lower, case.lower_closes_deg))
    }
    choices = {joint: "A" if does(case, joint) == "flexes" else "B" for joint in (upper, lower)}
    return {
        "crosses": f"{upper} and {lower}: {LETTERS[upper]} and {LETTERS[lower]}.",
        "upper": f"Pull both ends together: at the {upper} it {does(case, upper)} ({choices[upper]}).",
        "lower": f"At the {lower} it {does(case, lower)} ({choices[lower]}).",
        "upper-arm": lever_in_words(case, upper),
        "lower-arm": lever_in_words(case, lower),
        "moment": (
            f"{case.force_n:g} N × {arms[lower] / 1000:.4f} m = **{plain(case.force_n * arms[lower] / 1000, 1)} N m**."
        ),
        "longer": (
            f"{upper}: {abs(case.upper_closes_deg):g}° are {np.radians(abs(case.upper_closes_deg)):.3f} rad, "
            f"{plain(parts[upper], 1)} mm; {lower}: {np.radians(abs(case.lower_closes_deg)):.3f} rad, "
            f"{plain(parts[lower], 1)} mm. A joint that goes the way the muscle pulls makes it shorter. Together "
            f"**{plain(longer, 1)} mm**."
        ),
        "judgement": (
            "A good answer says from the numbers that this muscle acts on two joints at once, so that it can help at "
            "one while the other lengthens it, and that pushing the pedal down opens hip and knee together. Which sign "
            "a lever has says nothing of when the muscle is active, and studies of that differ. The line is straight, "
            "the levers change with the pose, and the leg is invented. Nobody rests a single muscle on purpose, and "
            "pain is nothing a fitter treats."
        ),
    }
