"""What the placeholders of the brief stand for, and the worked solution."""

from autograde.cases.writing import plain

from .mat import (
    ALONG_MM,
    REGIONS,
    ROWS,
    THRESHOLD_KPA,
    Recording,
    area_cm2,
    change_pct,
    forefoot_share_pct,
    from_heel_mm,
    peak_kpa,
    spot_region,
    total_n,
)


def part_of_row(row: int) -> str:
    """Name of the part of the foot a row belongs to."""
    return "heel" if row < 3 else "midfoot" if row < 6 else "forefoot" if row < 8 else "toes"


def context(case: Recording) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    rows = [
        {"number": row + 1, "part": part_of_row(row), "cells": [f"{each:g}" for each in case.pressure_kpa[row]]}
        for row in reversed(range(ROWS))
    ]
    return {
        "rider": case.rider,
        "answer": case.answer,
        "side": case.side,
        "rows": rows,
        "across": f"{case.across_mm:g}",
        "along": f"{ALONG_MM:g}",
        "threshold": f"{THRESHOLD_KPA:g}",
        "later_force": f"{case.later_force_n:g}",
        "later_peak": f"{case.later_peak_kpa:g}",
    }


def worked(case: Recording) -> dict[str, str]:
    """A worked solution of each task."""
    cells = case.pressure.pressure_kpa
    force, area = total_n(case), case.pressure.cell_area_mm2
    loaded = int((cells > THRESHOLD_KPA).sum())
    region = spot_region(case)
    before, after = peak_kpa(case) / force, case.later_peak_kpa / case.later_force_n
    return {
        "force": (
            f"All cells together {cells.sum():g} kPa; a cell has {case.across_mm:g} × {ALONG_MM:g} = {area:g} mm². "
            f"{cells.sum():g} × 0.001 × {area:g} = **{plain(force, 1)} N**."
        ),
        "area": (
            f"{loaded} cells above {THRESHOLD_KPA:g} kPa, each {area / 100:g} cm²: **{plain(area_cm2(case), 1)} cm²**."
        ),
        "spot": (
            f"The highest cell has {peak_kpa(case):g} kPa. Seen from above, the big toe of the {case.side} foot is on "
            f"the {'left' if case.side == 'right' else 'right'}: {region} ({'ABCDEFGH'[REGIONS.index(region)]})."
        ),
        "share": (
            f"Rows 7 and 8 hold {cells[6:8].sum():g} of {cells.sum():g} kPa: **{plain(forefoot_share_pct(case), 1)} "
            f"%**. All cells are alike, so the areas fall out."
        ),
        "along": (
            f"Sum of each row times the distance of its middle ({ALONG_MM / 2:g}, {1.5 * ALONG_MM:g}, … mm), over the "
            f"sum of all: **{plain(from_heel_mm(case), 1)} mm**."
        ),
        "change": (
            f"Before: {peak_kpa(case):g} / {plain(force, 1)} = {before:.4f} kPa for each newton; after: "
            f"{case.later_peak_kpa:g} / {case.later_force_n:g} = {after:.4f}. Change: "
            f"**{plain(change_pct(case, force), 1)} %**."
        ),
        "today": (
            "The rider named a sign that belongs to a physician first: change nothing, say so calmly, refer (C); a "
            "foot that will not bear weight after a fall is an emergency."
            if case.has_sign
            else "Nothing on the list of signs was named: one change, ask, record again at the same load (B)."
        ),
        "judgement": (
            "A good answer compares peak with load and puts the change beside the 5 % to which a peak repeats. One "
            "cell can be a fold of the mat, so it looks at the neighbours and records again, at the same power and "
            "cadence. No limit is known above which a cyclist's foot is ill, and a lower peak is no cure. What counts "
            "beside the map is whether the rider feels better on the next long ride; where a sign was named, a "
            "physician comes first."
        ),
    }
