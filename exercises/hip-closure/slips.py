"""Wrong ways to the answers: what each leads to, and what to say about it."""

from autograde.cases.writing import slips_on

from .hip import TRIAL_MM, Hip, closes_deg, flexion_deg, opens_deg, shorter_mm

PAGE = "pelvic-support"
START = "start"
slip = slips_on(PAGE)


def trunk_drops_deg(case: Hip) -> float:
    """How far the trunk goes down."""
    return case.trunk_deg - case.low_trunk_deg


ANGLES = (
    slip(
        "roll",
        "standing-forgotten",
        "took the reading for the roll",
        lambda case, _: case.tilt_deg,
        "You gave the reading on the bicycle. The bones of this rider are tilted in standing too, by their shape; the "
        "roll is what came on top.",
        0.25,
    ),
    slip(
        "roll",
        "added",
        "added the standing reading",
        lambda case, _: case.tilt_deg + case.standing_tilt_deg,
        "You added the two readings. The roll is the difference between them.",
        0.25,
    ),
    slip(
        "roll",
        "trunk-for-pelvis",
        "took the trunk for the pelvis",
        lambda case, _: 90 - case.trunk_deg,
        "You took how far the trunk leans forward. A back bends; the pelvis was measured on its own.",
    ),
    slip(
        "hip",
        "roll-taken-off",
        "opened the hip by the pelvis's roll",
        lambda case, earlier: flexion_deg(case, -earlier["roll"]),
        "You took the roll off. A pelvis that rolls forward comes nearer to the thigh: the hip closes.",
        0.25,
    ),
    slip(
        "hip",
        "pelvis-forgotten",
        "left the pelvis out",
        lambda case, _: flexion_deg(case, 0.0),
        "You counted the thigh from where it hangs in standing and left the pelvis as it stands. It has rolled "
        "forward.",
        0.25,
    ),
    slip(
        "hip",
        "trunk-for-pelvis",
        "took the trunk for the pelvis",
        lambda case, _: 180 - case.trunk_deg - case.thigh_deg,
        "You compared the thigh with the trunk. The hip joint lies between thigh and pelvis.",
        0.25,
    ),
    slip(
        "hip",
        "thigh-from-horizontal",
        "counted the thigh from the horizontal",
        lambda case, earlier: earlier["roll"] - case.thigh_deg,
        "You counted the thigh from the horizontal. Flexion counts from the hanging thigh, a right angle lower.",
        0.25,
    ),
)

TRIALS = (
    slip(
        "opens",
        "not-scaled",
        "gave the change of the whole trial",
        lambda case, _: opens_deg(case) * TRIAL_MM / 10,
        "You gave the change of the whole trial. Asked is the change for each 10 mm.",
        0.5,
    ),
    slip(
        "opens",
        "sign-turned",
        "let a shorter crank close the hip",
        lambda case, _: -opens_deg(case),
        "The size fits, the sign does not: at the top a shorter crank and a higher saddle let the thigh hang lower.",
        0.5,
    ),
    slip(
        "opens",
        "for-each-mm",
        "gave the change for each millimetre",
        lambda case, _: opens_deg(case) / 10,
        "You gave the change for each millimetre. Asked is the change for each 10 mm.",
        0.5,
    ),
    slip(
        "closes",
        "trunk-for-pelvis",
        "took the trunk for the pelvis",
        lambda case, _: trunk_drops_deg(case),
        "You gave how far the trunk went down. Much of that is the back, which bends; the hip closes by what the "
        "pelvis rolls.",
        0.25,
    ),
    slip(
        "closes",
        "whole-roll",
        "gave the whole roll instead of the change",
        lambda case, _: case.low_tilt_deg - case.standing_tilt_deg,
        "You gave the whole roll from standing. Asked is how much the hip closes from the present posture to the low "
        "one.",
        0.25,
    ),
    slip(
        "closes",
        "sign-turned",
        "let a lower trunk open the hip",
        lambda case, _: -closes_deg(case),
        "The size fits, the sign does not: plus is a hip that closes, and a pelvis that rolls forward closes it.",
        0.5,
    ),
    slip(
        "shorter",
        "multiplied",
        "multiplied where it has to be divided",
        lambda _, earlier: earlier["closes"] * earlier["opens"] / 10,
        "You multiplied where you have to divide: ask how often 10 mm are needed for so many degrees.",
        0.25,
    ),
    slip(
        "shorter",
        "degrees-as-mm",
        "took a degree for a millimetre",
        lambda _, earlier: earlier["closes"],
        "You took a millimetre for each degree. Your own trial says what 10 mm do.",
        0.25,
    ),
    slip(
        "shorter",
        "for-the-trunk",
        "made up for the trunk instead of the pelvis",
        lambda case, earlier: shorter_mm(trunk_drops_deg(case), earlier["opens"]),
        "You made up for all that the trunk went down. The hip closed only by what the pelvis rolled.",
        0.25,
    ),
)

JUDGING = (
    slip(
        "muscle",
        "shorter",
        "let a closed hip shorten the muscle behind it",
        lambda _case, _earlier: "shorter",
        "You let the muscle become shorter. It runs behind the hip; a thigh that comes up draws its ends apart.",
    ),
    slip(
        "muscle",
        "unchanged",
        "let a muscle keep its length while its joint moves",
        lambda _case, _earlier: "same",
        "You let it keep its length. A muscle that crosses one joint only follows every turn of that joint.",
    ),
    slip(
        "today",
        "passed-over-warning",
        "went on in spite of a warning sign",
        lambda case, _: "try" if case.has_sign else None,
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
        "low-at-any-price",
        "went as low as possible",
        lambda _case, _earlier: "low",
        "You went as low as possible. A lower trunk saves drag and costs power and efficiency; which of the two counts "
        "more is the rider's question, and comes in small steps.",
    ),
)

MISCONCEPTIONS = ANGLES + TRIALS + JUDGING
