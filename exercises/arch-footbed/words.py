"""What the placeholders of the brief stand for, and the worked solution."""

from autograde.cases.writing import plain

from .arches import NORM, Feet, Foot, away_sd, class_of, gives_mm_per_kn, index_of, kept_pct, tier_of

TIER_LETTERS = {"significant": "A", "mild": "B", "moderate": "C"}
CLASS_LETTERS = {"low": "A", "medium": "B", "high": "C"}


def context(case: Feet) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    feet = {case.side: case.asked, "left" if case.side == "right" else "right": case.other}
    rows = [
        {"name": name, "right": f"{read(feet['right']):g}", "left": f"{read(feet['left']):g}"}
        for name, read in (
            ("whole length, heel to longest toe", lambda foot: foot.total_mm),
            ("length from the heel to the joint of the big toe", lambda foot: foot.truncated_mm),
            ("height of the top of the foot at half of the whole length, sitting", lambda foot: foot.sitting_mm),
            ("the same, standing on both feet", lambda foot: foot.standing_mm),
        )
    ]
    return {
        "rider": case.rider,
        "answer": case.answer,
        "side": case.side,
        "mass": f"{case.mass_kg:g}",
        "rows": rows,
        "mean": f"{NORM.mean:.3f}",
        "spread": f"{NORM.standard_deviation:.3f}",
    }


def worked(case: Feet) -> dict[str, str]:
    """A worked solution of each task."""
    foot: Foot = case.asked
    index, away = index_of(foot), away_sd(index_of(foot))
    kind = class_of(away)
    load_n = 0.4 * case.mass_kg * 9.81
    return {
        "index": (
            f"The {case.side} foot, standing: {plain(foot.standing_mm, 1)} / {foot.truncated_mm:g} = "
            f"**{plain(index, 3)} as a plain ratio**."
        ),
        "away": (
            f"({plain(index, 3)} − {NORM.mean:.3f}) / {NORM.standard_deviation:.3f} = "
            f"**{plain(away, 2)} standard deviations**."
        ),
        "class": (
            f"{'Within' if kind == 'medium' else 'Beyond'} one standard deviation: {kind} ({CLASS_LETTERS[kind]})."
        ),
        "kept": (
            f"{plain(foot.standing_mm, 1)} / {plain(foot.sitting_mm, 1)} = **{plain(kept_pct(foot), 1)} %**. The "
            "length falls out of the ratio."
        ),
        "gives": (
            f"The arch sank {plain(foot.sitting_mm - foot.standing_mm, 1)} mm while the load grew by 0.4 × "
            f"{case.mass_kg:g} × 9.81 = {load_n:.0f} N: **{plain(gives_mm_per_kn(foot, case.mass_kg), 1)} mm/kN**."
        ),
        "tier": (
            f"By habit, {kind} arch, {tier_of(kind)} support: {TIER_LETTERS[tier_of(kind)]}. A high arch leaves most "
            "room to fill. It is a place to start, not a finding."
        ),
        "today": (
            "Feeling or strength of the foot is changed: no footbed before a physician has looked at it (A)."
            if case.has_sign
            else "Nothing on the list of signs was named: try it, ask, note, look again (B)."
        ),
        "judgement": (
            "A good answer says that by these limits about one healthy foot in three is called low or high, so that no "
            "class is a fault. The norm comes from one sample and from memory, and a millimetre on the gauge moves the "
            "index by a fifth of a standard deviation; near a limit another fitter may name another class. The two "
            "feet are named apart. Small studies found more contact and a feeling of support, and no change of motion, "
            "comfort or power. So: try, ask, keep it only when the rider wants to keep it."
        ),
    }
