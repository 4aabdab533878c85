"""What the placeholders of the brief stand for, and the worked solution."""

from autograde.cases.writing import plain

from .foot import (
    FIRST_SHARE,
    Forefoot,
    edge_of,
    first_stack_mm,
    left_over_deg,
    one_wedge_deg,
    rise_mm,
    tilt_deg,
    wedges_in,
)


def context(case: Forefoot) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    return {
        "rider": case.rider,
        "side": case.side,
        "answer": case.answer,
        "inner": f"{case.inner_height_mm:g}",
        "outer": f"{case.outer_height_mm:g}",
        "gauge_width": f"{case.gauge_width_mm:g}",
        "shoe_width": f"{case.shoe_width_mm:g}",
        "wedge": f"{case.wedge_mm:g}",
    }


def worked(case: Forefoot) -> dict[str, str]:
    """A worked solution of each task."""
    tilt, one = tilt_deg(case), one_wedge_deg(case)
    edge, stack = edge_of(tilt), first_stack_mm(case, tilt)
    left = left_over_deg(case, tilt, edge, stack)
    return {
        "tilt": (
            f"The inner edge stands {plain(case.inner_height_mm, 1)} − {plain(case.outer_height_mm, 1)} = "
            f"{plain(rise_mm(case), 1)} mm higher, over {case.gauge_width_mm:g} mm between the places. Ratio "
            f"{plain(rise_mm(case) / case.gauge_width_mm, 4)}; its inverse tangent is **{plain(tilt, 2)} °**."
        ),
        "edge": (
            "Plus is varus, so the gap is under the inner edge: A."
            if edge == "inner"
            else "Minus is valgus, so the gap is under the outer edge: B."
        ),
        "wedge-angle": (
            f"{case.wedge_mm:g} mm over {case.shoe_width_mm:g} mm is {case.wedge_mm / case.shoe_width_mm:.5f}; its "
            f"inverse tangent is **{plain(one, 3)} °**. In a narrow shoe the same wedge is steeper."
        ),
        "stack": (
            f"Half of the tilt is {plain(FIRST_SHARE * abs(tilt), 2)}°, and {plain(FIRST_SHARE * abs(tilt), 2)} / "
            f"{plain(one, 3)} = {plain(wedges_in(case, FIRST_SHARE * abs(tilt)), 2)}. Rounded down, "
            f"{round(stack / case.wedge_mm)} wedges: **{stack:g} mm**."
        ),
        "tilt-left": (
            f"The stack of {stack:g} mm over {case.shoe_width_mm:g} mm makes an angle of "
            f"{plain(abs(tilt - left), 2)}°. {plain(tilt, 2)} {'−' if tilt > 0 else '+'} {plain(abs(tilt - left), 2)} "
            f"= **{plain(left, 2)} °**."
        ),
        "evidence": (
            "More contact and a feeling of more support: B and D. No change of the knee's path or of power was found, "
            "and nobody has counted injuries."
        ),
        "today": (
            "Feeling or strength of the foot is changed: no wedge before a physician has looked at it, and say so "
            "calmly (B)."
            if case.has_sign
            else "Nothing on the list of signs was named: try the first stack, ask, note, look again (C)."
        ),
        "judgement": (
            "A good answer says that most feet measured in this way are tilted; by the method of measurement between "
            "a tenth and nearly all feet were called varus. The heel held a little differently gives a reading two "
            "degrees away. So the number is neither a fault nor a diagnosis. The few small laboratory studies found "
            "more contact and a feeling of support, no change of the knee's path, of comfort or of power. If a wedge "
            "is tried, the rider's own judgement on the trainer and after some rides decides, and it comes out again "
            "when it does not help."
        ),
    }
