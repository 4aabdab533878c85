"""Wrong ways to the answers: what each leads to, and what to say about it."""

import numpy as np

from autograde.cases.writing import slips_on

from .mat import (
    ALONG_MM,
    COLUMNS,
    ROWS,
    THRESHOLD_KPA,
    Recording,
    area_cm2,
    change_pct,
    from_heel_mm,
    most_loaded_region,
    peak_kpa,
    rows_share_pct,
    spot_region,
    total_n,
)

PAGE = "foot-support"
START = "start"
OTHER_HALF = {"inner": "outer", "outer": "inner"}
slip = slips_on(PAGE)


def swapped(region: str) -> str:
    """The same part on the other side of the foot."""
    half, part = region.split()
    return f"{OTHER_HALF[half]} {part}"


def by_force(case: Recording) -> str | None:
    """Region of largest force, where that is neither the right answer nor its mirror."""
    region = most_loaded_region(case)
    return None if region in {spot_region(case), swapped(spot_region(case))} else region


def spot_from_heel_mm(case: Recording) -> float:
    """Place of the highest cell from the end of the heel."""
    row = int(np.argmax(case.pressure.pressure_kpa.max(axis=1)))
    return (row + 0.5) * ALONG_MM


def unweighted_mm(case: Recording) -> float:
    """Middle of the loaded cells, each counted alike."""
    loaded = case.pressure.pressure_kpa > THRESHOLD_KPA
    return float(((np.arange(ROWS) + 0.5) * ALONG_MM) @ loaded.sum(axis=1) / loaded.sum())


LOAD = (
    slip(
        "force",
        "area-forgotten",
        "added pressures as if they were forces",
        lambda case, _: float(case.pressure.pressure_kpa.sum()),
        "You added the pressures. A pressure becomes a force only with the area of its cell.",
    ),
    slip(
        "force",
        "factor-ten",
        "slipped by a factor of ten in the area",
        lambda case, _: 10 * total_n(case),
        "Your force is ten times too large: a kilopascal on a square centimetre is a tenth of a newton.",
        0.5,
    ),
    slip(
        "force",
        "peak-everywhere",
        "took the peak for the whole contact",
        lambda case, _: peak_kpa(case) * area_cm2(case) / 10,
        "You let the highest pressure act on the whole contact. Each cell has its own.",
    ),
    slip(
        "area",
        "whole-grid",
        "counted every cell of the mat",
        lambda case, _: ROWS * COLUMNS * case.pressure.cell_area_mm2 / 100,
        "You counted the whole mat. Only cells above the threshold are in contact.",
        0.25,
    ),
    slip(
        "area",
        "no-threshold",
        "counted cells below the threshold",
        lambda case, _: area_cm2(case, 0.0) if np.any(case.pressure.pressure_kpa == 0) else None,
        "You counted every cell that shows a number. Below the threshold the mat shows noise and folds.",
        0.5,
    ),
    slip(
        "area",
        "mm-for-cm",
        "gave square millimetres as square centimetres",
        lambda case, _: 100 * area_cm2(case),
        "Your number is in square millimetres. A square centimetre has a hundred of them.",
        0.5,
    ),
    slip(
        "area",
        "factor-ten",
        "slipped by a factor of ten in the area",
        lambda case, _: 10 * area_cm2(case),
        "Your area is ten times too large: a square centimetre has a hundred square millimetres, not ten.",
        0.5,
    ),
)

PLACE = (
    slip(
        "spot",
        "sides-swapped",
        "swapped the inner and the outer side",
        lambda case, _: swapped(spot_region(case)),
        "The part is right, the side is not. The map is seen from above: think where the big toe of this foot is.",
        0.25,
    ),
    slip(
        "spot",
        "largest-force",
        "took the region that carries most for the hot spot",
        lambda case, _: by_force(case),
        "You named the region that carries the largest force. A hot spot is the cell with the highest pressure, and a "
        "small place can have that with little force.",
        0.25,
    ),
    slip(
        "share",
        "toes-included",
        "counted the toes to the forefoot",
        lambda case, _: rows_share_pct(case, 6, 10),
        "You counted the toes to the forefoot. They are regions of their own here.",
        0.5,
    ),
    slip(
        "share",
        "from-the-toes",
        "counted the rows from the toes",
        lambda case, _: rows_share_pct(case, 2, 4),
        "You counted the rows from the toes. They are numbered from the heel.",
        0.25,
    ),
    slip(
        "share",
        "share-of-cells",
        "gave the share of the cells",
        lambda case, _: float(
            100
            * (case.pressure.pressure_kpa[6:8] > THRESHOLD_KPA).sum()
            / (case.pressure.pressure_kpa > THRESHOLD_KPA).sum()
        ),
        "You gave the share of the cells in contact. Asked is the share of the force.",
        0.25,
    ),
    slip(
        "along",
        "half-row-forgotten",
        "measured to the front edge of each row",
        lambda case, _: from_heel_mm(case) + ALONG_MM / 2,
        "You measured to the front edge of each row. The force of a cell acts in its middle.",
        0.5,
    ),
    slip(
        "along",
        "hot-spot",
        "took the hot spot for the centre",
        lambda case, _: spot_from_heel_mm(case),
        "You gave the place of the highest pressure. The centre weighs every cell by what it bears.",
        0.25,
    ),
    slip(
        "along",
        "unweighted",
        "counted each cell alike",
        lambda case, _: unweighted_mm(case),
        "You took the middle of the cells in contact. The centre weighs every cell by what it bears.",
        0.25,
    ),
    slip(
        "along",
        "from-the-toes",
        "counted the rows from the toes",
        lambda case, _: ROWS * ALONG_MM - from_heel_mm(case),
        "You measured from the toes. Asked is the distance from the heel.",
        0.5,
    ),
)

JUDGING = (
    slip(
        "change",
        "load-forgotten",
        "compared peaks at different loads",
        lambda case, _: 100 * (case.later_peak_kpa / peak_kpa(case) - 1),
        "You compared the two peaks as they stand. The second recording was made at another load, and that alone moves "
        "a peak.",
        0.25,
    ),
    slip(
        "change",
        "sign-turned",
        "turned less into more",
        lambda case, earlier: -change_pct(case, earlier["force"]),
        "The size fits, the sign does not: minus is a lower peak than before.",
        0.5,
    ),
    slip(
        "change",
        "load-upside-down",
        "multiplied by the load instead of dividing",
        lambda case, earlier: (
            100 * (case.later_peak_kpa * case.later_force_n / (peak_kpa(case) * earlier["force"]) - 1)
        ),
        "You multiplied peak and load. For the same load each peak is divided by its own force.",
        0.25,
    ),
    slip(
        "today",
        "passed-over-warning",
        "went on in spite of a warning sign",
        lambda case, _: "try" if case.has_sign else None,
        "You went on although the rider named a sign that belongs to a physician first. A foot that feels little or "
        "will not bear weight is not padded.",
        page=START,
    ),
    slip(
        "today",
        "referred-without-sign",
        "referred without a sign",
        lambda case, _: None if case.has_sign else "refer",
        "You referred although none of the signs was named. Read the list again: what stops a change, what does not?",
        0.25,
        page=START,
    ),
    slip(
        "today",
        "number-for-diagnosis",
        "took a pressure for a diagnosis",
        lambda _case, _earlier: "diagnose",
        "You named a disease from a map. A pressure is a number, and no limit is known above which a cyclist's foot is "
        "ill.",
        page=START,
    ),
)

MISCONCEPTIONS = LOAD + PLACE + JUDGING
