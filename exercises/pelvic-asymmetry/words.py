"""What the placeholders of the brief stand for, and the worked solution."""

from autograde.cases.writing import plain

from .sides import ANGLES_DEG, Sides, drawn_in, index_pct, inward_mm, push_inward_mm, slope_deg


def context(case: Sides) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    rows = [
        {"angle": f"{angle:g}", "right": plain(right), "left": plain(left)}
        for angle, right, left in zip(ANGLES_DEG, case.right_knee_mm, case.left_knee_mm, strict=True)
    ]
    return {
        "rider": case.rider,
        "answer": case.answer,
        "right_spine": f"{case.right_spine_mm:g}",
        "left_spine": f"{case.left_spine_mm:g}",
        "apart": f"{case.spines_apart_mm:g}",
        "pedal": f"{case.pedal_mm:g}",
        "rows": rows,
        "right_load": f"{case.right_load_n:g}",
        "left_load": f"{case.left_load_n:g}",
    }


def worked(case: Sides) -> dict[str, str]:
    """A worked solution of each task."""
    slope, index = slope_deg(case), index_pct(case)
    rise = case.right_spine_mm - case.left_spine_mm
    right, left = (", ".join(plain(each) for each in inward_mm(case, side)[:4]) for side in ("right", "left"))
    return {
        "slope": (
            f"The right side stands {plain(rise)} mm higher over {case.spines_apart_mm:g} mm; the inverse tangent of "
            f"{plain(rise / case.spines_apart_mm, 4)} is **{plain(slope, 2)} °**."
        ),
        "which-knee": (
            f"The {'right' if slope > 0 else 'left'} side is higher, so the pelvis leans to the other side and the "
            f"{'right' if slope > 0 else 'left'} knee is drawn to the frame: "
            f"{'C' if drawn_in(slope) == 'right-in' else 'A'}."
        ),
        "right-knee": (
            f"Inward of the pedal at {case.pedal_mm:g} mm means less than {case.pedal_mm:g}: {right} mm in the four "
            f"rows, in the mean **{plain(push_inward_mm(case, 'right'), 1)} mm**."
        ),
        "left-knee": (
            f"The left pedal is at −{case.pedal_mm:g} mm, and the frame lies to its right: {left} mm, in the mean "
            f"**{plain(push_inward_mm(case, 'left'), 1)} mm**."
        ),
        "index": (
            f"({case.right_load_n:g} − {case.left_load_n:g}) / {plain((case.right_load_n + case.left_load_n) / 2, 1)} "
            f"= **{plain(index, 1)} %**. As a share of the sum the same two numbers look half as far apart: always "
            "name the index."
        ),
        "compare": "The mean of the two is near zero, so an index explodes and a mean hides both: B.",
        "today": (
            "The rider named a sign that stops the fit: change nothing, say so calmly, refer (B)."
            if case.has_sign
            else "Nothing on the list of signs was named: support first, one change, measure again (A)."
        ),
        "judgement": (
            "A good answer names each side with its own number and the error beside it. The landmarks of level pelves "
            "differ in height by up to 16 mm from bone alone, so the slope is looked at again on another day. Riders "
            "are commonly uneven, the usual limits are arbitrary, and no study shows that a difference injures or "
            "costs power. If slope and knees fit together, look first for what holds the pelvis unevenly, change one "
            "thing and measure again; refer where the rider names a sign."
        ),
    }
