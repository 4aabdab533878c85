"""What the placeholders of the brief stand for, and the worked solution."""

from autograde.cases.writing import plain

from .hip import TRIAL_MM, Hip, closes_deg, flexion_deg, opens_deg, roll_deg, shorter_mm


def context(case: Hip) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    return {
        "rider": case.rider,
        "answer": case.answer,
        "crank_length": f"{case.crank_length_mm:g}",
        "short_crank": f"{case.crank_length_mm - TRIAL_MM:g}",
        "trial": f"{TRIAL_MM:g}",
        "standing": f"{case.standing_tilt_deg:g}",
        "tilt": f"{case.tilt_deg:g}",
        "low_tilt": f"{case.low_tilt_deg:g}",
        "trunk": f"{case.trunk_deg:g}",
        "low_trunk": f"{case.low_trunk_deg:g}",
        "thigh": f"{case.thigh_deg:g}",
        "thigh_short": f"{case.thigh_short_crank_deg:g}",
    }


def worked(case: Hip) -> dict[str, str]:
    """A worked solution of each task."""
    roll, opens, closes = roll_deg(case), opens_deg(case), closes_deg(case)
    return {
        "roll": f"{case.tilt_deg:g} − {case.standing_tilt_deg:g} = **{plain(roll)} °**.",
        "hip": (
            f"From the hanging thigh to the thigh at the top: 90 − {case.thigh_deg:g} = {90 - case.thigh_deg:g}°. The "
            f"pelvis came towards it by {plain(roll)}°: **{plain(flexion_deg(case, roll), 1)} °**."
        ),
        "opens": (
            f"The thigh hangs {case.thigh_short_crank_deg:g} − {case.thigh_deg:g} = "
            f"{plain(case.thigh_short_crank_deg - case.thigh_deg, 1)}° lower after {TRIAL_MM:g} mm: for each 10 mm "
            f"**{plain(opens, 2)} °**."
        ),
        "closes": (
            f"The pelvis rolls from {case.tilt_deg:g}° to {case.low_tilt_deg:g}°: **{plain(closes)} °**. The trunk "
            f"went down by {plain(case.trunk_deg - case.low_trunk_deg)}°; the rest of that is the back."
        ),
        "shorter": f"{plain(closes)} / {plain(opens, 2)} × 10 = **{plain(shorter_mm(closes, opens), 1)} mm**.",
        "muscle": "It runs behind the hip, so a hip that closes draws its ends apart: longer (B).",
        "today": (
            "The rider named a sign that stops the fit: change nothing, say so calmly, refer (A)."
            if case.has_sign
            else "Nothing on the list of signs was named: one small step, ask, note, look again (C)."
        ),
        "judgement": (
            "A good answer keeps trunk and pelvis apart: the hip closes by what the pelvis rolls, and the rest of the "
            "lower trunk is the back. In the study at hand a lower trunk cost power and efficiency, against less drag; "
            "cranks of other lengths did not change which joints give the power. A crank as short as reckoned may not "
            "exist, and the readings repeat to a degree only. One small step, the rider's own judgement, a second "
            "look; no promise; refer where a sign was named."
        ),
    }
