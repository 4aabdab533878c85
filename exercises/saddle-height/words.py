"""What the placeholders of the brief stand for, and the worked solution."""

import numpy as np

from autograde.cases.writing import plain

from .rider import (
    FROM_BRACKET,
    FROM_PEDAL,
    TRIAL_MM,
    Rider,
    change_mm,
    flexion_deg,
    in_window,
    per_10_mm_deg,
    rule_mm,
    to_pedal_mm,
)


def context(case: Rider) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    return {
        "rider": case.rider,
        "answer": case.answer,
        "inseam": f"{case.inseam_cm:g}",
        "crank_length": f"{case.crank_length_mm:g}",
        "saddle_height": f"{case.saddle_height_mm:g}",
        "readings": ", ".join(f"{each:g}°" for each in case.included_deg),
        "standing": f"{case.standing_included_deg:g}",
        "trial": case.trial,
        "trial_mm": f"{TRIAL_MM:g}",
        "after": f"{case.after_trial_included_deg:g}",
        "target": f"{case.target_deg:g}",
    }


def worked(case: Rider) -> dict[str, str]:
    """A worked solution of each task."""
    mean = float(np.mean(case.included_deg))
    flexion, per_10 = flexion_deg(case), per_10_mm_deg(case)
    change = change_mm(flexion, per_10, case.target_deg)
    said = {
        "inside": "A",
        "outside": "Further than 6° outside the window, so it is outside whoever measures (B).",
        "open": "Six degrees more or less reach over an edge of the window, so it cannot be told (C). The window is "
        "hardly wider than the difference between two fitters.",
    }
    return {
        "from-bracket": (f"0.883 × {10 * case.inseam_cm:g} mm = **{plain(rule_mm(case, FROM_BRACKET), 1)} mm**."),
        "from-pedal": (
            f"1.09 × {10 * case.inseam_cm:g} mm = {plain(to_pedal_mm(case), 1)} mm from the pedal; less the crank of "
            f"{case.crank_length_mm:g} mm: **{plain(rule_mm(case, FROM_PEDAL), 1)} mm**. Two rules, two heights."
        ),
        "flexion": f"Mean of the readings {plain(mean, 1)}°; 180 − {plain(mean, 1)} = **{plain(flexion, 1)} °**.",
        "per-10-mm": (
            f"From {plain(mean, 1)}° to {case.after_trial_included_deg:g}° in {TRIAL_MM:g} mm: "
            f"{plain(abs(case.after_trial_included_deg - mean), 1)} / {TRIAL_MM:g} × 10 = **{plain(per_10, 2)} °**."
        ),
        "change": (
            f"{plain(flexion, 1)} − {case.target_deg:g} = {plain(flexion - case.target_deg, 1)}° too "
            f"{'much' if change > 0 else 'little'}; {plain(abs(flexion - case.target_deg), 1)} / {plain(per_10, 2)} "
            f"× 10: {'raise' if change > 0 else 'lower'} **{plain(abs(change), 1)} mm**."
        ),
        "window": said[in_window(flexion)],
        "today": (
            "The rider named a sign that stops the fit: change nothing, say so calmly, refer (C); a calf that is "
            "swollen and warm is an emergency."
            if case.has_sign
            else "Nothing on the list of signs was named: go on in small steps and look again (A)."
        ),
        "judgement": (
            "A good answer takes the rules as two starting points that disagree: they know the inseam, not the foot, "
            "the pedal angle or the pelvis. The knee was measured, but to some degrees only, and at rest; riding, it "
            "bends more. Studies of saddle height point in opposite directions about economy. So: small steps towards "
            "the agreed angle, notes, the rider's own judgement, a second look, and back again when it gets worse. No "
            "promise of power or of protection."
        ),
    }
