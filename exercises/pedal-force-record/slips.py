"""Wrong ways to the answers: what each leads to, and what to say about it."""

from collections.abc import Callable
from typing import Any

import numpy as np

from autograde.cases import Misconception
from pedalwright.force import power_w, resolve_on_crank, work_by_sector_j

from .record import (
    ANGLES_DEG,
    ROWS,
    Record,
    asked_torque_nm,
    best_sector,
    effectiveness_pct,
    mean_over_sector,
    mean_torque_nm,
    number_of_largest,
    opposite_leg,
    opposite_torque_nm,
    sector_work_j,
)

PAGE = "lever-tangency"

WHOLE_PUSH = (
    "You multiplied the whole push by the crank length. Only the part across the crank (along the tangent) turns it; "
    "the rest presses along the crank into the axle."
)
DIAMETER = "Your lever is twice the crank length. The lever arm goes from the axle to one pedal, not to both."
NO_LEVER = (
    "Your number is the useful force itself. A torque is that force times its lever arm, the crank length in metres."
)


def slip(
    task: str, name: str, label: str, predict: Callable[[Record, Any], Any], feedback: str, credit: float = 0.0
) -> Misconception:
    """One wrong way; all of them are treated on the same page."""
    return Misconception(name, task, label, predict, feedback, PAGE, credit)


def at_asked_row(record: Record, forward_n: Any, down_n: Any) -> float:
    """Torque of two force curves at the asked angle, once along the tangent."""
    parts = resolve_on_crank(np.asarray(forward_n), -np.asarray(down_n), ANGLES_DEG)
    return record.lever_m * float(parts.tangential_force_n[record.asked_row()])


def swapped(record: Record, _: Any) -> float:
    """Torque with sine and cosine the wrong way round."""
    angle, row = np.radians(record.asked_angle_deg), record.asked_row()
    mixed_n = record.forward_force_n[row] * np.sin(angle) + record.down_force_n[row] * np.cos(angle)
    return record.lever_m * float(mixed_n)


def rows_ratio_pct(record: Record, upper: np.ndarray, lower: np.ndarray) -> float:
    """Ratio of two sums over the stated rows."""
    rows = record.part_rows()
    return float(100 * upper[rows].sum() / lower[rows].sum())


def index_of_whole_turn_pct(record: Record, _: Any) -> float:
    """Index of effectiveness over all rows."""
    parts = record.on_crank
    return float(100 * parts.tangential_force_n.sum() / parts.resultant_force_n.sum())


def mean_with_minus_as(record: Record, change: Callable[[np.ndarray], np.ndarray]) -> float | None:
    """Mean torque after a wrong treatment of minus signs; None when there are none."""
    return float(np.mean(change(record.torque_nm))) if np.min(record.torque_nm) < -1e-6 else None


