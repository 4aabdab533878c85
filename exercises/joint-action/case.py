"""A muscle over two joints: what shortening does at each, with which lever, and how its length goes in a movement."""

from autograde.cases import Choice, ChoiceSet, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .line import arm_mm, clear, crossed, does, draw, longer_by_mm
from .pictures import figures
from .slips import MISCONCEPTIONS, PAGE
from .words import context, worked

PLACES_REPEAT = "a place repeats to 2 mm"
ACTION = "What a muscle does"
LEVER = "Lever and moment"
LENGTH = "Length of a muscle"
JUDGEMENT = "Judgement"


def action(task_id: str, which: int) -> Task:
    """What shortening does at one of the two joints."""
    name = ("upper", "lower")[which]
    return Task(
        task_id,
        f"The line becomes shorter. What does it do at the **{{{{ {name} }}}}**?",
        Choice(
            (
                Option("flexes", "It flexes: hip or knee close, the ankle points the toe down."),
                Option("extends", "It extends: hip or knee open, the ankle lifts the toe."),
                Option("none", "It does neither."),
            )
        ),
        marks=1,
        competency=ACTION,
        page=PAGE,
        title=f"What it does at the {name} joint",
        solve=lambda case, _: does(case, crossed(case)[which]),
    )


def lever(task_id: str, which: int, example: str) -> Task:
    """Distance of the line from one of the two joints."""
    name = ("upper", "lower")[which]
    return Task(
        task_id,
        f"How long is the lever of the line at the **{{{{ {name} }}}}**: the shortest distance from the joint's centre "
        "to the line?",
        Quantity("mm", (1, 150), Tolerance(2, because=PLACES_REPEAT), "lever", example),
        marks=2,
        competency=LEVER,
        page=PAGE,
        title=f"Lever at the {name} joint",
        solve=lambda case, _: arm_mm(case, crossed(case)[which]),
    )


TASKS = (
    Task(
        "crosses",
        "Which joints does the line cross, so that its shortening can move them? Name all that apply.",
        ChoiceSet((Option("ankle", "ankle"), Option("hip", "hip"), Option("knee", "knee"))),
        marks=1,
        competency=ACTION,
        page=PAGE,
        title="Joints crossed",
        solve=lambda case, _: set(crossed(case)),
    ),
    action("upper", 0),
    action("lower", 1),
    lever("upper-arm", 0, "77 mm"),
    lever("lower-arm", 1, "88 mm"),
    Task(
        "moment",
        "The muscle pulls with {{ force }} N. Which moment does that give at the **{{ lower }}**? Without a sign.",
        Quantity("N m", (0.5, 150), Tolerance(0.6, 0.04, "2 mm in the lever"), "moment", "99 N m"),
        marks=1,
        competency=LEVER,
        page=PAGE,
        title="Moment at the lower joint",
        solve=lambda case, earlier: case.force_n * earlier["lower-arm"] / 1000,
        uses=("lower-arm",),
    ),
    Task(
        "longer",
        "Now {{ movement }}. By how much does the line become **longer**? Minus for shorter. Take your levers as "
        "constant; each joint gives lever times angle **in radians**.",
        Quantity("mm", (-90, 90), Tolerance(1, because="2 mm in a lever"), "length", "-55 mm"),
        marks=3,
        competency=LENGTH,
        page=PAGE,
        title="How its length goes",
        solve=lambda case, earlier: longer_by_mm(
            case, earlier["upper"], earlier["lower"], earlier["upper-arm"], earlier["lower-arm"]
        ),
        uses=("upper", "lower", "upper-arm", "lower-arm"),
    ),
    Task(
        "judgement",
        "{{ rider }} {{ claim }}. **What do you answer?** Use your numbers, and say where this picture of a muscle "
        "stops. Four to eight sentences.",
        Words(
            (
                Criterion(
                    "Says that a two-joint muscle can help at one joint while it is lengthened at the other, from the "
                    "own numbers.",
                    1,
                ),
                Criterion(
                    "Says that a sign of a lever is no timing: when a muscle is active is another question, and "
                    "studies differ.",
                    1,
                ),
                Criterion(
                    "Names limits: a straight line, levers that change with the pose, one invented leg; advises "
                    "nothing for pain.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="Your answer",
    ),
)

FAMILY = Family(
    name="joint-action",
    title="What a muscle does at two joints",
    module_page=PAGE,
    competencies=(ACTION, LEVER, LENGTH, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
