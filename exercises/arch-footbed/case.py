"""Arch and footbed: an index by the right length and load, a class, a tier of support, and what they are worth."""

from autograde.cases import Choice, Criterion, Family, Option, Quantity, Task, Tolerance, Words

from .arches import away_sd, class_of, clear, draw, gives_mm_per_kn, index_of, kept_pct, tier_of
from .pictures import figures
from .slips import MISCONCEPTIONS, PAGE, START
from .words import context, worked

GAUGE = "the gauge repeats to 1 mm"
MEASURE = "Measuring the foot"
NORMS = "Reading a norm"
SUPPORT = "Choosing support"
SAFETY = "Safety and referral"
JUDGEMENT = "Judgement"

TASKS = (
    Task(
        "index",
        "What is the **arch height index** of the {{ side }} foot, **standing**: height of the top of the foot over "
        "the length **from the heel to the joint of the big toe**?",
        Quantity("", (0.1, 0.7), Tolerance(0.006, because=GAUGE), "index", "0.25"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Arch height index",
        solve=lambda case, _: index_of(case.asked),
    ),
    Task(
        "away",
        "How many standard deviations is that from the mean of the norm? Plus for above.",
        Quantity("", (-6, 6), Tolerance(0.25, because="1 mm on the gauge is about a fifth of one"), "number", "-0.1"),
        marks=2,
        competency=NORMS,
        page=PAGE,
        title="Distance from the mean",
        solve=lambda _, earlier: away_sd(earlier["index"]),
        uses=("index",),
    ),
    Task(
        "class",
        "Within one standard deviation an arch is called *medium*. What is this one called?",
        Choice((Option("low", "low"), Option("medium", "medium"), Option("high", "high"))),
        marks=1,
        competency=NORMS,
        page=PAGE,
        title="Class of the arch",
        solve=lambda _, earlier: class_of(earlier["away"]),
        uses=("away",),
    ),
    Task(
        "kept",
        "How much of the sitting arch is left when standing, in per cent? (The arch rigidity index, as a share.)",
        Quantity("%", (1, 130), Tolerance(1.2, because="a millimetre of the two heights"), "share", "77 %"),
        marks=1,
        competency=MEASURE,
        page=PAGE,
        title="What is left when standing",
        solve=lambda case, _: kept_pct(case.asked),
    ),
    Task(
        "gives",
        "How far does the arch give for each kilonewton (**mm/kN**)? Take it that a foot carries a tenth of the body "
        "weight sitting and half of it standing; 1 kg weighs 9.81 N.",
        Quantity(
            "mm/kN", (0.5, 60), Tolerance(0.6, 0.04, "a fraction of a millimetre in the drop"), "give", "33 mm/kN"
        ),
        marks=3,
        competency=MEASURE,
        page=PAGE,
        title="How far the arch gives",
        solve=lambda case, _: gives_mm_per_kn(case.asked, case.mass_kg),
    ),
    Task(
        "tier",
        "Which footbed does the **habit of the trade** (common practice, no source) try first for an arch of this "
        "class?",
        Choice(
            (
                Option("significant", "significant support"),
                Option("mild", "mild support"),
                Option("moderate", "moderate support"),
            )
        ),
        marks=2,
        competency=SUPPORT,
        page=PAGE,
        title="A first footbed",
        solve=lambda _, earlier: tier_of(earlier["class"]),
        uses=("class",),
    ),
    Task(
        "today",
        "{{ rider }} answers your questions before the fit: *{{ answer }}*. What do you do today?",
        Choice(
            (
                Option("refer", "Fit no footbed; refer to a physician, and say why."),
                Option("try", "Try the first footbed on the trainer, ask how it feels, note it, look again."),
                Option("treat", "Sell the strongest footbed; it will cure the foot."),
            )
        ),
        marks=2,
        competency=SAFETY,
        page=START,
        title="Footbed or refer",
        solve=lambda case, _: "refer" if case.has_sign else "try",
        safety=True,
    ),
    Task(
        "judgement",
        "**Does this arch need support?** Tell {{ rider }} what class and norm mean, how sure you are, and what a "
        "footbed can and cannot be expected to do. Four to eight sentences, with your reasons.",
        Words(
            (
                Criterion(
                    "Says that a third of healthy feet fall outside the limits, so that no class is a fault or a "
                    "diagnosis.",
                    1,
                ),
                Criterion("Says how sure the class is, and keeps right and left apart.", 1),
                Criterion(
                    "Calls the evidence weak: more contact and felt support, no change of motion, comfort or power; "
                    "promises nothing, and says how a trial is judged or why none is made.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="What the class means",
    ),
)

FAMILY = Family(
    name="arch-footbed",
    title="Arch height and footbed",
    module_page=PAGE,
    competencies=(MEASURE, NORMS, SUPPORT, SAFETY, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
