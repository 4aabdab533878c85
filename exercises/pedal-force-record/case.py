"""An invented rider's right pedal: where in the turn is the push of use, and what does the other leg do?"""

from autograde.cases import Choice, Criterion, Family, Option, Quantity, Task, Tolerance, Words
from pedalwright.force import power_w

from .pictures import figures
from .record import (
    ROWS,
    STEP_DEG,
    asked_torque_nm,
    best_sector,
    clear,
    draw,
    effectiveness_pct,
    mean_torque_nm,
    opposite_leg,
    opposite_torque_nm,
    sector_work_j,
)
from .slips import MISCONCEPTIONS, PAGE
from .words import context, worked

PEDAL_REPEATS = "the measuring pedal repeats to 1 % or 1 N, whichever is more"

TORQUE = "Pedal force and torque"
WORK = "Work and power"
EFFECTIVENESS = "Effectiveness"
BOTH_LEGS = "Both legs"
JUDGEMENT = "Judgement"

SECTORS = tuple(
    Option(
        str(n + 1),
        f"sector {n + 1}, from {n * STEP_DEG:g}° to {(n + 1) * STEP_DEG:g}°",
        (f"{n * STEP_DEG:g} to {(n + 1) * STEP_DEG:g}", f"{n * STEP_DEG:g} {(n + 1) * STEP_DEG:g}"),
    )
    for n in range(ROWS)
)

TASKS = (
    Task(
        "torque",
        "What torque does the right leg give the crank at a crank angle of **{{ asked_angle }}°**? "
        "A minus sign means that it holds the crank back.",
        Quantity("N m", (-60, 160), Tolerance(0.2, 0.01, PEDAL_REPEATS), "torque", "23.5 N m"),
        marks=2,
        competency=TORQUE,
        page=PAGE,
        title="Torque at one crank angle",
        solve=lambda case, _: asked_torque_nm(case),
    ),
    Task(
        "sector",
        "In which of the sixteen sectors does the right leg do the **most useful work**? Sector 1 begins at the top. "
        "Read the record as straight lines between its rows, so that the mean torque of a sector is the mean of the "
        "two rows at its ends.",
        Choice(SECTORS, numbered=True),
        marks=2,
        competency=WORK,
        page=PAGE,
        title="Sector with the most useful work",
        solve=lambda case, _: best_sector(case),
    ),
    Task(
        "sector-work",
        "How much useful work does the right leg do in the sector you named?",
        Quantity("J", (0.5, 90), Tolerance(0.1, 0.012, PEDAL_REPEATS), "amount of work", "14.2 J"),
        marks=2,
        competency=WORK,
        page=PAGE,
        title="Work in that sector",
        solve=lambda case, earlier: sector_work_j(case, earlier["sector"]),
        uses=("sector",),
    ),
    Task(
        "mean-torque",
        "What is the **mean torque of the right leg** over the whole turn?",
        Quantity("N m", (0.5, 90), Tolerance(0.2, 0.01, PEDAL_REPEATS), "mean torque", "9.4 N m"),
        marks=3,
        competency=WORK,
        page=PAGE,
        title="Mean torque over the turn",
        solve=lambda case, _: mean_torque_nm(case),
    ),
    Task(
        "power",
        "What is the **mean power of both legs together** at {{ cadence }} turns a minute, when the left leg does the "
        "same as the right, half a turn later? A display fed by one pedal shows the double of that pedal; this is "
        "what you reckon here.",
        Quantity("W", (10, 1200), Tolerance(1.5, 0.012, PEDAL_REPEATS), "mean power", "165 W"),
        marks=2,
        competency=WORK,
        page=PAGE,
        title="Mean power of both legs",
        solve=lambda case, earlier: 2 * float(power_w(earlier["mean-torque"], case.cadence_rpm)),
        uses=("mean-torque",),
    ),
    Task(
        "effectiveness",
        "What is the **index of effectiveness** over the rows from {{ part_first }}° to {{ part_last }}°, both "
        "included? Add up the useful parts of these rows, add up their whole pushes, and compare the sums.",
        Quantity(
            "%", (-100, 100), Tolerance(1.2, 0.0, "rounded rows move the sums by about one point"), "index", "62 %"
        ),
        marks=2,
        competency=EFFECTIVENESS,
        page=PAGE,
        title="Index of effectiveness over a part of the turn",
        solve=lambda case, _: effectiveness_pct(case),
    ),
    Task(
        "opposite-torque",
        "While the right crank crosses the sector you named, what is the **mean torque of the left leg**? The left leg "
        "does the same as the right, half a turn later. A minus sign means that it holds the cranks back.",
        Quantity("N m", (-60, 160), Tolerance(0.2, 0.01, PEDAL_REPEATS), "torque", "5.5 N m"),
        marks=2,
        competency=BOTH_LEGS,
        page=PAGE,
        title="Torque of the left leg in that sector",
        solve=lambda case, earlier: opposite_torque_nm(case, earlier["sector"]),
        uses=("sector",),
    ),
    Task(
        "opposite-leg",
        "So what does the left leg do while the right one works hardest?",
        Choice(
            (
                Option("drives", "It still adds to the drive: its pedal force turns the cranks forward."),
                Option(
                    "holds-back", "It holds back: its pedal presses against the turn, and the right leg lifts it along."
                ),
                Option("nothing", "Nothing: on the way up a foot neither drives nor holds back."),
            )
        ),
        marks=1,
        competency=BOTH_LEGS,
        page=PAGE,
        title="What the left leg does",
        solve=lambda _, earlier: opposite_leg(earlier["opposite-torque"]),
        uses=("opposite-torque",),
    ),
    Task(
        "judgement",
        "{{ rider }} {{ wish }}. **Is this record a reason to change the position? What would you check or ask "
        "first?** Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion("Says that this record alone is no reason to change: one leg, one effort, usual shape.", 1),
                Criterion(
                    "Names what to check first: zero and crank length of the pedal, a second record, both legs.", 1
                ),
                Criterion(
                    "Asks about pain, numbness and earlier injury, and says when to refer instead of fitting.", 1
                ),
                Criterion(
                    "Keeps evidence in proportion: effectiveness rises with power; coaching it up has no shown use.",
                    1,
                ),
            )
        ),
        marks=4,
        competency=JUDGEMENT,
        page=PAGE,
        title="Your recommendation",
    ),
)

FAMILY = Family(
    name="pedal-force-record",
    title="Pedal-force record",
    module_page=PAGE,
    competencies=(TORQUE, WORK, EFFECTIVENESS, BOTH_LEGS, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
