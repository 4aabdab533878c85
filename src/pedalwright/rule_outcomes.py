"""What the saddle rules mean for a rider's knee, and the windows of knee flexion that fitters aim at."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from pedalwright._choices import chosen
from pedalwright._typing import Floats, Numbers, Truths
from pedalwright.constants import Standing
from pedalwright.errors import checked
from pedalwright.position import Leg, Position, saddle_point_mm
from pedalwright.saddle_rules import saddle_height_rule_mm
from pedalwright.stroke import solve_stroke


@dataclass(frozen=True)
class FlexionWindow:
    """A window of knee flexion near the bottom of the stroke that fitters aim at.

    Parameters
    ----------
    low_deg, high_deg : float
        Ends of the window. [°]
    how : str
        ``static`` (held still at the bottom) or ``dynamic`` (least flexion while pedalling).
    standing : str
        As in ``Constant``.
    source : str
        Bibliography key.
    remark : str
        What is known of it.

    Examples
    --------
    >>> KNEE_FLEXION_WINDOWS["static 25–35"].high_deg
    35.0
    """

    low_deg: float
    high_deg: float
    how: str
    standing: Standing
    source: str
    remark: str


DEFAULT_WINDOW = "static 25–35"

KNEE_FLEXION_WINDOWS: Mapping[str, FlexionWindow] = MappingProxyType(
    {
        "static 25–35": FlexionWindow(
            25.0,
            35.0,
            "static",
            "from memory",
            "holmes_1994",
            "Default: the window most often taught. It is about as wide as the error between two raters.",
        ),
        "static 25–30": FlexionWindow(
            25.0,
            30.0,
            "static",
            "from memory",
            "bini_2011",
            "A review's preference; economy was better at 25° than at 109 % of the inseam in one study.",
        ),
        "dynamic 33–43": FlexionWindow(
            33.0,
            43.0,
            "dynamic",
            "common practice",
            "",
            "Often quoted for the least flexion while pedalling, which is larger than at rest.",
        ),
    }
)


@dataclass(frozen=True)
class RuleOutcome:
    """What a saddle rule means for a rider's knee.

    Parameters
    ----------
    saddle_height_mm : numpy.ndarray
        Saddle height of the rule. [mm]
    bottom_knee_flexion_deg : numpy.ndarray
        Knee flexion with the crank at the bottom. [°]
    in_window : numpy.ndarray of bool
        Whether that lies in the window asked for.

    Examples
    --------
    >>> outcome = knee_flexion_of_rule(Leg(428.75, 430.5, 150), Position(730, 200, 170), "inseam 0.883", inseam_mm=830)
    >>> bool(outcome.in_window)
    True
    """

    saddle_height_mm: Floats
    bottom_knee_flexion_deg: Floats
    in_window: Truths


def knee_flexion_of_rule(
    leg: Leg,
    position: Position,
    rule: str,
    *,
    inseam_mm: Numbers | None = None,
    trochanter_height_mm: Numbers | None = None,
    wanted_knee_flexion_deg: Numbers = 30.0,
    pedal_angle_deg: Numbers = 0.0,
    window: str = DEFAULT_WINDOW,
) -> RuleOutcome:
    """Knee flexion at the bottom of the stroke that a saddle rule gives a rider.

    Parameters
    ----------
    leg : Leg
        Lengths of the leg.
    position : Position
        Contact points; the saddle is moved along its seat tube line to the height of the rule.
    rule : str
        A key of ``SADDLE_RULES``.
    inseam_mm : array_like or None
        Inseam, 400 to 1200, for a rule that needs it. [mm]
    trochanter_height_mm : array_like or None
        Trochanter height, 400 to 1300, for a rule that needs it. [mm]
    wanted_knee_flexion_deg : array_like
        Knee flexion that the regression aims at, 0 to 90. [°]
    pedal_angle_deg : array_like
        Pedal angle at the bottom, toe down positive, −90 to 90. [°]
    window : str
        A key of ``KNEE_FLEXION_WINDOWS``.

    Returns
    -------
    RuleOutcome
        Height [mm], knee flexion [°] and whether it lies in the window.

    Raises
    ------
    OutOfRangeError
        If a name is not known, a measure missing or a value out of range.
    UnreachablePositionError
        If the rider cannot reach the pedal at the height of the rule.

    Notes
    -----
    *Teaching model*: with the foot held at one angle. Riders take up about half of a change of height in ankle and
    hip, so real knees change less.

    References
    ----------
    peveler_2005
    ferrer_roca_2012
    hull_jorge_1985

    Examples
    --------
    >>> leg, position = Leg(428.75, 430.5, 150), Position(730, 200, 170)
    >>> round(knee_flexion_of_rule(leg, position, "inseam 0.883", inseam_mm=840).bottom_knee_flexion_deg.item(), 1)
    29.4
    """
    bounds = chosen("window", window, KNEE_FLEXION_WINDOWS)
    height = saddle_height_rule_mm(
        inseam_mm,
        rule,
        crank_length_mm=position.crank_length_mm,
        trochanter_height_mm=trochanter_height_mm,
        knee_flexion_deg=wanted_knee_flexion_deg,
    )
    here = saddle_point_mm(position)
    setback = -here[..., 0] * height / np.hypot(here[..., 0], here[..., 1])
    at_rule = replace(position, saddle_height_mm=height, saddle_setback_mm=setback)
    pedal = checked("pedal_angle_deg", pedal_angle_deg)
    knee = solve_stroke(leg, at_rule, 180.0, pedal[..., None]).knee_flexion_deg[..., 0]
    return RuleOutcome(height, knee, np.asarray((knee >= bounds.low_deg) & (knee <= bounds.high_deg)))
