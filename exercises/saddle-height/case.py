"""Saddle height: two rules of thumb, a measured knee, and how sure the number is."""

from autograde.cases import Choice, Criterion, DirectedChange, Family, Option, Quantity, Task, Tolerance, Words

from .pictures import figures
from .rider import (
    FROM_BRACKET,
    FROM_PEDAL,
    change_mm,
    clear,
    draw,
    flexion_deg,
    in_window,
    per_10_mm_deg,
    rule_mm,
)
from .slips import MISCONCEPTIONS, PAGE, START
from .words import context, worked

INSEAM_REPEATS = "5 mm in the inseam are about 5 mm here"
KNEE_REPEATS = "the mean of three readings repeats to about 1°"
RULES = "Rules of thumb"
MEASURE = "Measuring the position"
CHANGE = "Changing the position"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"


def height(example: str) -> Quantity:
    """A saddle height."""
    return Quantity("mm", (450, 950), Tolerance(5, because=INSEAM_REPEATS), "height", example)


TASKS = (
    Task(
        "from-bracket",
        "One rule of thumb: from the bottom bracket to the top of the saddle, **0.883** of the inseam. Which height is "
        "that, **in millimetres**?",
        height("602 mm"),
        marks=1,
        competency=RULES,
        page=PAGE,
        title="0.883 of the inseam",
        solve=lambda case, _: rule_mm(case, FROM_BRACKET),
    ),
    Task(
        "from-pedal",
        "Another: from the **pedal** at its lowest, the crank in line, to the top of the saddle, **1.09** of the "
        "inseam. Which height **above the bottom bracket** is that, in millimetres?",
        height("611 mm"),
        marks=2,
        competency=RULES,
        page=PAGE,
        title="1.09 of the inseam",
        solve=lambda case, _: rule_mm(case, FROM_PEDAL),
    ),
    Task(
        "flexion",
        "What is the knee **flexion** at the bottom of the stroke now, counted from the straight leg? Give the mean of "
        "the three readings.",
        Quantity("deg", (0, 90), Tolerance(1, because=KNEE_REPEATS), "angle", "11 deg"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Knee flexion at the bottom",
        solve=lambda case, _: flexion_deg(case),
    ),
    Task(
        "per-10-mm",
        "Read the trial: by how many degrees does the flexion change **for each 10 mm** of saddle height? Give it "
        "without a sign.",
        Quantity("deg", (0.5, 10), Tolerance(0.35, because="half a degree in each reading"), "angle", "5.5 deg"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="What 10 mm do",
        solve=lambda case, _: per_10_mm_deg(case),
    ),
    Task(
        "change",
        "{{ rider }} and you have agreed to try **{{ target }}°** of flexion. By how much has the saddle to change, "
        "and which way: **raise** or **lower**? (In practice you would go there in steps of 5 mm.)",
        DirectedChange("mm", (-120, 120), Tolerance(3, 0.05, "1° of the knee is about 3 mm")),
        marks=3,
        competency=CHANGE,
        page=PAGE,
        title="Change of the saddle height",
        solve=lambda case, earlier: change_mm(earlier["flexion"], earlier["per-10-mm"], case.target_deg),
        uses=("flexion", "per-10-mm"),
    ),
    Task(
        "window",
        "A window often taught is **25° to 35°** of flexion, measured at rest. Two fitters who measure the same knee "
        "with such a tool may differ by **6°**. What can you say of {{ rider }}'s knee as it is now?",
        Choice(
            (
                Option("inside", "It is inside the window, whoever measures."),
                Option("outside", "It is outside the window, whoever measures."),
                Option("open", "It cannot be told: another fitter may well find the opposite."),
            )
        ),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Inside the window?",
        solve=lambda _, earlier: in_window(earlier["flexion"]),
        uses=("flexion",),
    ),
    Task(
        "today",
        "Before you touch the saddle {{ rider }} says: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("go-on", "Go on in steps of 5 mm, with notes, and a second look after some rides."),
                Option("whole", "Make the whole change at once, so that it can be felt."),
                Option("stop", "Change nothing; refer to a physician or physiotherapist, and say why and how soon."),
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
        "**Which height do you recommend, and how sure are you?** Weigh the two rules, the measured knee and the "
        "window against one another. Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion("Takes the rules as starting points that differ, and says what they cannot know.", 1),
                Criterion(
                    "Gives the knee with its error, and says that studies of saddle height disagree about what is "
                    "best.",
                    1,
                ),
                Criterion(
                    "Says what next in the light of the rider's answer: refer, or small steps and what would make you "
                    "go back; promises neither power nor protection.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="Which height, and how sure",
    ),
)

FAMILY = Family(
    name="saddle-height",
    title="Saddle height and knee flexion",
    module_page=PAGE,
    competencies=(RULES, MEASURE, CHANGE, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
