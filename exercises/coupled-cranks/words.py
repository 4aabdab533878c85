"""What the placeholders of the brief stand for, and the worked solution."""

import numpy as np

from .legs import (
    ANGLES_DEG,
    HALF,
    ROWS,
    Torques,
    effectiveness_pct,
    left_at_asked_nm,
    mean_nm,
    meter_share_pct,
    muscle_nm,
    share_pct,
    what_muscles_do,
)


def plain(number: float, places: int = 1) -> str:
    """A number with a real minus sign and without a negative nought."""
    return f"{round(float(number), places) + 0.0:.{places}f}".replace("-", "−")


def context(case: Torques) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    rows = [
        {"angle": f"{angle:g}", "right": plain(right), "left": plain(left)}
        for angle, right, left in zip(ANGLES_DEG, case.right_nm, case.left_nm, strict=True)
    ]
    return {
        "rider": case.rider,
        "wish": case.wish,
        "crank_length": f"{case.crank_length_mm:g}",
        "mass": f"{case.mass_kg:g}",
        "rows": rows,
        "asked_angle": f"{ANGLES_DEG[case.asked_row]:g}",
        "rising_angle": f"{ANGLES_DEG[case.rising_row]:g}",
        "weight": plain(case.weight_nm),
        **ends("right", case.right_nm),
        **ends("left", case.left_nm),
    }


def ends(name: str, curve: tuple[float, ...]) -> dict[str, str]:
    """Highest and lowest row of a curve, for the text of the picture."""
    values = np.array(curve)
    return {
        f"{name}_most": plain(values.max()),
        f"{name}_most_at": f"{ANGLES_DEG[values.argmax()]:g}",
        f"{name}_least": plain(values.min()),
        f"{name}_least_at": f"{ANGLES_DEG[values.argmin()]:g}",
    }


def driving_and_holding(curve: np.ndarray) -> tuple[float, float]:
    """Sums above and below zero."""
    return float(curve[curve > 0].sum()), float(curve[curve < 0].sum())


def worked(case: Torques) -> dict[str, str]:
    """A worked solution of each task."""
    right = np.array(case.right_nm)
    other = ANGLES_DEG[(case.asked_row + HALF) % ROWS]
    drives, holds = driving_and_holding(right)
    axle_drives, axle_holds = driving_and_holding(case.at_axle_nm)
    axle, muscle = case.right_nm[case.asked_row] + left_at_asked_nm(case), muscle_nm(case)
    letters = {"press": "A", "lift-part": "B", "lift-all": "C", "nothing": "D"}
    return {
        "left-at": f"Half a turn further the left crank is at {other:g}°: **{plain(left_at_asked_nm(case))} N m**.",
        "axle-torque": (
            f"{plain(case.right_nm[case.asked_row])} + ({plain(left_at_asked_nm(case))}) = **{plain(axle)} N m**."
        ),
        "leg-effectiveness": (
            f"Driving {plain(drives)}, holding back {plain(holds)}: ({plain(drives)} − {plain(-holds)}) / "
            f"{plain(drives)} = **{plain(effectiveness_pct(case.right_nm))} %**."
        ),
        "axle-effectiveness": (
            f"Row by row, the left leg half a turn further: the sums run from {plain(case.at_axle_nm.min())} to "
            f"{plain(case.at_axle_nm.max())} N m. Driving {plain(axle_drives)}, holding back {plain(axle_holds)}: "
            f"**{plain(effectiveness_pct(case.at_axle_nm))} %**. One leg covers what the other takes."
        ),
        "share": (
            f"Mean torques {plain(mean_nm(case.right_nm), 2)} and {plain(mean_nm(case.left_nm), 2)} N m; the right "
            f"leg does **{plain(share_pct(case))} %**."
        ),
        "meter-share": (
            f"Sum at the axle over rows 0° to 150°: {plain(case.at_axle_nm[:HALF].sum())}; over the turn: "
            f"{plain(case.at_axle_nm.sum())}. The meter shows **{plain(meter_share_pct(case))} %**, and the true "
            "share is another: it cannot see which leg pushed."
        ),
        "muscles": (
            f"Reading {plain(case.right_nm[case.rising_row])} minus weight ({plain(case.weight_nm)}) = "
            f"**{plain(muscle)} N m**."
        ),
        "muscles-do": f"From that sign and that of the reading: {letters[what_muscles_do(case, muscle)]}.",
        "judgement": (
            "A good answer says where each number was read, and that pedal and axle are not comparable. A rising leg "
            "holds back by its weight and inertia, and a part of that is unavoidable. Riders told to raise the "
            "numbers on the way up became less economical in the studies there are. Ask about pain, injury and "
            "weakness of one leg, and refer to a physician or physiotherapist where there is any."
        ),
    }
