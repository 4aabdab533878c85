"""What the placeholders of the brief stand for, and the worked solution."""

import numpy as np

from pedalwright.force import work_by_sector_j

from .record import (
    ANGLES_DEG,
    ROWS,
    Record,
    best_sector,
    both_legs_power_w,
    effectiveness_pct,
    mean_torque_nm,
    number_of_largest,
    opposite_leg,
    opposite_torque_nm,
    sector_work_j,
)


def context(record: Record) -> dict[str, object]:
    """What the placeholders of the brief stand for."""
    down, forward = np.array(record.down_force_n), np.array(record.forward_force_n)
    rows = [
        {
            "angle": f"{angle:g}",
            "cos": plain(np.cos(np.radians(angle)), 3),
            "sin": plain(np.sin(np.radians(angle)), 3),
        }
        | {"forward": plain(ahead), "down": plain(below)}
        for angle, ahead, below in zip(ANGLES_DEG, forward, down, strict=True)
    ]
    return {
        "rider": record.rider,
        "wish": record.wish,
        "crank_length": f"{record.crank_length_mm:g}",
        "cadence": f"{record.cadence_rpm:g}",
        "rows": rows,
        "asked_angle": f"{record.asked_angle_deg:g}",
        "part_first": f"{record.part_deg[0]:g}",
        "part_last": f"{record.part_deg[1]:g}",
        "down_most": plain(down.max()),
        "down_most_at": f"{ANGLES_DEG[down.argmax()]:g}",
        "down_least": plain(down.min()),
        "down_least_at": f"{ANGLES_DEG[down.argmin()]:g}",
        "forward_most": plain(forward.max()),
        "forward_most_at": f"{ANGLES_DEG[forward.argmax()]:g}",
        "forward_least": plain(forward.min()),
        "forward_least_at": f"{ANGLES_DEG[forward.argmin()]:g}",
    }


def plain(number: float, places: int = 0) -> str:
    """A number with a real minus sign and without a negative nought."""
    return f"{round(float(number), places) + 0.0:.{places}f}".replace("-", "−")


def worked(record: Record) -> dict[str, str]:
    """A worked solution of each task."""
    parts, torque = record.on_crank, record.torque_nm
    row, lever = record.asked_row(), record.lever_m
    sector = int(best_sector(record))
    first, last = sector - 1, sector % ROWS
    left = (first + ROWS // 2) % ROWS
    left_end = (left + 1) % ROWS
    mean, opposite = mean_torque_nm(record), opposite_torque_nm(record, str(sector))
    rows = record.part_rows()
    useful, whole = parts.tangential_force_n, parts.resultant_force_n
    says = {
        "drives": "plus, so it still adds to the drive (A)",
        "holds-back": "minus, so it holds back and the right leg lifts it along (B)",
        "nothing": "near nothing (C)",
    }
    return {
        "torque": (
            f"Useful part = forward × cos + down × sin = {plain(record.forward_force_n[row])} × "
            f"({plain(np.cos(np.radians(record.asked_angle_deg)), 3)}) + {plain(record.down_force_n[row])} × "
            f"({plain(np.sin(np.radians(record.asked_angle_deg)), 3)}) = {plain(useful[row], 1)} N. "
            f"Torque = {plain(useful[row], 1)} N × {lever:.4g} m = **{plain(torque[row], 1)} N m**."
        ),
        "sector": (
            f"Reckon the useful part for every row. The two rows at the ends of a sector with the greatest mean are "
            f"{ANGLES_DEG[first]:g}° ({plain(useful[first])} N) and {ANGLES_DEG[last]:g}° ({plain(useful[last])} N): "
            f"**sector {sector}**. The whole push is greatest in sector "
            f"{number_of_largest(work_by_sector_j(whole, ROWS))}, and that is another question."
        ),
        "sector-work": (
            f"Mean torque of the sector = ({plain(torque[first], 1)} + {plain(torque[last], 1)}) / 2 N m. Its angle is "
            f"22.5° = 0.3927 radians. Work = **{plain(sector_work_j(record, str(sector)), 1)} J**."
        ),
        "mean-torque": (
            f"Mean of all sixteen useful parts, minus signs kept: {plain(useful.mean(), 1)} N. Times {lever:.4g} m = "
            f"**{plain(mean, 1)} N m**."
        ),
        "power": (
            f"{record.cadence_rpm:g} turns a minute = {record.cadence_rpm:g} × 2π / 60 = "
            f"{record.cadence_rpm * 2 * np.pi / 60:.2f} radians a second. One leg: {plain(mean, 2)} N m × "
            f"{record.cadence_rpm * 2 * np.pi / 60:.2f} = {plain(both_legs_power_w(record) / 2)} W. Two twin legs: "
            f"**{plain(both_legs_power_w(record))} W**."
        ),
        "effectiveness": (
            f"Sum of the useful parts of rows {record.part_deg[0]:g}° to {record.part_deg[1]:g}°: "
            f"{plain(useful[rows].sum())} N. Sum of the whole pushes √(forward² + down²): "
            f"{plain(whole[rows].sum())} N. "
            f"Index = **{plain(effectiveness_pct(record))} %**. It describes this push; it does not grade the rider."
        ),
        "opposite-torque": (
            f"Half a turn on from sector {sector} is sector {left + 1}, rows {ANGLES_DEG[left]:g}° and "
            f"{ANGLES_DEG[left_end]:g}°: ({plain(torque[left], 2)} + {plain(torque[left_end], 2)}) / 2 = "
            f"**{plain(opposite, 1)} N m**."
        ),
        "opposite-leg": f"The sign of that torque is {says[opposite_leg(opposite)]}.",
        "judgement": (
            "A good answer says: one leg, one effort and one shape are no reason to move anything. First check zero "
            "and crank length of the pedal, record again, and record the other leg. Ask about pain, numbness and "
            "earlier injury, and refer to a physician or physiotherapist when there is any. Effectiveness rises with "
            "power, and telling riders to raise it has not been shown to help."
        ),
    }