def half_a_turn_off(sector: str) -> str:
    """Number of the sector opposite."""
    return str((int(sector) - 1 + ROWS // 2) % ROWS + 1)


def torque_of_sector_nm(record: Record, earlier: Any, later_by: int = 0) -> float:
    """Mean torque of the named sector, or of one so many sectors later."""
    return mean_over_sector(record.torque_nm, int(earlier["sector"]) - 1 + later_by)


def one_leg_w(record: Record, earlier: Any) -> float:
    """Power of one leg from its mean torque."""
    return float(power_w(earlier["mean-torque"], record.cadence_rpm))


def unless_true(earlier: Any, wrong: str) -> str | None:
    """A belief about the left leg, where the trainee's own torque speaks against it."""
    return None if opposite_leg(earlier["opposite-torque"]) == wrong else wrong


TORQUE = (
    slip(
        "torque",
        "whole-push",
        "took the whole push for the useful part",
        lambda case, _: case.lever_m * float(case.on_crank.resultant_force_n[case.asked_row()]),
        WHOLE_PUSH,
    ),
    slip(
        "torque",
        "down-force-only",
        "took the down force for the useful part",
        lambda case, _: case.lever_m * case.down_force_n[case.asked_row()],
        "You used the down force as it stands. It is useful in full only where the crank points forward. Elsewhere "
        "take its part along the tangent, and add that of the forward force.",
    ),
    slip(
        "torque",
        "sine-cosine-swapped",
        "swapped sine and cosine",
        swapped,
        "You swapped sine and cosine. Check with the crank at the top: there only the forward force turns it.",
        credit=0.25,
    ),
    slip(
        "torque",
        "sign-of-down-force",
        "counted the push down as a pull up",
        lambda case, _: at_asked_row(case, case.forward_force_n, np.negative(case.down_force_n)),
        "You counted a push down as if it were a pull up. With the crank forward a push down drives.",
        credit=0.25,
    ),
    slip(
        "torque",
        "crank-diameter",
        "took twice the crank length as lever",
        lambda case, _: 2 * asked_torque_nm(case),
        DIAMETER,
        credit=0.25,
    ),
    slip(
        "torque",
        "millimetres-as-metres",
        "used millimetres as metres",
        lambda case, _: 1000 * asked_torque_nm(case),
        "Your result is a thousand times too large: the crank length went in as millimetres where metres belong.",
        credit=0.5,
    ),
    slip(
        "torque",
        "lever-forgotten",
        "gave the force instead of the torque",
        lambda case, _: float(case.on_crank.tangential_force_n[case.asked_row()]),
        NO_LEVER,
    ),
)

SECTOR = (
    slip(
        "sector",
        "greatest-push",
        "took the sector of the greatest push",
        lambda case, _: number_of_largest(work_by_sector_j(case.on_crank.resultant_force_n, ROWS)),
        "You named the sector in which the foot pushes hardest. The most useful work is where the part along the "
        "tangent is greatest, and that is not the same place.",
    ),
    slip(
        "sector",
        "counted-from-bottom",
        "counted the sectors from the bottom",
        lambda case, _: half_a_turn_off(best_sector(case)),
        "Your sector is half a turn away: sectors are numbered from the top, in the direction of pedalling.",
        credit=0.5,
    ),
    slip(
        "sector-work",
        "degrees-for-radians",
        "multiplied the torque by degrees",
        lambda case, earlier: float(np.degrees(sector_work_j(case, earlier["sector"]))),
        "You multiplied the torque by the angle in degrees. Work is torque times the angle in radians.",
        credit=0.5,
    ),
    slip(
        "sector-work",
        "torque-as-work",
        "gave the torque as work",
        torque_of_sector_nm,
        "Your number is the mean torque of the sector. Work is that torque times the angle it acts through, in "
        "radians.",
    ),
    slip(
        "sector-work",
        "crank-diameter",
        "took twice the crank length as lever",
        lambda case, earlier: 2 * sector_work_j(case, earlier["sector"]),
        DIAMETER,
        credit=0.25,
    ),
    slip(
        "sector-work",
        "whole-turn-angle",
        "multiplied by a whole turn",
        lambda case, earlier: ROWS * sector_work_j(case, earlier["sector"]),
        "You multiplied by the angle of a whole turn. A sector is one of sixteen equal parts of it.",
        credit=0.25,
    ),
)

MEAN_AND_POWER = (
    slip(
        "mean-torque",
        "whole-push",
        "took the whole push for the useful part",
        lambda case, _: case.lever_m * float(np.mean(case.on_crank.resultant_force_n)),
        WHOLE_PUSH,
    ),
    slip(
        "mean-torque",
        "rising-half-as-push",
        "dropped the minus signs of the rising half",
        lambda case, _: mean_with_minus_as(case, np.abs),
        "You added up all torques as if they drove. Where the useful part has a minus sign the leg holds the crank "
        "back, and that is taken off the mean.",
        credit=0.25,
    ),
    slip(
        "mean-torque",
        "rising-half-left-out",
        "set the torques below zero to nothing",
        lambda case, _: mean_with_minus_as(case, lambda torque: np.maximum(torque, 0.0)),
        "You set the rows with a minus sign to nothing. The leg does hold the crank back there, and that is taken off "
        "the mean.",
        credit=0.25,
    ),
    slip(
        "mean-torque",
        "falling-half-only",
        "averaged over the falling half alone",
        lambda case, _: float(np.mean(case.torque_nm[: ROWS // 2])),
        "You averaged the way down alone. The mean over the turn needs all sixteen rows.",
    ),
    slip(
        "mean-torque",
        "crank-diameter",
        "took twice the crank length as lever",
        lambda case, _: 2 * mean_torque_nm(case),
        DIAMETER,
        credit=0.25,
    ),
    slip(
        "mean-torque",
        "lever-forgotten",
        "gave the force instead of the torque",
        lambda case, _: float(np.mean(case.on_crank.tangential_force_n)),
        NO_LEVER,
    ),
    slip(
        "power",
        "one-leg-only",
        "gave the power of one leg",
        one_leg_w,
        "This is the power of one leg. Both legs were asked, and the left one does the same.",
        credit=0.5,
    ),
    slip(
        "power",
        "counted-legs-twice",
        "doubled for the second leg twice",
        lambda case, earlier: 4 * one_leg_w(case, earlier),
        "You doubled for the second leg twice. Two legs make twice the power of one.",
        credit=0.5,
    ),
    slip(
        "power",
        "two-pi-forgotten",
        "took turns a second for radians a second",
        lambda case, earlier: 2 * earlier["mean-torque"] * case.cadence_rpm / 60,
        "You multiplied by turns a second. A turn has 2π radians, and power is torque times radians a second.",
        credit=0.25,
    ),
    slip(
        "power",
        "cadence-as-radians",
        "took turns a minute for radians a second",
        lambda case, earlier: 2 * earlier["mean-torque"] * case.cadence_rpm,
        "You multiplied by the cadence as it stands. Power is torque times radians a second, and the cadence is in "
        "turns a minute.",
    ),
    slip(
        "power",
        "per-minute",
        "took radians a minute for radians a second",
        lambda case, earlier: 2 * 60 * one_leg_w(case, earlier),
        "You reckoned with radians a minute. A watt is a joule a second.",
        credit=0.25,
    ),
)

EFFECTIVENESS = (
    slip(
        "effectiveness",
        "ratio-inverted",
        "turned the ratio upside down",
        lambda case, _: rows_ratio_pct(case, case.on_crank.resultant_force_n, case.on_crank.tangential_force_n),
        "Your ratio is upside down: the useful part belongs above the whole push, so that it cannot pass one.",
        credit=0.25,
    ),
    slip(
        "effectiveness",
        "lost-share",
        "gave the share that is lost",
        lambda case, _: 100 - effectiveness_pct(case),
        "You gave the share of the push that is left over. The index is the share that turns the crank.",
        credit=0.25,
    ),
    slip(
        "effectiveness",
        "whole-turn-index",
        "took the whole turn instead of the stated part",
        index_of_whole_turn_pct,
        "You took all rows of the turn. The question is about a part of it, and the index differs a lot between parts.",
        credit=0.5,
    ),
    slip(
        "effectiveness",
        "down-force-only",
        "took the down force for the useful part",
        lambda case, _: rows_ratio_pct(case, np.array(case.down_force_n), case.on_crank.resultant_force_n),
        "You counted the whole down force as useful. Only its part along the tangent is, together with that of the "
        "forward force.",
    ),
)

OTHER_LEG = (
    slip(
        "opposite-torque",
        "same-crank-angle",
        "read the left leg at the right crank's angle",
        torque_of_sector_nm,
        "You read the left leg at the same crank angle as the right. The cranks are opposite: the left one is half a "
        "turn further.",
    ),
    slip(
        "opposite-torque",
        "sign-turned",
        "turned the sign of the left leg",
        lambda case, earlier: -opposite_torque_nm(case, earlier["sector"]),
        "The size fits, the sign does not. On the way up, too, plus drives and minus holds back: look at the sign of "
        "the tangential part half a turn later.",
        credit=0.25,
    ),
    slip(
        "opposite-torque",
        "rising-leg-idle",
        "took the rising leg to do nothing",
        lambda _case, _earlier: 0.0,
        "You let the rising leg do nothing. The record shows a force on that pedal too; it is seldom exactly nothing.",
    ),
    slip(
        "opposite-torque",
        "quarter-turn",
        "read the left leg a quarter turn later",
        lambda case, earlier: torque_of_sector_nm(case, earlier, ROWS // 4),
        "You read the left leg a quarter of a turn further. Opposite cranks are half a turn apart, eight sectors.",
        credit=0.25,
    ),
    slip(
        "opposite-leg",
        "rising-leg-always-drives",
        "held that a rising leg drives",
        lambda _, earlier: unless_true(earlier, "drives"),
        "Your own torque for the left leg does not say that it drives. Riders seldom pull up hard enough to lift the "
        "whole leg.",
    ),
    slip(
        "opposite-leg",
        "rising-leg-always-holds-back",
        "held that a rising leg holds back",
        lambda _, earlier: unless_true(earlier, "holds-back"),
        "Your own torque for the left leg does not say that it holds back. Read this rider's record rather than a "
        "rule.",
    ),
    slip(
        "opposite-leg",
        "rising-leg-idle",
        "took the rising leg to do nothing",
        lambda _, earlier: unless_true(earlier, "nothing"),
        "You let the rising leg do nothing, but your own torque for it says otherwise.",
    ),
)

MISCONCEPTIONS = TORQUE + SECTOR + MEAN_AND_POWER + EFFECTIVENESS + OTHER_LEG
