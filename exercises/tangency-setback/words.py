"""What the placeholders of the brief stand for, and the worked solution."""

from .rider import (
    TRIAL_MM,
    Measured,
    height_change_mm,
    knee_offset_mm,
    lean_deg,
    move_mm,
    share_pct,
    travel_mm,
)


def side(offset_mm: float) -> str:
    """A distance and its side in words."""
    return f"{abs(offset_mm):g} mm {'ahead of' if offset_mm >= 0 else 'behind'}"


def plain(number: float, places: int = 0) -> str:
    """A number with a real minus sign and without a negative nought."""
    return f"{round(float(number), places) + 0.0:.{places}f}".replace("-", "−")


def context(case: Measured) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    return {
        "rider": case.rider,
        "answer": case.answer,
        "crank_length": f"{case.crank_length_mm:g}",
        "saddle_height": f"{case.saddle_height_mm:g}",
        "saddle_setback": f"{case.saddle_setback_mm:g}",
        "front": side(case.front_ahead_mm),
        "front_after": side(case.front_after_trial_mm),
        "depth": f"{case.front_to_centre_mm:g}",
        "knee_height": f"{case.knee_height_mm:g}",
        "trial": f"{TRIAL_MM:g}",
    }


def worked(case: Measured) -> dict[str, str]:
    """A worked solution of each task."""
    offset, travel = knee_offset_mm(case), travel_mm(case)
    lean, back = lean_deg(case, offset), move_mm(offset, travel)
    change = height_change_mm(case, back)
    level = (case.saddle_height_mm**2 - case.saddle_setback_mm**2) ** 0.5
    new_setback = case.saddle_setback_mm + back
    return {
        "knee-offset": (
            f"The front is {side(case.front_ahead_mm)} the axle, and the centre {case.front_to_centre_mm:g} mm "
            f"further back: {plain(case.front_ahead_mm)} − {case.front_to_centre_mm:g} = **{plain(offset)} mm**."
        ),
        "lean": (
            f"Ratio {plain(offset)} / {case.knee_height_mm:g} = {plain(offset / case.knee_height_mm, 4)}; its "
            f"inverse tangent is **{plain(lean, 2)} °**."
        ),
        "useful-share": (
            f"The cosine of {plain(lean, 2)}° is {share_pct(lean) / 100:.4f}: **{share_pct(lean):.2f} %**. Standing "
            f"exactly over the axle would gain {100 - share_pct(lean):.2f} %: nothing anybody can feel."
        ),
        "travel": (
            f"The plumb line moved from {plain(case.front_ahead_mm)} to {plain(case.front_after_trial_mm)} mm while "
            f"the saddle moved {TRIAL_MM:g} mm: **{plain(travel, 1)} mm** for each 10 mm. The foot holds the lower "
            "end of the shank."
        ),
        "move": (
            f"{plain(abs(offset))} mm / {plain(travel, 1)} mm × 10 mm: **{plain(abs(back), 1)} mm** "
            f"{'back' if back > 0 else 'forward'}."
        ),
        "height": (
            f"The saddle stands √({case.saddle_height_mm:g}² − {case.saddle_setback_mm:g}²) = {level:.1f} mm above "
            f"the bottom bracket and stays there. Setback after the move: {new_setback:.1f} mm. Distance "
            f"√({level:.1f}² + {new_setback:.1f}²) = {case.saddle_height_mm - change:.1f} mm instead of "
            f"{case.saddle_height_mm:g} mm: {'lower' if change < 0 else 'raise'} **{plain(abs(change), 1)} mm**."
        ),
        "also-changes": "The hips move back and a little away from the pedals, the hands stay: B, C and E.",
        "today": (
            "A knee that swells, locks or gives way stops the fit: change nothing, say so calmly, refer (C)."
            if case.has_sign
            else "Nothing on the list of signs was named: go on in small steps, and look again after some rides (B)."
        ),
        "judgement": (
            "A good answer calls the plumb line a customary starting place. No study shows that it protects the "
            "knee, and studies of the setback disagree about the load in it. The useful share of the push hardly "
            "changes, and the reading itself repeats to 2 mm only. Say what happens next in the light of what the "
            "rider told you, and look again."
        ),
    }
