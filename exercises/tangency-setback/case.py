"""Knee over pedal: what the plumb line says, what moving the saddle does, and what the reading is worth."""

from autograde.cases import (
    Choice,
    ChoiceSet,
    Criterion,
    DirectedChange,
    Family,
    Option,
    Quantity,
    Task,
    Tolerance,
    Words,
)

from .pictures import figures
from .rider import (
    clear,
    draw,
    height_change_mm,
    knee_offset_mm,
    lean_deg,
    move_mm,
    share_pct,
    travel_mm,
)
from .slips import MISCONCEPTIONS, PAGE, START
from .words import context, worked

PLUMB_REPEATS = "the plumb line repeats to 2 mm"
MEASURE = "Measuring the position"
MECHANICS = "Lever and tangent"
CHANGE = "Changing the position"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"
BACK, FORWARD = ("back", "backward", "backwards", "rearward"), ("forward", "forwards")

TASKS = (
    Task(
        "knee-offset",
        "How far is the **centre of the knee joint** ahead of the pedal axle? A minus sign means that it is behind.",
        Quantity("mm", (-80, 120), Tolerance(1.5, because=PLUMB_REPEATS), "distance", "14 mm"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Knee centre over the axle",
        solve=lambda case, _: knee_offset_mm(case),
    ),
    Task(
        "lean",
        "With the crank forward the tangent points straight down. What is the angle between the tangent and the "
        "line from the knee centre to the pedal axle? Plus when the knee is ahead of the axle.",
        Quantity("deg", (-12, 12), Tolerance(0.2, because="2 mm at this height are about 0.2°"), "angle", "3.5 deg"),
        marks=2,
        competency=MECHANICS,
        page=PAGE,
        title="Lean of the line from knee to axle",
        solve=lambda case, earlier: lean_deg(case, earlier["knee-offset"]),
        uses=("knee-offset",),
    ),
    Task(
        "useful-share",
        "Suppose for once that the foot pushes along that line. Which share of this push points along the tangent?",
        Quantity("%", (1, 100), Tolerance(0.15, because="the share is read to a tenth"), "share", "95.5 %"),
        marks=1,
        competency=MECHANICS,
        page=PAGE,
        title="Useful share of a push along that line",
        solve=lambda _, earlier: share_pct(earlier["lean"]),
        uses=("lean",),
    ),
    Task(
        "travel",
        "Read the trial: how far did the knee move back **for each 10 mm** the saddle moved back?",
        Quantity("mm", (1, 12), Tolerance(0.3, because="both readings are whole millimetres"), "distance", "4.5 mm"),
        marks=2,
        competency=CHANGE,
        page=PAGE,
        title="What the saddle does to the knee",
        solve=lambda case, _: travel_mm(case),
    ),
    Task(
        "move",
        "By how much, and in which direction, would the saddle have to move for the knee centre to stand over the "
        "axle? (In practice you would go there in steps of 5 mm, if at all.)",
        DirectedChange(
            "mm", (-100, 100), Tolerance(1.5, 0.03, PLUMB_REPEATS), positive=BACK, negative=FORWARD, asks="move"
        ),
        marks=3,
        competency=CHANGE,
        page=PAGE,
        title="Move of the saddle",
        solve=lambda _, earlier: move_mm(earlier["knee-offset"], earlier["travel"]),
        uses=("knee-offset", "travel"),
    ),
    Task(
        "height",
        "The rails are level. After your move the saddle is no longer {{ saddle_height }} mm from the bottom "
        "bracket. By how much has that distance to change to be the old one again, and which way: **raise** or "
        "**lower**?",
        DirectedChange("mm", (-60, 60), Tolerance(1.0, because="a tape repeats to 1 mm here"), asks="change"),
        marks=3,
        competency=CHANGE,
        page=PAGE,
        title="Saddle height after the move",
        solve=lambda case, earlier: height_change_mm(case, earlier["move"]),
        uses=("move",),
    ),
    Task(
        "also-changes",
        "A saddle slides back and nothing else is touched. Which of these change? Name all that apply.",
        ChoiceSet(
            (
                Option("crank", "the length of the crank"),
                Option("reach", "the reach from saddle to handlebar"),
                Option("hip", "the angle between thigh and trunk at the top of the stroke"),
                Option("stance", "the distance between the two feet"),
                Option("knee", "the flexion of the knee at the bottom of the stroke"),
            )
        ),
        marks=2,
        competency=CHANGE,
        page=PAGE,
        title="What else changes",
        solve=lambda _case, _earlier: {"reach", "hip", "knee"},
    ),
    Task(
        "today",
        "{{ rider }} answers your questions before the fit: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("cure", "Move the saddle by the whole amount at once; that settles a knee."),
                Option("go-on", "Go on: small steps, notes, and a second look after some rides."),
                Option("stop", "Change nothing today; refer to a physician or physiotherapist, and say why."),
            )
        ),
        marks=2,
        competency=SAFETY,
        page=START,
        title="Go on or refer",
        solve=lambda case, _: "stop" if case.has_sign else "go-on",
        safety=True,
    ),
    Task(
        "judgement",
        "**What is the plumb line worth?** Tell {{ rider }} what the reading can and cannot say, what you would do "
        "next and how you would know whether it helped. Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion("Calls it a customary starting place, and says that no protection of the knee is shown.", 1),
                Criterion("Uses the own numbers: the useful share hardly changes, and the reading repeats to 2 mm.", 1),
                Criterion(
                    "Says what next in the light of the rider's answer: refer, or small steps and a second look.", 1
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="What the reading is worth",
    ),
)

FAMILY = Family(
    name="tangency-setback",
    title="Knee over pedal, tangent and setback",
    module_page=PAGE,
    competencies=(MEASURE, MECHANICS, CHANGE, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
