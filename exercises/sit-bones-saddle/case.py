"""Sit bones and saddle: from an imprint to the width that bears, from there to a saddle, and who bears the load."""

from autograde.cases import Choice, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .pictures import figures
from .seat import (
    bearing_of,
    clear,
    draw,
    first_that_fits,
    margin_mm,
    right_load_n,
    sit_bone_width_mm,
    tread_needed_mm,
)
from .slips import MISCONCEPTIONS, PAGE, START
from .words import context, worked

IMPRINTS_REPEAT = "the mean of three imprints repeats to about 2 mm"
MEASURE = "Measuring the pelvis"
CHOOSE = "Choosing a saddle"
LOAD = "Left and right"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"


def width(example: str) -> Quantity:
    """A width across the bicycle."""
    return Quantity("mm", (30, 220), Tolerance(2, because=IMPRINTS_REPEAT), "width", example)


TASKS = (
    Task(
        "width",
        "How far apart are the sit bones, from the middle of one dent to the middle of the other? Give the mean of the "
        "three imprints.",
        width("171 mm"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Sit-bone width",
        solve=lambda case, _: sit_bone_width_mm(case),
    ),
    Task(
        "bearing",
        "On which width does the pelvis bear on the bicycle, by the model above?",
        width("61 mm"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Bearing width in this posture",
        solve=lambda case, earlier: bearing_of(case, earlier["width"]),
        uses=("width",),
    ),
    Task(
        "tread",
        "In one small study (ten women) the pressure was spread best on a saddle that stood {{ margin }} mm over the "
        "bones **on each side**. Which width of tread do you look for, if you follow it?",
        width("181 mm"),
        marks=2,
        competency=CHOOSE,
        page=PAGE,
        title="Tread to look for",
        solve=lambda _, earlier: tread_needed_mm(earlier["bearing"]),
        uses=("bearing",),
    ),
    Task(
        "margin",
        "How far do the bones lie inside the edge of the tread on {{ rider }}'s **present** saddle, on each side? "
        "Minus when they overhang.",
        Quantity(
            "mm", (-60, 60), Tolerance(1, because="2 mm in the width are 1 mm on each side"), "distance", "13.5 mm"
        ),
        marks=2,
        competency=CHOOSE,
        page=PAGE,
        title="Margin on the present saddle",
        solve=lambda case, earlier: margin_mm(case, earlier["bearing"]),
        uses=("bearing",),
    ),
    Task(
        "saddle",
        "Which saddle do you try first: the narrowest whose tread is not narrower than what you look for?",
        Choice(
            (
                Option("1", "saddle 1"),
                Option("2", "saddle 2"),
                Option("3", "saddle 3"),
                Option("4", "saddle 4"),
                Option("5", "none of the four is wide enough"),
            ),
            numbered=True,
        ),
        marks=2,
        competency=CHOOSE,
        page=PAGE,
        title="A saddle to try",
        solve=lambda case, earlier: first_that_fits(case.treads_mm, earlier["tread"]),
        uses=("tread",),
    ),
    Task(
        "right-load",
        "On the present saddle a pressure mat shows {{ load }} N, acting {{ across }} mm to the **{{ load_to }}** of "
        "the middle between the two bearing places. How much of it is under the **right** bone, if bones alone bear?",
        Quantity("N", (0, 600), Tolerance(4, 0.03, "the mat repeats to 3 %"), "force", "111 N"),
        marks=2,
        competency=LOAD,
        page=PAGE,
        title="Load under the right bone",
        solve=lambda case, earlier: right_load_n(case, earlier["bearing"]),
        uses=("bearing",),
    ),
    Task(
        "today",
        "You ask {{ rider }} in private, and hear: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("padding", "Recommend the softest saddle there is, and ride on."),
                Option("stop", "No riding on this saddle, no fit; refer to a physician, with bladder trouble at once."),
                Option("go-on", "Go on: try the saddle on the trainer, ask again in private after some rides."),
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
        "**What do your numbers settle, and what not?** {{ rider }} asks whether this saddle will be comfortable. "
        "Answer in four to eight sentences, with your reasons.",
        Words(
            (
                Criterion(
                    "Says that the width is measured, never guessed from sex or body size, and how well it repeats.", 1
                ),
                Criterion(
                    "Calls the narrowing in the posture a model and the margin one small study, and promises no "
                    "comfort.",
                    1,
                ),
                Criterion(
                    "Says what happens next in the light of the rider's answer: refer, or a trial and what is asked, "
                    "in private and with consent.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="What the numbers settle",
    ),
)

FAMILY = Family(
    name="sit-bones-saddle",
    title="Sit bones and saddle width",
    module_page=PAGE,
    competencies=(MEASURE, CHOOSE, LOAD, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
