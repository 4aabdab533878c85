"""What the placeholders of the brief stand for, and the worked solution."""

import numpy as np

from autograde.cases.writing import plain

from .rider import (
    AWAY_FOR_95_PCT,
    OTHER,
    TARGET_DEG,
    WINDOW,
    Case,
    difference_deg,
    flexion_deg,
    included_deg,
    moves_mm,
    needed_deg,
    smaller_move_mm,
    smallest_change_deg,
    told_apart,
    uncertainty_deg,
    verdict,
)

TOOL_NAMES = {"inclinometer": "digital inclinometer", "long goniometer": "long-armed goniometer"}


def context(case: Case) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    rows = [
        {
            "stage": stage_name,
            "right": ", ".join(f"{each:g}°" for each in included_deg(case, "right", stage)),
            "left": ", ".join(f"{each:g}°" for each in included_deg(case, "left", stage)),
        }
        for stage, stage_name in (("found", "as found"), ("supported", "now, supported"))
    ]
    return {
        "rider": case.rider,
        "remarks": case.remarks,
        "side": case.side,
        "other": OTHER[case.side],
        "rows": rows,
        "tool": TOOL_NAMES[case.tool],
        "smallest": f"{smallest_change_deg(case):g}",
        "uncertainty": f"{uncertainty_deg(case):g}",
        "footbed": f"{case.footbed_mm:g}",
        "seat": f"{case.seat_deg:g}",
        "trial": f"{case.trial_deg:g}",
    }


def worked(case: Case) -> dict[str, str]:
    """A worked solution of each task."""
    right, left = flexion_deg(case, "right"), flexion_deg(case, "left")
    asked, difference = flexion_deg(case, case.side), difference_deg(case)
    mean = float(np.mean(included_deg(case, case.side)))
    move = smaller_move_mm(case, asked, difference)
    one, other = moves_mm(case, asked, difference)
    beyond = min(abs(asked - WINDOW.low_deg), abs(asked - WINDOW.high_deg))
    return {
        "today": _today(case),
        "order": (
            "Ask, and refer or go on; measure how it is; feet and pelvis; saddle height; fore and aft; ride, measure "
            "again, write it down."
        ),
        "knee": (
            f"The readings that count are those after the support: mean {plain(mean, 2)}°; 180 − {plain(mean, 2)} = "
            f"**{plain(asked, 2)} °**."
        ),
        "difference": f"Right {plain(right, 2)}°, left {plain(left, 2)}°: **{plain(difference, 2)} °**.",
        "told": (
            f"{plain(abs(difference), 1)}° against {smallest_change_deg(case):g}°, the smallest change this tool can "
            "tell: "
            + (
                "more, so the knees bend differently; why, the tool does not say."
                if told_apart(case, difference) == "shown"
                else "less, so the error alone can make it."
            )
        ),
        "window": (
            f"{AWAY_FOR_95_PCT:g} × {uncertainty_deg(case):g}° = {plain(needed_deg(case), 1)}°. The knee lies "
            f"{plain(beyond, 1)}° from the nearer edge: "
            + {"open": "not sure.", "outside": "outside.", "inside": "inside."}[verdict(case, asked)]
        ),
        "change": (
            f"The {case.side} knee asks for {plain(abs(one), 1)} mm, the {OTHER[case.side]} knee for "
            f"{plain(abs(other), 1)} mm, both {'up' if move > 0 else 'down'} ({case.trial_deg:g}° for each 10 mm, to "
            f"{TARGET_DEG:g}°). The smaller: {'raise' if move > 0 else 'lower'} **{plain(abs(move), 1)} mm**."
        ),
        "judgement": (
            "A good entry quotes the remark that decides, in the rider's words and with the time, and says to whom and "
            "how soon, or that nothing named today stops the fit and that it will be asked again. It names no disease. "
            "It gives both knees, before and after the support, with the tool and its error: the support alone moved "
            "them, so the saddle waited. It plans one step of 5 mm, if the fit goes on; a ride; the same tool in "
            "the same hands; and back to the noted height if anything gets worse. One step is too small for this tool "
            "to prove, so the rider's own judgement counts. No promise of power or of protection."
        ),
    }


def _today(case: Case) -> str:
    if case.emergency:
        return "One remark stands in the first box of the list: stop, call the emergency number, stay (D)."
    if case.stops_fit:
        return "One remark names a sign that stops the fit: adjust nothing; physician or physiotherapist first (B)."
    return (
        "Nothing on the list was named. What sounds like it is ordinary: it is gone within hours or a night or two, or "
        "neither hurts nor swells. Go on in small steps and ask again (C)."
    )
