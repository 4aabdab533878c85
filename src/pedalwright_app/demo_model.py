"""The model by which the invented birds answer; everything the demonstration rests on is declared here.

**Ability.** A bird has an overall ability and, for every competency that a case names, a smaller deviation from it.
Both are drawn from normal distributions.

**Difficulty.** A task is as difficult as a rule says: a part for its kind of answer, a part for each mark above or
below two, a part for each earlier answer it builds on, less for a safety question (those are practised in every
module), and an accident of its own, drawn once.

**Right or not.** The chance to reason rightly is a logistic function of `SLOPE` times ability minus difficulty. Who
does not reason rightly follows a misconception, is simply off, or leaves the task empty, with chances in proportion to
proneness.

**The planted misconception** is a belief that goes round in the school: `BELIEVERS` of the birds, drawn by lot, hold it
and answer by it wherever it leads to an answer, however able they are. So it comes out as the most frequent one.

None of this is data about people, and but for the planted belief no number was chosen for what the report then shows.
Every draw has a stream of its own, named after what it is for, so that a further case changes nothing in the others.
The streams are Python's own, the same in every version.
"""

from __future__ import annotations

import math
import random
from functools import lru_cache
from statistics import NormalDist

from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Task, Words
from pedalwright_app.demo_birds import BIRDS, PLANTED, PLANTED_IN, Bird

__all__ = [
    "JUST_COMPETENT",
    "JUST_OFF",
    "LEFT_EMPTY",
    "ability",
    "believes",
    "chance_right",
    "difficulty",
    "forgets_units",
    "normal",
    "proneness",
    "stream",
]

ABILITY_MEAN, ABILITY_SD, DEVIATION_SD = 0.8, 0.8, 0.4
JUST_COMPETENT = 0.3
"""Ability of the person whom the raters have in mind."""
SLOPE = 1.7
"""Makes the logistic function lie close to the normal distribution function."""

KIND_DIFFICULTY: dict[type, float] = {
    Choice: -0.4,
    Quantity: 0.0,
    DirectedChange: 0.2,
    ChoiceSet: 0.3,
    Ordering: 0.3,
    Words: 0.2,
}
FOR_EACH_MARK, FOR_EACH_EARLIER, FOR_SAFETY, ACCIDENT_SD = 0.2, 0.1, -1.6, 0.4

BELIEVERS = 14
PRONENESS_RATIO = 3.0
JUST_OFF, LEFT_EMPTY = 0.8, 0.1
FORGETFUL_SHARE, FORGETS, SLIPS = 0.15, 0.05, 0.001


def stream(*purpose: str) -> random.Random:
    """Open the stream of chance for one purpose."""
    return random.Random("/".join(("Fenwick Quay, autumn", *purpose)))


def normal(chance: random.Random, mean: float, sd: float) -> float:
    """Draw from a normal distribution, in a way that does not depend on the version of Python."""
    return NormalDist(mean, sd).inv_cdf(min(max(chance.random(), 1e-9), 1 - 1e-9))


@lru_cache(maxsize=4096)
def ability(bird: Bird, competency: str) -> float:
    """Declare a bird's ability in one competency.

    Parameters
    ----------
    bird : Bird
        Who.
    competency : str
        As the case names it.

    Returns
    -------
    float
        Overall ability plus the deviation.
    """
    overall = normal(stream(bird.id, "ability"), ABILITY_MEAN, ABILITY_SD)
    return overall + normal(stream(bird.id, "deviation", competency), 0.0, DEVIATION_SD)


@lru_cache(maxsize=4096)
def difficulty(case: str, task: Task) -> float:
    """Declare how difficult a task is.

    Parameters
    ----------
    case : str
        Name of its case.
    task : Task
        The task.

    Returns
    -------
    float
        On the scale of ability.
    """
    rule = KIND_DIFFICULTY[type(task.kind)] + FOR_EACH_MARK * (task.marks - 2) + FOR_EACH_EARLIER * len(task.uses)
    return rule + FOR_SAFETY * task.safety + normal(stream("task", case, task.id), 0.0, ACCIDENT_SD)


def chance_right(of_ability: float, of_difficulty: float) -> float:
    """Give the chance to reason rightly.

    Examples
    --------
    >>> chance_right(0.7, 0.7)
    0.5
    """
    return 1 / (1 + math.exp(-SLOPE * (of_ability - of_difficulty)))


def proneness(bird: Bird, misconception: str) -> float:
    """Declare how much a bird is given to a misconception.

    Parameters
    ----------
    bird : Bird
        Who.
    misconception : str
        Its id; a slip of the same name in another case is the same slip.

    Returns
    -------
    float
        From a third to three times 1.
    """
    return float(PRONENESS_RATIO ** (2 * stream(bird.id, "prone", misconception).random() - 1))


def believes(bird: Bird, case: str, misconception: str) -> bool:
    """Tell whether a misconception is the planted one and the bird holds it."""
    return (case, misconception) == (PLANTED_IN, PLANTED) and bird in _believers()


@lru_cache(maxsize=1)
def _believers() -> frozenset[Bird]:
    by_lot = sorted(BIRDS, key=lambda bird: stream(bird.id, "believes").random())
    return frozenset(by_lot[:BELIEVERS])


def forgets_units(bird: Bird) -> float:
    """Declare how often a bird forgets a unit: a few do now and then, the others hardly ever."""
    return FORGETS if stream(bird.id, "units").random() < FORGETFUL_SHARE else SLIPS
