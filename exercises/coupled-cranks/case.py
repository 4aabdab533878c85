"""Two legs on opposed cranks: what one pedal reads, what the axle feels, and why a rising leg holds back."""

from autograde.cases import Choice, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .legs import (
    clear,
    draw,
    effectiveness_pct,
    left_at_asked_nm,
    meter_share_pct,
    muscle_nm,
    share_pct,
    what_muscles_do,
)
from .pictures import figures
from .slips import MISCONCEPTIONS, PAGE
from .words import context, worked

ROUNDED = "the table is rounded to 0.1 N m"
PEDAL_REPEATS = "the measuring pedals repeat to about 0.2 N m"
BOTH_LEGS = "Both legs"
READING = "Reading a meter"
MUSCLES = "Weight and muscles"
JUDGEMENT = "Judgement"


def torque(example: str) -> Quantity:
    """A torque of one leg or of both."""
    return Quantity("N m", (-60, 160), Tolerance(0.2, because=PEDAL_REPEATS), "torque", example)


def share(example: str, band: float) -> Quantity:
    """A share in per cent."""
    return Quantity("%", (-60, 160), Tolerance(band, because=ROUNDED), "share", example)


TASKS = (
    Task(
        "left-at",
        "The right crank is at **{{ asked_angle }}°**. What torque does the **left** leg give at this moment?",
        torque("4.4 N m"),
        marks=1,
        competency=BOTH_LEGS,
        page=PAGE,
        title="The left leg at the same moment",
        solve=lambda case, _: left_at_asked_nm(case),
    ),
    Task(
        "axle-torque",
        "What torque does the axle feel from both legs at this moment?",
        torque("33.3 N m"),
        marks=2,
        competency=BOTH_LEGS,
        page=PAGE,
        title="Torque of both legs",
        solve=lambda case, earlier: case.right_nm[case.asked_row] + earlier["left-at"],
        uses=("left-at",),
    ),
    Task(
        "leg-effectiveness",
        "Add up the right leg's torques above zero (what drives) and those below zero (what holds back). What is "
        "left of the driving torque after the holding back, **as a share of the driving torque**? Some displays "
        "call this torque effectiveness.",
        share("77 %", 0.6),
        marks=2,
        competency=READING,
        page=PAGE,
        title="Torque effectiveness at one pedal",
        solve=lambda case, _: effectiveness_pct(case.right_nm),
    ),
    Task(
        "axle-effectiveness",
        "Reckon the same share for the **torque at the axle**, from both legs together over the whole turn.",
        share("88 %", 0.6),
        marks=2,
        competency=READING,
        page=PAGE,
        title="Torque effectiveness at the axle",
        solve=lambda case, _: effectiveness_pct(case.at_axle_nm),
    ),
    Task(
        "share",
        "Which share of the work of both legs does the **right** leg do over the turn?",
        share("55.5 %", 0.5),
        marks=2,
        competency=BOTH_LEGS,
        page=PAGE,
        title="Share of the right leg",
        solve=lambda case, _: share_pct(case),
    ),
    Task(
        "meter-share",
        "A meter on the axle sees only the sum. What it calls the right leg's share is the work in the half turn in "
        "which the right crank goes down: take the rows **from 0° to 150°** of the right crank. Which share does it "
        "show?",
        share("44.4 %", 0.5),
        marks=2,
        competency=READING,
        page=PAGE,
        title="The share a meter on the axle shows",
        solve=lambda case, _: meter_share_pct(case),
    ),
    Task(
        "muscles",
        "At {{ rising_angle }}° the right leg is on its way up. Its weight alone, reckoned with a model of a leg, "
        "would give **{{ weight }} N m** there. (Its inertia gives a little more or less and is left aside.) What "
        "do the muscles add to the weight?",
        torque("6.6 N m"),
        marks=2,
        competency=MUSCLES,
        page=PAGE,
        title="Weight and muscles on the way up",
        solve=lambda case, _: muscle_nm(case),
    ),
    Task(
        "muscles-do",
        "So what do the muscles do there?",
        Choice(
            (
                Option("press", "They press the pedal down: they hold back more than the weight alone."),
                Option("lift-part", "They lift a part of the leg's weight; the rest of it still holds back."),
                Option("lift-all", "They lift the whole leg and drive the crank as well."),
                Option("nothing", "Nothing: the pedal feels the leg's weight and no more."),
            )
        ),
        marks=1,
        competency=MUSCLES,
        page=PAGE,
        title="What the muscles do",
        solve=lambda case, earlier: what_muscles_do(case, earlier["muscles"]),
        uses=("muscles",),
    ),
    Task(
        "judgement",
        "{{ rider }} {{ wish }}. **What do you advise, and what do your numbers say about it?** Four to eight "
        "sentences, with your reasons.",
        Words(
            (
                Criterion("Says where each number was read (pedal or axle), and that the two are not comparable.", 1),
                Criterion("Says that a rising leg holds back by its weight, and that some of it is unavoidable.", 1),
                Criterion("Gives no promise: pulling up cost economy where studied; no index grades a rider.", 1),
                Criterion("Asks about pain, injury and weakness of one leg, and refers where there is any.", 1),
            )
        ),
        marks=4,
        competency=JUDGEMENT,
        page=PAGE,
        title="Your advice",
    ),
)

FAMILY = Family(
    name="coupled-cranks",
    title="Coupled cranks and the rising leg",
    module_page=PAGE,
    competencies=(BOTH_LEGS, READING, MUSCLES, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
