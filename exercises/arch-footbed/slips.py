"""Wrong ways to the answers: what each leads to, and what to say about it."""

from typing import Any

from autograde.cases.writing import slips_on
from pedalwright.foot import ARCH_NORMS

from .arches import NORM, away_sd, class_of, gives_mm_per_kn, index_of, kept_pct, sitting_index_of, tier_of

PAGE = "foot-support"
START = "start"
OPPOSITE = {"low": "high", "high": "low"}
slip = slips_on(PAGE)


def split_at_mean(earlier: Any) -> str | None:
    """Class of someone for whom every arch is high or low."""
    if class_of(earlier["away"]) != "medium":
        return None
    return "high" if earlier["away"] > 0 else "low"


def reversed_tier(earlier: Any) -> str | None:
    """Tier of someone for whom a low arch needs most."""
    return tier_of(OPPOSITE[earlier["class"]]) if earlier["class"] in OPPOSITE else None


INDEX = (
    slip(
        "index",
        "whole-length",
        "divided by the whole length of the foot",
        lambda case, _: case.asked.standing_mm / case.asked.total_mm,
        "You divided by the whole length. The norm belongs to the length from the heel to the joint of the big toe; "
        "by the whole length every arch looks low.",
        0.25,
    ),
    slip(
        "index",
        "sitting-height",
        "took the height sitting",
        lambda case, _: sitting_index_of(case.asked),
        "You took the height while sitting. The norm is that of the standing foot, which carries more and is lower.",
        0.25,
    ),
    slip(
        "index",
        "feet-averaged",
        "averaged right and left",
        lambda case, _: (index_of(case.asked) + index_of(case.other)) / 2,
        "You averaged the two feet. Nobody rides on an average foot: right and left are kept apart.",
    ),
    slip(
        "index",
        "upside-down",
        "turned the ratio upside down",
        lambda case, _: 1 / index_of(case.asked),
        "Your ratio is upside down: the index is height over length.",
        0.25,
    ),
    slip(
        "away",
        "sign-turned",
        "turned above into below",
        lambda _, earlier: -away_sd(earlier["index"]),
        "The size fits, the side does not: plus is an arch above the mean.",
        0.5,
    ),
    slip(
        "away",
        "sitting-norm",
        "took the norm of the sitting foot",
        lambda _, earlier: (earlier["index"] - ARCH_NORMS["sitting"].mean) / NORM.standard_deviation,
        "You held a standing foot against the norm of sitting feet. Under load an arch is lower.",
        0.25,
    ),
    slip(
        "away",
        "not-scaled",
        "gave the plain difference",
        lambda _, earlier: earlier["index"] - NORM.mean,
        "You gave the difference of the indices. Divide it by the standard deviation to see whether it is much.",
        0.25,
    ),
    slip(
        "class",
        "sides-swapped",
        "took above the mean for a low arch",
        lambda _, earlier: OPPOSITE.get(class_of(earlier["away"])),
        "You swapped the sides. An index above the mean belongs to a high arch.",
    ),
    slip(
        "class",
        "split-at-mean",
        "called every arch high or low",
        lambda _, earlier: split_at_mean(earlier),
        "You called an arch high or low as soon as it differs from the mean. Within one standard deviation it is "
        "called medium.",
        0.25,
    ),
    slip(
        "class",
        "all-medium",
        "called an arch medium that lies outside the limits",
        lambda _, earlier: None if class_of(earlier["away"]) == "medium" else "medium",
        "You called the arch medium. Your own distance from the mean is more than one standard deviation.",
        0.25,
    ),
)

LOADED = (
    slip(
        "kept",
        "loss-given",
        "gave what is lost",
        lambda case, _: 100 - kept_pct(case.asked),
        "You gave what is lost on standing up. Asked is what is left.",
        0.5,
    ),
    slip(
        "kept",
        "upside-down",
        "turned the ratio upside down",
        lambda case, _: 1e4 / kept_pct(case.asked),
        "You compared sitting with standing. An arch that is higher under load is a ratio upside down.",
        0.25,
    ),
    slip(
        "gives",
        "whole-weight",
        "took the whole body weight for the added load",
        lambda case, _: gives_mm_per_kn(case.asked, case.mass_kg) * 0.4,
        "You divided by the whole body weight. Two feet share it when standing, and the sitting foot carries some too.",
        0.25,
    ),
    slip(
        "gives",
        "sitting-load-forgotten",
        "forgot the load of the sitting foot",
        lambda case, _: gives_mm_per_kn(case.asked, case.mass_kg) * 0.8,
        "You took half of the weight for the added load. The sitting foot already carried a tenth.",
        0.5,
    ),
    slip(
        "gives",
        "for-each-newton",
        "gave millimetres for each newton",
        lambda case, _: gives_mm_per_kn(case.asked, case.mass_kg) / 1000,
        "Your number is for each newton, and you wrote it for each kilonewton.",
        0.5,
    ),
    slip(
        "gives",
        "mass-for-force",
        "took a kilogram for a newton",
        lambda case, _: gives_mm_per_kn(case.asked, case.mass_kg) * 9.80665,
        "You divided by kilograms as if they were newtons. A mass of one kilogram weighs nearly ten newtons.",
        0.25,
    ),
)

JUDGING = (
    slip(
        "tier",
        "reversed",
        "gave the lowest arch the most support",
        lambda _, earlier: reversed_tier(earlier),
        "You turned the habit around. A high arch leaves most room to fill; under a low one the same footbed presses.",
    ),
    slip(
        "tier",
        "more-is-better",
        "took more support for better",
        lambda _, earlier: "significant" if earlier["class"] == "medium" else None,
        "You took the strongest there is. The habit of the trade goes by the class of the arch; more is not better.",
    ),
    slip(
        "today",
        "passed-over-warning",
        "fitted a footbed in spite of a warning sign",
        lambda case, _: "try" if case.has_sign else None,
        "You fitted a footbed although the rider named a sign that belongs to a physician first. A foot that feels "
        "little does not tell when a hard edge presses.",
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
        "treatment",
        "sold a footbed as a treatment",
        lambda _case, _earlier: "treat",
        "You sold a footbed as a treatment. An index is a number, not a disease, and a fitter treats nothing.",
        page=START,
    ),
)

MISCONCEPTIONS = INDEX + LOADED + JUDGING
