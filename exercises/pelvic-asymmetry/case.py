"""An uneven pelvis: its slope, two knees that run apart, an index, and what right against left can tell."""

from autograde.cases import Choice, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .pictures import figures
from .sides import clear, draw, drawn_in, index_pct, push_inward_mm, slope_deg
from .slips import MISCONCEPTIONS, PAGE, START
from .words import context, worked

MARKERS = "a marker repeats to 2 mm"
MEASURE = "Measuring both sides"
PREDICT = "From the pelvis to the knee"
COMPARE = "Comparing sides"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"


def inward(example: str) -> Quantity:
    """How far a knee is inward of its pedal."""
    return Quantity("mm", (-80, 80), Tolerance(1.5, because=MARKERS), "distance", example)


TASKS = (
    Task(
        "slope",
        "How far does the pelvis slope? Plus when the **right** side is higher.",
        Quantity("deg", (-15, 15), Tolerance(0.5, because="1 mm in a height is about 0.5°"), "angle", "-1.5 deg"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Slope of the pelvis",
        solve=lambda case, _: slope_deg(case),
    ),
    Task(
        "which-knee",
        "Take the pelvis as one piece that leans on an even saddle. What does the model let the knees do?",
        Choice(
            (
                Option("left-in", "The left knee is drawn to the frame, the right one runs further out."),
                Option("both-in", "Both knees are drawn to the frame."),
                Option("right-in", "The right knee is drawn to the frame, the left one runs further out."),
            )
        ),
        marks=1,
        competency=PREDICT,
        page=PAGE,
        title="What the model expects",
        solve=lambda _, earlier: drawn_in(earlier["slope"]),
        uses=("slope",),
    ),
    Task(
        "right-knee",
        "How far is the **right** knee inward (towards the frame) of the middle of its pedal, in the mean of the way "
        "down: **rows 0° to 135°**? Minus for outward.",
        inward("33 mm"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Right knee on the way down",
        solve=lambda case, _: push_inward_mm(case, "right"),
    ),
    Task(
        "left-knee",
        "And the **left** knee?",
        inward("-33 mm"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Left knee on the way down",
        solve=lambda case, _: push_inward_mm(case, "left"),
    ),
    Task(
        "index",
        "The pressure mat shows a mean load of {{ right_load }} N on the right half of the saddle and {{ left_load }} "
        "N on the left. What is the **symmetry index**: right minus left, over the **mean** of the two, in per cent?",
        Quantity("%", (-200, 200), Tolerance(0.6, because="worked out from whole newtons"), "index", "-4 %"),
        marks=2,
        competency=COMPARE,
        page=PAGE,
        title="Symmetry index of the load",
        solve=lambda case, _: index_pct(case),
    ),
    Task(
        "compare",
        "One of your two knees is inward, the other less so or outward. How do you compare **them**?",
        Choice(
            (
                Option("index", "by a symmetry index in per cent"),
                Option("difference", "by each number and their difference, in millimetres, beside the markers' error"),
                Option("mean", "by the mean of the two, which tells how the rider rides"),
            )
        ),
        marks=2,
        competency=COMPARE,
        page=PAGE,
        title="Comparing two knees",
        solve=lambda _case, _earlier: "difference",
    ),
    Task(
        "today",
        "{{ rider }} answers your questions before the fit: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("look", "Look for what supports the pelvis unevenly, change one thing, measure again."),
                Option("stop", "Change nothing; refer to a physician or physiotherapist, and say why and how soon."),
                Option("shim", "Put a shim under the shoe of the shorter leg and level the pelvis."),
            )
        ),
        marks=2,
        competency=SAFETY,
        page=START,
        title="Go on or refer",
        solve=lambda case, _: "stop" if case.has_sign else "look",
        safety=True,
    ),
    Task(
        "judgement",
        "**Is {{ rider }} crooked?** Say what your numbers show, how sure they are, whether they fit together, and "
        "what you would do next. Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion(
                    "Names right and left apart, with the error: bones differ from side to side, so one reading is no "
                    "uneven seat.",
                    1,
                ),
                Criterion(
                    "Says that asymmetry is common, that its limits are arbitrary, and that no injury or loss follows "
                    "from it.",
                    1,
                ),
                Criterion(
                    "Says what next in the light of the rider's answer: refer, or support first, one change, measured "
                    "again.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="What the difference means",
    ),
)

FAMILY = Family(
    name="pelvic-asymmetry",
    title="Uneven pelvis and the path of the knees",
    module_page=PAGE,
    competencies=(MEASURE, PREDICT, COMPARE, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
