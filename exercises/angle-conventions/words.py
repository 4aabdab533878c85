"""What the placeholders of the brief stand for, and the worked solution."""

from autograde.cases.writing import plain

from .picture_of_rider import (
    LANDMARKS,
    Picture,
    ankle_deg,
    from_to_px,
    hip_deg,
    knee_deg,
    reported_flexion_deg,
    sole_deg,
    thigh_deg,
    trunk_deg,
    trunk_thigh_deg,
)

PARTS = {
    "shoulder": "shoulder (acromion)",
    "hip": "hip (greater trochanter)",
    "knee": "knee (outer condyle of the thigh bone)",
    "ankle": "ankle (outer malleolus)",
    "heel": "sole, below the heel",
    "toe": "sole, below the toes",
}


def context(case: Picture) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    rows = [
        {"name": PARTS[name], "across": f"{x:g}", "down": f"{y:g}"}
        for name, (x, y) in zip(LANDMARKS, case.places_px, strict=True)
    ]
    return {
        "rider": case.rider,
        "reason": case.reason,
        "facing": case.facing,
        "rows": rows,
        "tilt": f"{case.pelvis_tilt_deg:g}",
        "reported": f"{case.reported_deg:g}",
    }


def worked(case: Picture) -> dict[str, str]:
    """A worked solution of each task."""
    thigh, trunk, knee = thigh_deg(case), trunk_deg(case), knee_deg(case)
    thigh_ahead, thigh_up = from_to_px(case, "hip", "knee")
    trunk_ahead, trunk_up = from_to_px(case, "hip", "shoulder")
    shank_deg = thigh + knee
    return {
        "thigh": (
            f"The knee lies {plain(thigh_ahead)} pixels ahead of the hip and {plain(-thigh_up)} below it. The inverse "
            f"tangent of {plain(-thigh_up)} / {plain(thigh_ahead)} is **{plain(thigh, 1)} °**."
        ),
        "trunk": (
            f"The shoulder lies {plain(trunk_ahead)} pixels ahead of the hip and {plain(trunk_up)} above it: "
            f"**{plain(trunk, 1)} °**."
        ),
        "trunk-thigh": (
            f"One rises above the horizontal, the other falls below it: {plain(trunk, 1)} + {plain(thigh, 1)} = "
            f"**{plain(trunk_thigh_deg(case), 1)} °**."
        ),
        "hip": (
            f"Standing, the thigh hangs 90° below the horizontal. It has come up by 90 − {plain(thigh, 1)}°, and the "
            f"pelvis towards it by {case.pelvis_tilt_deg:g}°: **{plain(hip_deg(case), 1)} °**."
        ),
        "knee": (
            f"The shank points {plain(shank_deg, 1)}° below the horizontal ahead, the thigh {plain(thigh, 1)}°. The "
            f"knee is bent by the difference: **{plain(knee, 1)} °**."
        ),
        "ankle": (
            f"The sole falls {plain(sole_deg(case), 1)}° towards the toe, the shank points {plain(shank_deg, 1)}° "
            f"below the horizontal ahead. At a right angle the sole would fall {plain(shank_deg - 90, 1)}°; it falls "
            f"{plain(ankle_deg(case), 1)}° more: **{plain(ankle_deg(case), 1)} °**."
        ),
        "reported": (
            f"A leg that is nearly straight includes nearly 180°. So the paper counts the included angle: 180 − "
            f"{case.reported_deg:g} = **{plain(reported_flexion_deg(case))} °**."
        ),
        "judgement": (
            "A good record names the landmarks, what counts as zero and which sign means what, the crank angle and the "
            "side, for each angle. It says that trunk against thigh and pelvis against thigh are two things, and that "
            "the ankle changes by tens of degrees when the line to the toe stands for the sole. It gives how well the "
            "numbers repeat, compares only what was measured alike, and leaves diagnoses to others."
        ),
    }
