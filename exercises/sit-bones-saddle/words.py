"""What the placeholders of the brief stand for, and the worked solution."""

from autograde.cases.writing import plain

from .seat import (
    DENT_MM,
    MARGIN_MM,
    NARROWS_MM_PER_DEG,
    Seat,
    bearing_of,
    first_that_fits,
    margin_mm,
    right_load_n,
    sit_bone_width_mm,
    tread_needed_mm,
)


def context(case: Seat) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    imprints = [
        {"number": number, "left": f"{left:g}", "right": f"{right:g}"}
        for number, (left, right) in enumerate(zip(case.left_mm, case.right_mm, strict=True), start=1)
    ]
    saddles = [
        {"number": number, "overall": f"{overall:g}", "tread": f"{tread:g}"}
        for number, (overall, tread) in enumerate(zip(case.overall_mm, case.treads_mm, strict=True), start=1)
    ]
    return {
        "rider": case.rider,
        "answer": case.answer,
        "imprints": imprints,
        "saddles": saddles,
        "dent": f"{DENT_MM:g}",
        "narrows": f"{NARROWS_MM_PER_DEG:g}",
        "margin": f"{MARGIN_MM:g}",
        "roll": f"{case.roll_deg:g}",
        "trunk": f"{case.trunk_deg:g}",
        "own_tread": f"{case.own_tread_mm:g}",
        "own_overall": f"{case.own_overall_mm:g}",
        "load": f"{case.load_n:g}",
        "load_to": case.load_to,
        "across": f"{case.load_across_mm:g}",
    }


def worked(case: Seat) -> dict[str, str]:
    """A worked solution of each task."""
    width = sit_bone_width_mm(case)
    bearing = bearing_of(case, width)
    tread = tread_needed_mm(bearing)
    sums = [left + right for left, right in zip(case.left_mm, case.right_mm, strict=True)]
    sign = "+" if case.load_to == "right" else "−"
    chosen = first_that_fits(case.treads_mm, tread)
    return {
        "width": (
            f"Left and right are added in each imprint: {', '.join(f'{each:g}' for each in sums)} mm. Their mean is "
            f"**{plain(width, 1)} mm**."
        ),
        "bearing": (
            f"{plain(width, 1)} − {NARROWS_MM_PER_DEG:g} × {case.roll_deg:g} = **{plain(bearing, 1)} mm**. The angle "
            "of the trunk plays no part."
        ),
        "tread": f"{plain(bearing, 1)} + 2 × {MARGIN_MM:g} = **{plain(tread, 1)} mm**.",
        "margin": (
            f"({case.own_tread_mm:g} − {plain(bearing, 1)}) / 2 = **{plain(margin_mm(case, bearing), 1)} mm**"
            + (
                ". The bones overhang, and soft tissue bears what they do not."
                if margin_mm(case, bearing) < 0
                else ". The bones stand on the tread."
            )
        ),
        "saddle": (
            f"The narrowest tread of at least {plain(tread, 1)} mm: "
            + (f"saddle {chosen}." if chosen != "5" else "none of the four.")
        ),
        "right-load": (
            f"Moments about the left bone: {case.load_n:g} × ({plain(bearing, 1)} / 2 {sign} {case.load_across_mm:g}) "
            f"/ {plain(bearing, 1)} = **{plain(right_load_n(case, bearing))} N**."
        ),
        "today": (
            "Numbness that lasts or comes back, with or without more, stops the fit: no riding on this saddle, refer, "
            "and with trouble of the bladder at once (B)."
            if case.has_sign
            else "Nothing on the list of signs was named: a trial on the trainer, and ask again (C)."
        ),
        "judgement": (
            "A good answer says that the width was measured and repeats to about 2 mm, and that neither sex nor body "
            "size tells it. The narrowing with the roll is a model, and the margin comes from one study of ten "
            "women: both give a saddle to try, not a comfortable one. Say what you ask after some rides, in private "
            "and with consent, what makes you go back, and whom you send to a physician."
        ),
    }
