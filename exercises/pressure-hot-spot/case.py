"""Pressure under a foot: force, contact, hot spot and centre of a map, and when two maps may be compared."""

from autograde.cases import Choice, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .mat import (
    REGIONS,
    area_cm2,
    change_pct,
    clear,
    draw,
    forefoot_share_pct,
    from_heel_mm,
    spot_region,
    total_n,
)
from .pictures import figures
from .slips import MISCONCEPTIONS, PAGE, START
from .words import context, worked

READ = "Reading a map"
COMPARE = "Comparing maps"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"

TASKS = (
    Task(
        "force",
        "How large is the **force** on the whole map? (1 kPa is 0.001 N on each square millimetre.)",
        Quantity("N", (20, 900), Tolerance(2, 0.02, "each cell is a whole kilopascal"), "force", "777 N"),
        marks=2,
        competency=READ,
        page=PAGE,
        title="Force on the map",
        solve=lambda case, _: total_n(case),
    ),
    Task(
        "area",
        "How large is the **contact area** in square centimetres: the cells of **more than {{ threshold }} kPa**?",
        Quantity("cm^2", (5, 300), Tolerance(2, because="less than half a cell"), "area", "33 cm^2"),
        marks=2,
        competency=READ,
        page=PAGE,
        title="Contact area",
        solve=lambda case, _: area_cm2(case),
    ),
    Task(
        "spot",
        "In which region is the **hot spot**, the cell with the highest pressure?",
        Choice(tuple(Option(name, name) for name in REGIONS)),
        marks=1,
        competency=READ,
        page=PAGE,
        title="Hot spot",
        solve=lambda case, _: spot_region(case),
    ),
    Task(
        "share",
        "Which share of the force is on the **forefoot**, inner and outer together?",
        Quantity("%", (1, 100), Tolerance(1, because="each cell is a whole kilopascal"), "share", "77 %"),
        marks=2,
        competency=READ,
        page=PAGE,
        title="Share of the forefoot",
        solve=lambda case, _: forefoot_share_pct(case),
    ),
    Task(
        "along",
        "How far from the end of the heel does the whole force act (the **centre of pressure**, along the foot)?",
        Quantity("mm", (1, 260), Tolerance(1.5, because="each cell is a whole kilopascal"), "distance", "66 mm"),
        marks=2,
        competency=READ,
        page=PAGE,
        title="Centre of pressure",
        solve=lambda case, _: from_heel_mm(case),
    ),
    Task(
        "change",
        "With a padded insole a second map showed **{{ later_peak }} kPa** at its highest cell, at a force of "
        "**{{ later_force }} N**. By how many per cent did the peak change **for the same load**, a peak being in "
        "proportion to the load? Minus for less.",
        Quantity("%", (-80, 150), Tolerance(1.5, because="each peak is a whole kilopascal"), "change", "-7 %"),
        marks=3,
        competency=COMPARE,
        page=PAGE,
        title="Change of the peak",
        solve=lambda case, earlier: change_pct(case, earlier["force"]),
        uses=("force",),
    ),
    Task(
        "today",
        "{{ rider }} answers your questions before the fit: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("diagnose", "Tell the rider which disease of the forefoot the map shows."),
                Option("try", "Try one change, ask how it feels, record again at the same load, look again."),
                Option("refer", "Change nothing; refer to a physician, and say why and how soon."),
            )
        ),
        marks=2,
        competency=SAFETY,
        page=START,
        title="Go on or refer",
        solve=lambda case, _: "refer" if case.has_sign else "try",
        safety=True,
    ),
    Task(
        "judgement",
        "**Did the insole help?** Tell {{ rider }} what the two maps show, what they cannot show, and what you would "
        "do next. Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion(
                    "Compares at the same load and weighs the change against how well the mat repeats (5 % in a peak).",
                    1,
                ),
                Criterion(
                    "Says that one cell can be a fold of the mat and one recording is one recording: records again.", 1
                ),
                Criterion(
                    "Puts the rider's own feeling beside the map, knows no limit that makes a pressure ill, and refers "
                    "or goes on as the answer asks for.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="Did it help?",
    ),
)

FAMILY = Family(
    name="pressure-hot-spot",
    title="Pressure map and hot spot",
    module_page=PAGE,
    competencies=(READ, COMPARE, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
