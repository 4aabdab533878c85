"""A tilted forefoot: from millimetres to degrees, which edge, how much of it, and what a wedge is worth."""

from autograde.cases import Choice, ChoiceSet, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .foot import clear, draw, edge_of, first_stack_mm, left_over_deg, one_wedge_deg, tilt_deg
from .pictures import figures
from .slips import FOUND, MISCONCEPTIONS, PAGE, START
from .words import context, worked

GAUGE_REPEATS = "half a millimetre on the gauge is about 0.3°"
MEASURE = "Measuring the foot"
WEDGE = "Choosing a wedge"
EVIDENCE = "Evidence"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"

TASKS = (
    Task(
        "tilt",
        "How far is the forefoot tilted? Plus for varus (inner edge higher), minus for valgus.",
        Quantity("deg", (-20, 20), Tolerance(0.3, because=GAUGE_REPEATS), "angle", "-4.4 deg"),
        marks=3,
        competency=MEASURE,
        page=PAGE,
        title="Tilt of the forefoot",
        solve=lambda case, _: tilt_deg(case),
    ),
    Task(
        "edge",
        "A wedge is to fill the gap. Under which edge does its thick side go?",
        Choice(
            (
                Option("inner", "under the inner edge, on the side of the big toe"),
                Option("outer", "under the outer edge, on the side of the little toe"),
                Option("none", "under neither: the forefoot is level within the error of the gauge"),
            )
        ),
        marks=1,
        competency=WEDGE,
        page=PAGE,
        title="Which edge",
        solve=lambda _, earlier: edge_of(earlier["tilt"]),
        uses=("tilt",),
    ),
    Task(
        "wedge-angle",
        "One wedge is {{ wedge }} mm thick at its thick edge and runs out to nothing across the **whole width of the "
        "shoe inside**. What angle does one wedge make in this shoe?",
        Quantity("deg", (0.005, 12), Tolerance(0.04, because="its thickness is known to 0.05 mm"), "angle", "1.9 deg"),
        marks=2,
        competency=WEDGE,
        page=PAGE,
        title="Angle of one wedge",
        solve=lambda case, _: one_wedge_deg(case),
    ),
    Task(
        "stack",
        "The school's rule for a first try (common practice, no source): whole wedges, one on top of the other, that "
        "fill **at most half** of the tilt. How thick is that stack at its thick edge?",
        Quantity("mm", (0, 40), Tolerance(0.25, because="wedges are whole"), "thickness", "9 mm"),
        marks=2,
        competency=WEDGE,
        page=PAGE,
        title="A first stack",
        solve=lambda case, earlier: first_stack_mm(case, earlier["tilt"]),
        uses=("tilt",),
    ),
    Task(
        "tilt-left",
        "Which tilt stays unfilled with your stack under your edge? Keep the sign: plus for varus.",
        Quantity("deg", (-30, 30), Tolerance(0.3, because=GAUGE_REPEATS), "angle", "-1.1 deg"),
        marks=2,
        competency=WEDGE,
        page=PAGE,
        title="Tilt left unfilled",
        solve=lambda case, earlier: left_over_deg(case, earlier["tilt"], earlier["edge"], earlier["stack"]),
        uses=("tilt", "edge", "stack"),
    ),
    Task(
        "evidence",
        "What **has been found** in the laboratory studies of wedges and footbeds for cyclists? Name all that apply.",
        ChoiceSet(
            (
                Option("knee", "the knee follows a straighter path"),
                Option("contact", "a shaped footbed is in contact with more of the sole"),
                Option("power", "the rider gives more power"),
                Option("felt", "riders feel more supported"),
                Option("injury", "riders are injured less often"),
            )
        ),
        marks=2,
        competency=EVIDENCE,
        page=PAGE,
        title="What has been found",
        solve=lambda _case, _earlier: FOUND,
    ),
    Task(
        "today",
        "{{ rider }} answers your questions before the fit: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("treat", "Fill the whole tilt; that treats the foot."),
                Option("refer", "Set no wedge; refer to a physician, and say why."),
                Option("small", "Try the first stack on the trainer, ask how it feels, note it, look again."),
            )
        ),
        marks=2,
        competency=SAFETY,
        page=START,
        title="Wedge or refer",
        solve=lambda case, _: "refer" if case.has_sign else "small",
        safety=True,
    ),
    Task(
        "judgement",
        "**Is a tilted forefoot a fault?** Tell {{ rider }} what your number means, how sure you are of it, and what "
        "a wedge can and cannot be expected to do. Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion(
                    "Says that a tilt is common and no diagnosis, and that how often it is found hangs on the method.",
                    1,
                ),
                Criterion("Gives the number with its error: another fitter may well read two degrees differently.", 1),
                Criterion(
                    "Calls the evidence for wedges weak, promises nothing, and says how the rider will judge a trial "
                    "or why none is made.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="What the tilt means",
    ),
)

FAMILY = Family(
    name="forefoot-wedge",
    title="Forefoot tilt and wedge",
    module_page=PAGE,
    competencies=(MEASURE, WEDGE, EVIDENCE, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
