"""Hip closure: how far the hip is bent at the top, what a lower trunk adds, and what a shorter crank gives back."""

from autograde.cases import Choice, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .hip import clear, closes_deg, draw, flexion_deg, opens_deg, roll_deg, shorter_mm
from .pictures import figures
from .slips import MISCONCEPTIONS, PAGE, START
from .words import context, worked

READINGS = "each reading repeats to 1°"
MEASURE = "Measuring the hip"
TRIAL = "Reading a trial"
MUSCLE = "Muscle and joint"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"


def angle(example: str) -> Quantity:
    """An angle from readings of whole degrees."""
    return Quantity("deg", (-60, 180), Tolerance(1, because=READINGS), "angle", example)


TASKS = (
    Task(
        "roll",
        "How far is the **pelvis rolled forward from standing** in the present posture?",
        angle("44 deg"),
        marks=1,
        competency=MEASURE,
        page=PAGE,
        title="Roll of the pelvis",
        solve=lambda case, _: roll_deg(case),
    ),
    Task(
        "hip",
        "What is the **hip flexion** at the top of the stroke, thigh against pelvis, 0° standing upright?",
        angle("55 deg"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Hip flexion at the top",
        solve=lambda case, earlier: flexion_deg(case, earlier["roll"]),
        uses=("roll",),
    ),
    Task(
        "opens",
        "Read the crank trial: by how many degrees does the hip **open** at the top **for each 10 mm** of shorter "
        "crank, the saddle raised by as much? Minus if it closes. (The pelvis kept its tilt.)",
        Quantity("deg", (-9, 9), Tolerance(0.35, because="half a degree in each reading"), "angle", "6.6 deg"),
        marks=2,
        competency=TRIAL,
        page=PAGE,
        title="What a shorter crank gives",
        solve=lambda case, _: opens_deg(case),
    ),
    Task(
        "closes",
        "Read the trial of the low posture: by how many degrees does the hip **close**, from the present posture to "
        "the low one? Minus if it opens. (The thigh at the top kept its angle within the error.)",
        angle("33 deg"),
        marks=2,
        competency=TRIAL,
        page=PAGE,
        title="What a lower trunk costs",
        solve=lambda case, _: closes_deg(case),
    ),
    Task(
        "shorter",
        "How much shorter would the crank have to be, the saddle raised by as much, for the low posture to have the "
        "hip flexion of the present one?",
        Quantity("mm", (0.1, 120), Tolerance(2, 0.05, "half a degree in the trials"), "length", "66 mm"),
        marks=2,
        competency=TRIAL,
        page=PAGE,
        title="A crank that makes up for it",
        solve=lambda _, earlier: shorter_mm(earlier["closes"], earlier["opens"]),
        uses=("opens", "closes"),
    ),
    Task(
        "muscle",
        "The hip is more closed at the top. What does that do to the **gluteus maximus**, before it starts to work?",
        Choice(
            (
                Option("shorter", "It is shorter there."),
                Option("longer", "It is longer there."),
                Option("same", "It is as long as before; only its tension differs."),
            )
        ),
        marks=1,
        competency=MUSCLE,
        page=PAGE,
        title="The muscle behind the hip",
        solve=lambda _case, _earlier: "longer",
    ),
    Task(
        "today",
        "{{ rider }} answers your questions before the fit: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("stop", "Change nothing; refer to a physician, and say why and how soon."),
                Option("low", "Go as low as the neck allows: lower is faster."),
                Option("try", "Try one small step, on the trainer first, ask, note it, look again after some rides."),
            )
        ),
        marks=2,
        competency=SAFETY,
        page=START,
        title="Go on or refer",
        solve=lambda case, _: "stop" if case.has_sign else "try",
        safety=True,
    ),
    Task(
        "judgement",
        "**Lower trunk, shorter crank, both or neither?** Advise {{ rider }} from your numbers, and say what they do "
        "not tell. Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion(
                    "Keeps trunk and pelvis apart: says which of the two closes the hip, from the own numbers.", 1
                ),
                Criterion(
                    "Weighs: a lower trunk costs power and efficiency where studied, and saves drag; crank length did "
                    "not change how power is shared among the joints; no promise.",
                    1,
                ),
                Criterion(
                    "Says what next in the light of the rider's answer: refer, or one small step and how it is judged.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="Your advice",
    ),
)

FAMILY = Family(
    name="hip-closure",
    title="Hip closure, trunk and crank length",
    module_page=PAGE,
    competencies=(MEASURE, TRIAL, MUSCLE, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
