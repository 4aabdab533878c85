"""A whole fit: refer or go on, support first, then align; each change small, with its predicted effect."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from pedalwright.decision import INSIDE, NOT_SURE, OUTSIDE
from pedalwright.fit_case import Assessment, Setup, Shoe
from pedalwright.fit_findings import WINDOWS, Finding, find
from pedalwright.fit_picture import Picture, picture
from pedalwright.foot import arch_class
from pedalwright.footbed_tier import support_tier
from pedalwright.forefoot import USUAL_SHOE_WEDGE_MM, wedge_edge
from pedalwright.position import Position, raised, slid_back
from pedalwright.referral import Referral, refer
from pedalwright.targets import saddle_for_knee_flexion, setback_for_knee_over_pedal

# Largest change of one visit. Common practice, no source: small steps, ride, look again.
LARGEST_STEP_MM = {"saddle height": 10.0, "saddle fore-aft": 10.0}
# A saddle this much wider than the bones spread the pressure best in ten women.
SADDLE_WIDER_THAN_BONES_MM = 10.0

WHO_DECIDES = (
    "These are figures of models and windows of common practice, not a diagnosis. The rider decides what feels "
    "acceptable, the fitter proposes, and pain or doubt goes to a physician or physiotherapist."
)


_OPEN = {OUTSIDE: "Still open", NOT_SURE: "Measure again"}


@dataclass(frozen=True)
class Change:
    """One proposed change.

    Parameters
    ----------
    area : str
        One of ``fit_findings.AREAS``.
    side : str
        "right", "left" or "both".
    what : str
        The change in plain words, with its amount.
    because : Finding
        The finding it answers.
    setup : Setup
        The setup after it.

    Examples
    --------
    >>> sorted(field for field in Change.__dataclass_fields__)
    ['area', 'because', 'setup', 'side', 'what']
    """

    area: str
    side: str
    what: str
    because: Finding
    setup: Setup


@dataclass(frozen=True)
class Step:
    """A change with what it is predicted to change.

    Parameters
    ----------
    change : Change
        The change.
    before, after : Picture
        Figures before and after, all earlier changes in place.

    Examples
    --------
    >>> sorted(field for field in Step.__dataclass_fields__)
    ['after', 'before', 'change']
    """

    change: Change
    before: Picture
    after: Picture


@dataclass(frozen=True)
class FitPlan:
    """What a fitter would do with a case, in order.

    Parameters
    ----------
    referral : Referral
        What has to be looked at by others first.
    findings : tuple of Finding
        Findings before anything is changed.
    steps : tuple of Step
        Proposed changes: support first, then alignment. Empty if the fit stops.
    left : tuple of Finding
        Findings that are not inside after the last step.

    Examples
    --------
    >>> print(FitPlan(refer(["pregnancy"]), (), (), ()).text().splitlines()[0])
    The fit may go on with precautions. Urgency: before the next hard ride.
    """

    referral: Referral
    findings: tuple[Finding, ...]
    steps: tuple[Step, ...]
    left: tuple[Finding, ...]

    def text(self) -> str:
        """Say the plan in plain words, with who decides."""
        lines = [self.referral.text()]
        if self.referral.stops_fit:
            return "\n".join([*lines, WHO_DECIDES])
        lines += (
            ["Proposed, one at a time, riding after each:"] if self.steps else ["Nothing to change on these figures."]
        )
        lines += [f"{number}. {step.change.what}" for number, step in enumerate(self.steps, 1)]
        lines += [f"{_OPEN[finding.verdict]}: {finding.text}" for finding in self.left]
        return "\n".join([*lines, WHO_DECIDES])


def plan(assessment: Assessment, confidence: float = 0.95) -> FitPlan:
    """Plan a fit: refer or go on; support first, then align; predict the effect of each change.

    Parameters
    ----------
    assessment : Assessment
        The case.
    confidence : float
        Probability from which a finding counts as outside, from 0.5 to below 1. [1]

    Returns
    -------
    FitPlan
        Referral, findings, steps with predicted figures, what stays open.

    Raises
    ------
    UnreachablePositionError
        If a leg cannot follow its pedal in the present position.
    OutOfRangeError
        If a measurement is out of range or a reported finding is not on the list.

    Notes
    -----
    *Teaching model* for the predicted figures, *convention* for order and step sizes. Only what is surely outside is
    changed; what is not sure is measured again. Right and left are judged apart; where they ask for
    opposite changes of the saddle, nothing is changed and the finding stays open.

    References
    ----------
    holmes_1994
    yeo_bonanno_2014
    nhs_borders_lower_limb

    Examples
    --------
    >>> from pedalwright.fit_case import Foot, Rider
    >>> from pedalwright.position import Leg
    >>> foot = Foot(0.34, 14.0, 1.0, 95.0)
    >>> rider = Rider(Leg(430, 430, 150), Leg(430, 430, 150), foot, foot, 120.0)
    >>> low = Setup(Position(690, 150, 170), 140.0, right_shoe=Shoe("moderate"), left_shoe=Shoe("moderate"))
    >>> [step.change.what for step in plan(Assessment(rider, low)).steps if step.change.area == "saddle height"]
    ['Raise the saddle by 10 mm.']
    >>> plan(Assessment(rider, low, reported=("sudden foot drop",))).steps
    ()
    """
    referral = refer(assessment.reported)
    findings = find(assessment, confidence)
    if referral.stops_fit:
        return FitPlan(referral, findings, (), ())
    numb = any(flag.name == "numb feet or diabetes" for flag in referral.flags)
    case, steps = assessment, []
    for area, propose in _PROPOSALS.items():
        if numb and area == "foot support":
            continue
        for change in propose(case, [f for f in find(case, confidence) if f.area == area and f.verdict == OUTSIDE]):
            before = picture(case.rider, case.setup, case.push_n)
            case = replace(case, setup=_merged(case.setup, change))
            steps.append(Step(change, before, picture(case.rider, case.setup, case.push_n)))
    left = tuple(finding for finding in find(case, confidence) if finding.verdict != INSIDE)
    return FitPlan(referral, findings, tuple(steps), left)


def _merged(setup: Setup, change: Change) -> Setup:
    """Keep what an earlier change of the same area did to the other side."""
    if change.area != "foot support":
        return change.setup
    return setup.with_shoe(change.side, change.setup.shoe(change.side))


def _foot_support(case: Assessment, outside: list[Finding]) -> list[Change]:
    shoes: dict[str, Shoe] = {}
    changes = []
    for finding in outside:
        shoe, foot = shoes.get(finding.side, case.setup.shoe(finding.side)), case.rider.foot(finding.side)
        if finding.figure == "support tier":
            shoe = replace(shoe, footbed=str(support_tier(arch_class(foot.arch_index))))
            what = f"{finding.side}: try a footbed of {shoe.footbed} support."
        else:
            edge = str(wedge_edge(finding.value, 0.0))
            height = shoe.wedge_height_mm * (1 if shoe.wedge_edge == edge else -1) + USUAL_SHOE_WEDGE_MM
            height, edge = (height, edge) if height >= 0 else (-height, shoe.wedge_edge)
            shoe = replace(shoe, wedge_height_mm=height, wedge_edge=edge)
            what = f"{finding.side}: try a wedge of {height:g} mm in all, thick side under the {edge} edge."
        shoes[finding.side] = shoe
        changes.append(Change("foot support", finding.side, what, finding, case.setup.with_shoe(finding.side, shoe)))
    return changes


def _pelvic_support(case: Assessment, outside: list[Finding]) -> list[Change]:
    setup, changes = case.setup, []
    for finding in outside:
        if finding.figure == "bone_margin_mm":
            bearing = picture(case.rider, setup, case.push_n).bearing_width_mm
            setup = replace(setup, saddle_width_mm=bearing + SADDLE_WIDER_THAN_BONES_MM)
            what = f"Try a saddle at least {setup.saddle_width_mm:.0f} mm wide where the rider sits."
        else:
            setup = replace(setup, pelvic_obliquity_deg=0.0)
            what = (
                "Level the saddle, look at its wear and its rails, and measure the slope again; "
                "if it stays with a level saddle, leave it and refer the question."
            )
        changes.append(Change("pelvic support", "both", what, finding, setup))
    return changes


def _saddle_height(case: Assessment, outside: list[Finding]) -> list[Change]:
    window = WINDOWS["knee_flexion_bottom_deg"]
    middle = (window.lower + window.upper) / 2
    wanted = [_height_for_knee(case, finding.side, middle) for finding in outside]
    move = _agreed(wanted, LARGEST_STEP_MM["saddle height"])
    if move == 0:
        return []
    setup = replace(case.setup, position=_plain(raised(case.setup.position, move)))
    what = f"{'Raise' if move > 0 else 'Lower'} the saddle by {abs(move):.0f} mm."
    return [Change("saddle height", "both", what, outside[0], setup)]


def _saddle_fore_aft(case: Assessment, outside: list[Finding]) -> list[Change]:
    move = _agreed(
        [_back_for_knee_over_pedal(case, finding.side) for finding in outside], LARGEST_STEP_MM["saddle fore-aft"]
    )
    if move == 0:
        return []
    setup = replace(case.setup, position=_plain(slid_back(case.setup.position, move)))
    what = f"Slide the saddle {'back' if move > 0 else 'forward'} by {abs(move):.0f} mm."
    return [Change("saddle fore-aft", "both", what, outside[0], setup)]


_PROPOSALS: dict[str, Callable[[Assessment, list[Finding]], list[Change]]] = {
    "foot support": _foot_support,
    "pelvic support": _pelvic_support,
    "saddle height": _saddle_height,
    "saddle fore-aft": _saddle_fore_aft,
}


def _height_for_knee(case: Assessment, side: str, knee_flexion_deg: float) -> float:
    """How far to raise the saddle along its tube for a knee flexion at the bottom."""
    here, pedal = case.setup.position, case.setup.pedal_angle_deg
    wanted = saddle_for_knee_flexion(case.rider.leg(side), here, knee_flexion_deg, pedal_angle_deg=pedal)
    return float(np.asarray(wanted.saddle_height_mm) - np.asarray(here.saddle_height_mm))


def _back_for_knee_over_pedal(case: Assessment, side: str) -> float:
    """How far to slide the saddle back for the knee over the pedal."""
    here, pedal = case.setup.position, case.setup.pedal_angle_deg
    wanted = setback_for_knee_over_pedal(case.rider.leg(side), here, pedal_angle_deg=pedal)
    return float(np.asarray(wanted.saddle_setback_mm) - np.asarray(here.saddle_setback_mm))


def _agreed(moves: list[float], largest: float) -> float:
    """Smallest of the moves asked for, whole millimetres, none if they point in opposite directions."""
    if not moves or min(moves) * max(moves) <= 0:
        return 0.0
    smallest = min(moves, key=abs)
    return float(np.sign(smallest) * min(round(abs(smallest)), largest))


def _plain(position: Position) -> Position:
    return replace(
        position,
        saddle_height_mm=float(np.asarray(position.saddle_height_mm)),
        saddle_setback_mm=float(np.asarray(position.saddle_setback_mm)),
    )
