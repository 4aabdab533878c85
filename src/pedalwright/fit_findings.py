"""What a case shows against stated windows, with how sure each verdict is."""

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from pedalwright.decision import INSIDE, NOT_SURE, OUTSIDE, decide
from pedalwright.fit_case import SIDES, Assessment
from pedalwright.fit_picture import Picture, picture
from pedalwright.foot import arch_class, arch_class_probability
from pedalwright.footbed_tier import SUPPORT_EVIDENCE, support_tier

# Support comes before alignment: what carries the foot and the pelvis is settled before the saddle is moved.
AREAS = ("foot support", "pelvic support", "saddle height", "saddle fore-aft")


@dataclass(frozen=True)
class Window:
    """Where a figure is commonly wanted, and how much that is worth.

    Parameters
    ----------
    area : str
        One of ``AREAS``.
    label : str
        Name of the figure in plain words.
    lower, upper : float
        Ends, infinite where open. [unit]
    unit : str
        Unit in print.
    evidence : str
        What the window rests on, in one sentence.
    source : str
        Bibliography key, or "common practice, no source".

    Examples
    --------
    >>> WINDOWS["knee_flexion_bottom_deg"].upper
    35.0
    """

    area: str
    label: str
    lower: float
    upper: float
    unit: str
    evidence: str
    source: str


WINDOWS = MappingProxyType(
    {
        "forefoot_tilt_left_deg": Window(
            "foot support", "forefoot tilt that nothing fills", -2.0, 2.0, "°",
            "Weak: six laboratory studies of wedges and footbeds found no effect on kinematics, comfort or power.",
            "common practice, no source",
        ),
        "bone_margin_mm": Window(
            "pelvic support", "margin of the sit bones inside the saddle's edge", 0.0, np.inf, "mm",
            "Weak: ten women, less pressure on a saddle 10 mm wider than the bones.", "lin_2023",
        ),
        "pelvic_obliquity_deg": Window(
            "pelvic support", "slope of the pelvis on the seat", -2.0, 2.0, "°",
            "None found that a small slope harms; bones alone differ by several millimetres between sides.",
            "common practice, no source",
        ),
        "knee_flexion_bottom_deg": Window(
            "saddle height", "knee flexion at the bottom, held still", 25.0, 35.0, "°",
            "Moderate for the window as a start; conflicting on economy; limited on injury.", "holmes_1994",
        ),
        "knee_over_pedal_mm": Window(
            "saddle fore-aft", "knee ahead of the pedal with the crank forward", -15.0, 15.0, "mm",
            "None found that it protects the knee; keeps the push near the tangent.", "common practice, no source",
        ),
    }
)  # fmt: skip


@dataclass(frozen=True)
class Finding:
    """One figure against its window.

    Parameters
    ----------
    figure : str
        A key of ``WINDOWS``, or "support tier".
    area : str
        One of ``AREAS``.
    side : str
        "right", "left" or "both".
    value : float
        Figure as measured or computed. [unit of the window]
    verdict : str
        "inside", "outside" or "not sure".
    probability_inside : float
        Probability that the figure lies in the window. [1]
    text : str
        The finding in plain words, with its evidence.

    Examples
    --------
    >>> Finding("bone_margin_mm", "pelvic support", "both", 3.0, "inside", 0.99, "fits").verdict
    'inside'
    """

    figure: str
    area: str
    side: str
    value: float
    verdict: str
    probability_inside: float
    text: str


def find(assessment: Assessment, confidence: float = 0.95) -> tuple[Finding, ...]:
    """Hold a case against the windows, each side for itself.

    Parameters
    ----------
    assessment : Assessment
        The case.
    confidence : float
        Probability from which a verdict is given, from 0.5 to below 1. [1]

    Returns
    -------
    tuple of Finding
        Findings in the order of ``AREAS``: support first, then alignment.

    Raises
    ------
    UnreachablePositionError
        If a leg cannot follow its pedal.
    OutOfRangeError
        If a measurement or the confidence is out of range.

    Notes
    -----
    *Convention*: windows of common practice with the evidence each has. A figure outside is a reason to look at the
    rider, not a fault of the rider.

    References
    ----------
    holmes_1994
    yeo_bonanno_2014
    lin_2023

    Examples
    --------
    >>> from pedalwright.fit_case import Foot, Rider, Setup
    >>> from pedalwright.position import Leg, Position
    >>> foot = Foot(0.34, 14.0, 2.0, 95.0)
    >>> rider = Rider(Leg(430, 430, 150), Leg(430, 430, 150), foot, foot, 120.0)
    >>> [f.verdict for f in find(Assessment(rider, Setup(Position(690, 150, 170), 140.0))) if f.area == "saddle height"]
    ['outside', 'outside']
    """
    figures = picture(assessment.rider, assessment.setup, assessment.push_n)
    found = [_tier(assessment, side, confidence) for side in SIDES]
    for figure, window in WINDOWS.items():
        for side, value, spread in _readings(figure, assessment, figures):
            decision = decide(value, spread, window.lower, window.upper, confidence=confidence)
            verdict, probability = str(decision.verdict), decision.probability_inside.item()
            found.append(
                Finding(figure, window.area, side, value, verdict, probability, _text(window, side, value, verdict))
            )
    return tuple(sorted(found, key=lambda finding: AREAS.index(finding.area)))


def _readings(figure: str, case: Assessment, figures: Picture) -> list[tuple[str, float, float]]:
    """Side, value and standard uncertainty of each reading of a figure."""
    if figure == "bone_margin_mm":
        return [("both", figures.bone_margin_mm, case.spread("sit_bone_width_mm") / 2)]
    if figure == "pelvic_obliquity_deg":
        return [("both", float(case.setup.pelvic_obliquity_deg), case.spread("pelvic_obliquity_deg"))]
    spread = case.spread(
        {"forefoot_tilt_left_deg": "forefoot_tilt_deg", "knee_flexion_bottom_deg": "knee_flexion_deg"}.get(
            figure, figure
        )
    )
    return [(side, float(getattr(figures.side(side), figure)), spread) for side in SIDES]


def _tier(case: Assessment, side: str, confidence: float) -> Finding:
    index, shoe = case.rider.foot(side).arch_index, case.setup.shoe(side)
    arch = str(arch_class(index))
    tier = str(support_tier(arch))
    sure = arch_class_probability(index, max(case.spread("arch_index"), 1e-9)).max().item()
    fits = shoe.footbed == tier
    verdict = (INSIDE if fits else OUTSIDE) if sure >= confidence else NOT_SURE
    text = (
        f"{side}: {arch} arch (probability {sure:.0%}), for which a {tier} footbed is usual; fitted: {shoe.footbed}. "
        + SUPPORT_EVIDENCE
    )
    return Finding("support tier", "foot support", side, index, verdict, sure if fits else 1 - sure, text)


def _text(window: Window, side: str, value: float, verdict: str) -> str:
    ends = [
        f"at least {window.lower:g}" if np.isfinite(window.lower) else "",
        f"at most {window.upper:g}" if np.isfinite(window.upper) else "",
    ]
    return (
        f"{side}: {window.label} {value:.1f} {window.unit}, {verdict} (window {' and '.join(filter(None, ends))}). "
        f"Evidence: {window.evidence}"
    )
