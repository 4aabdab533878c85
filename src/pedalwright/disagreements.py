"""Where published answers differ: the named choices, which one is taken unless you say otherwise, and why."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from pedalwright._segment_tables import SEGMENT_TABLES
from pedalwright.body_segments import DEFAULT_TABLE
from pedalwright.effectiveness import DEFAULT_METER, METERS
from pedalwright.foot_collapse import COUPLINGS, DEFAULT_COUPLING
from pedalwright.forefoot import DEFAULT_PREVALENCE, FOREFOOT_PREVALENCE
from pedalwright.hill import DEFAULT_CONSTANTS, HILL_CONSTANTS
from pedalwright.muscle_arms import DEFAULT_MODEL
from pedalwright.muscle_curves import PATH_MODELS
from pedalwright.rule_outcomes import DEFAULT_WINDOW, KNEE_FLEXION_WINDOWS
from pedalwright.saddle_rules import DEFAULT_HEIGHT_STUDY, DEFAULT_SADDLE_RULE, HEIGHT_STUDIES, SADDLE_RULES
from pedalwright.work_shares import DEFAULT_WORK_SHARES, PUBLISHED_WORK_SHARES


@dataclass(frozen=True)
class Disagreement:
    """A question that sources answer differently.

    Parameters
    ----------
    question : str
        What is asked.
    answers : tuple of str
        Names of the choices.
    default : str
        The one taken unless another is named.
    reason : str
        Why; never that it is the true one.
    chosen_by : str
        Where to name another: the parameter, or the mapping to look it up in.

    Examples
    --------
    >>> DISAGREEMENTS["thigh mass"].default
    'de_leva_1996'
    """

    question: str
    answers: tuple[str, ...]
    default: str
    reason: str
    chosen_by: str


DISAGREEMENTS: Mapping[str, Disagreement] = MappingProxyType(
    {
        "thigh mass": Disagreement(
            "How much of the body's mass is a thigh: 10 or 14 %?",
            tuple(SEGMENT_TABLES),
            DEFAULT_TABLE,
            "Young living people, women and men apart, cut at the hip joint that the leg model also turns about; the "
            "older table is eight dissected older men, cut at the greater trochanter.",
            "table",
        ),
        "forefoot prevalence": Disagreement(
            "How many forefeet are in varus: 9 or 97 %?",
            tuple(FOREFOOT_PREVALENCE),
            DEFAULT_PREVALENCE,
            "The only one with a source that gives all three shares of one sample. No calculation uses any of them.",
            "FOREFOOT_PREVALENCE",
        ),
        "share of work at hip and knee": Disagreement(
            "Does the hip or the knee do most of the work?",
            tuple(PUBLISHED_WORK_SHARES),
            DEFAULT_WORK_SHARES,
            "Trained riders, newer method, over a range of powers. What a leg does is computed, not looked up here.",
            "PUBLISHED_WORK_SHARES",
        ),
        "saddle height": Disagreement(
            "Which rule gives the saddle height?",
            tuple(SADDLE_RULES),
            DEFAULT_SADDLE_RULE,
            "Needs no crank length and is the most used starting point; no study shows it to be the best.",
            "rule",
        ),
        "saddle height and economy": Disagreement(
            "Is a higher or a lower saddle cheaper to ride?",
            tuple(HEIGHT_STUDIES),
            DEFAULT_HEIGHT_STUDY,
            "The only one of them whose abstract was read; the others are from memory. No calculation uses it.",
            "HEIGHT_STUDIES",
        ),
        "knee flexion window": Disagreement(
            "Between which knee flexions should the leg be at the bottom?",
            tuple(KNEE_FLEXION_WINDOWS),
            DEFAULT_WINDOW,
            "The window most often taught, and the widest of those for a leg held still.",
            "window",
        ),
        "muscle constants": Disagreement(
            "Which constants has a muscle?",
            tuple(HILL_CONSTANTS),
            DEFAULT_CONSTANTS,
            "The published ones, of young adults; the other set is what a commonly shared leg model ships with.",
            "constants",
        ),
        "muscle paths": Disagreement(
            "Where does a muscle run, and how long is its arm?",
            tuple(PATH_MODELS),
            DEFAULT_MODEL,
            "Made for deeply bent hips and knees, as pedalling bends them.",
            "model",
        ),
        "single-leg or crank effectiveness": Disagreement(
            "Is torque effectiveness that of a leg or of the crank?",
            tuple(METERS),
            DEFAULT_METER,
            "Shows what each leg does; the sum of both hides a leg that brakes.",
            "meter",
        ),
        "roll of the heel and turn of the shin": Disagreement(
            "How far does the shin turn when the heel rolls in?",
            tuple(COUPLINGS),
            DEFAULT_COUPLING,
            "The abstract was read and gives a spread; the ratio of runners is from memory.",
            "coupling",
        ),
    }
)
