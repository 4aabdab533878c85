"""What riders say before a fit: remarks that stop it, remarks that only sound like it, and remarks about nothing."""

from dataclasses import dataclass

import numpy as np

from pedalwright.referral import refer


@dataclass(frozen=True)
class Sign:
    """A remark that stops the fit, and the entry of the stop list it belongs to."""

    remark: str
    entry: str
    about: str


@dataclass(frozen=True)
class Lookalike:
    """Ordinary soreness: what makes it ordinary stands in the remark itself."""

    remark: str
    about: str


SIGNS = (
    Sign(
        "On Sunday's climb I felt a pressure in the chest, and on the stairs today it came back",
        "chest pain or fainting",
        "chest",
    ),
    Sign(
        "Since the long drive home one calf is swollen, warm and sore to touch; I did not knock it",
        "swollen painful calf",
        "calf",
    ),
    Sign(
        "Since yesterday I have trouble holding my water, and the whole seat feels numb",
        "loss of bladder or bowel control",
        "seat",
    ),
    Sign(
        "One knee has been hot and thick since yesterday, I can hardly bend it, and I have a fever",
        "hot swollen joint with fever",
        "knee",
    ),
    Sign(
        "The hip wakes me every night, however I lie, and I have lost weight without meaning to",
        "night pain, fever or weight loss",
        "hip",
    ),
    Sign(
        "On every ride I go numb between the legs, and it lasts into the evening",
        "genital numbness that lasts",
        "seat",
    ),
    Sign(
        "One leg has been getting weaker from week to week, and I cannot say why",
        "weakness or numbness that spreads",
        "leg",
    ),
    Sign(
        "My back hurts, and for some weeks there has been a tingling right down into the foot",
        "back pain with leg symptoms",
        "back",
    ),
    Sign(
        "One knee swells after each longer ride, and on the stairs it gives way at times",
        "knee that locks, gives way or swells",
        "knee",
    ),
    Sign(
        "Two fingers tingle for days after a ride, and I have begun to drop cups",
        "hand weakness or wasting",
        "hand",
    ),
    Sign(
        "On hard climbs one thigh always loses its power, and after two minutes of rest it is back",
        "leg weakness in effort that rest relieves",
        "leg",
    ),
)
LOOKALIKES = (
    Lookalike("The sit bones are sore after the first long ride of the year, and two days later that is over", "seat"),
    Lookalike("Both thighs burn on long climbs, one like the other, and at the top it is gone", "leg"),
    Lookalike("My hands tingle a little after four hours, and before supper that is gone", "hand"),
    Lookalike("Both calves are stiff the morning after a hilly day, and loose once I have walked about", "calf"),
    Lookalike("One knee cracks when I kneel down; it neither hurts nor swells", "knee"),
    Lookalike("My lower back is tired after a day of gardening, and fresh again in the morning", "back"),
    Lookalike("My feet get hot on long summer climbs, and on the way down they are as always", "foot"),
)
NEUTRAL = (
    "I broke a collar bone ten years ago, and nothing since",
    "In June I would like to ride for a whole day",
    "I ride three evenings a week, and on Sundays with friends",
    "The bicycle is second-hand; nobody has ever set it up for me",
    "I have had these shoes for two years",
    "My friends say that I sit crooked, but it does not trouble me",
)


@dataclass(frozen=True)
class Said:
    """The remarks of one rider in the order in which they were made, and what follows from them."""

    remarks: tuple[str, ...]
    stops_fit: bool
    emergency: bool


def draw_remarks(rng: np.random.Generator, sign_rate: float, emergency_share: float) -> Said:
    """Draw four remarks: one that only sounds like a sign, and at the given rate one that is a sign."""
    remarks, about, entries = [], "", []
    if rng.random() < sign_rate:
        urgent = rng.random() < emergency_share
        sign = _one_of(rng, tuple(each for each in SIGNS if _emergency(each) == urgent))
        remarks, about, entries = [sign.remark], sign.about, [sign.entry]
    remarks.append(_one_of(rng, tuple(each for each in LOOKALIKES if each.about != about)).remark)
    others = rng.permutation(len(NEUTRAL))[: 4 - len(remarks)]
    remarks += [NEUTRAL[place] for place in others]
    found = refer(entries)
    return Said(tuple(remarks[place] for place in rng.permutation(4)), found.stops_fit, found.urgency == "emergency")


def _emergency(sign: Sign) -> bool:
    return refer([sign.entry]).urgency == "emergency"


def _one_of(rng: np.random.Generator, things):
    return things[int(rng.integers(len(things)))]
