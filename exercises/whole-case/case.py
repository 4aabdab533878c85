"""A whole case: refer or go on, support first, two knees, what the tool can tell, and one small change."""

from autograde.cases import (
    Choice,
    Criterion,
    DirectedChange,
    Family,
    Option,
    Ordering,
    Quantity,
    Task,
    Tolerance,
    Words,
)

from .pictures import figures
from .rider import Case, clear, difference_deg, draw, flexion_deg, smaller_move_mm, told_apart, verdict
from .slips import MISCONCEPTIONS, PAGE, RIGHT_ORDER, START
from .words import context, worked

ROUNDED = "the mean of three readings in whole degrees"
SAFETY = "Safety and referral"
ORDER = "Order of work"
MEASURE = "Measuring the position"
COMPARE = "Comparing sides"
CHANGE = "Changing the position"
JUDGEMENT = "Judgement"


def what_today(case: Case) -> str:
    """What the remarks ask for."""
    if not case.stops_fit:
        return "go-on"
    return "emergency" if case.emergency else "stop"


TASKS = (
    Task(
        "today",
        "Read the four remarks against the list *When to stop and refer*. What do you do today, before anything is "
        "moved?",
        Choice(
            (
                Option("treat", "Go on, and use the fit to treat what hurts or feels odd; refer if that fails."),
                Option("stop", "Adjust nothing. A physician or physiotherapist first, today or within days."),
                Option("go-on", "Go on in small steps, ask again at the end, and stop at any pain that grows."),
                Option("emergency", "Stop, no more pedalling, call the emergency number, stay with the rider."),
            )
        ),
        marks=2,
        competency=SAFETY,
        page=START,
        title="Go on, stop, or emergency",
        solve=lambda case, _: what_today(case),
        safety=True,
    ),
    Task(
        "order",
        "Bring the whole case into the order in which this course works.",
        Ordering(
            (
                Option("height", "set the saddle height"),
                Option("again", "ride, measure again with the same tool, write both numbers down"),
                Option("support", "support the feet and seat the pelvis evenly"),
                Option("ask", "ask about pain, illness, earlier injury and aims; refer or go on"),
                Option("fore-aft", "set the saddle fore and aft"),
                Option("baseline", "measure and write down how the rider sits now"),
            )
        ),
        marks=2,
        competency=ORDER,
        page=PAGE,
        title="Order of work",
        solve=lambda _case, _earlier: RIGHT_ORDER,
    ),
    Task(
        "knee",
        "How far is the **{{ side }}** knee flexed at the bottom of the stroke **as things stand now**? Count from the "
        "straight leg and give the mean of three readings.",
        Quantity("deg", (0, 90), Tolerance(0.7, because=ROUNDED), "angle", "11 deg"),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="The knee as it is now",
        solve=lambda case, _: flexion_deg(case, case.side),
    ),
    Task(
        "difference",
        "How much do the two knees differ **now**: flexion of the **right less the left**, from the means?",
        Quantity("deg", (-40, 40), Tolerance(0.7, because=ROUNDED), "difference", "-2.2 deg"),
        marks=2,
        competency=COMPARE,
        page=PAGE,
        title="Right less left",
        solve=lambda case, _: difference_deg(case),
    ),
    Task(
        "told",
        "What does a difference as large as yours show, measured with this tool?",
        Choice(
            (
                Option("open", "Nothing yet: the tool's error alone can make it. Measure again."),
                Option("length", "That one leg is shorter; a shim of that size evens it out."),
                Option("shown", "The two knees bend differently; why is not known."),
            )
        ),
        marks=2,
        competency=COMPARE,
        page=PAGE,
        title="What the difference shows",
        solve=lambda case, earlier: told_apart(case, earlier["difference"]),
        uses=("difference",),
    ),
    Task(
        "window",
        "The window is **25° to 35°**. A verdict at 95 % needs a mean that lies at least **1.64 standard "
        "uncertainties** away from the nearer edge. What is your verdict on the {{ side }} knee?",
        Choice(
            (
                Option("outside", "outside the window"),
                Option("inside", "inside the window"),
                Option("open", "not sure"),
            )
        ),
        marks=2,
        competency=MEASURE,
        page=PAGE,
        title="Inside, outside or not sure",
        solve=lambda case, earlier: verdict(case, earlier["knee"]),
        uses=("knee",),
    ),
    Task(
        "change",
        "Suppose a second fitter finds the same. One saddle serves two knees: work out which move would bring each "
        "knee to **30°**, and take the **smaller** of the two moves. How far, and which way: **raise** or **lower**? "
        "(You would go there in steps of 5 mm, riding after each.)",
        DirectedChange("mm", (-80, 80), Tolerance(1.5, 0.05, "half a degree of the knee is more than 1 mm")),
        marks=3,
        competency=CHANGE,
        page=PAGE,
        title="One change of the saddle",
        solve=lambda case, earlier: smaller_move_mm(case, earlier["knee"], earlier["difference"]),
        uses=("knee", "difference"),
    ),
    Task(
        "judgement",
        "**Write the entry for {{ rider }}'s record**, and what you say to {{ rider }}: what was said and what follows "
        "from it, what was measured and how sure it is, what you would change first and how you would check it. Five "
        "to ten sentences, with your reasons.",
        Words(
            (
                Criterion(
                    "Quotes the remark that decides, or says that none does; names to whom and how soon, or that it is "
                    "asked again; no diagnosis.",
                    1,
                ),
                Criterion(
                    "Says why support comes before the saddle, with the readings before and after as its reason.", 1
                ),
                Criterion("Gives right and left apart, with the tool and its error; draws no more from them.", 1),
                Criterion(
                    "Plans one small change, how it is checked and recorded, and when it is taken back; promises "
                    "neither power nor protection.",
                    1,
                ),
            )
        ),
        marks=4,
        competency=JUDGEMENT,
        page=PAGE,
        title="The record",
    ),
)

FAMILY = Family(
    name="whole-case",
    title="A whole case, from the first question to the record",
    module_page=PAGE,
    competencies=(SAFETY, ORDER, MEASURE, COMPARE, CHANGE, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
