"""Angles from landmarks: one picture, several conventions, and what a record must say."""

from autograde.cases import Criterion, Family, Quantity, Task, Tolerance, Words

from .picture_of_rider import (
    ankle_deg,
    clear,
    draw,
    hip_deg,
    knee_deg,
    reported_flexion_deg,
    thigh_deg,
    trunk_deg,
)
from .pictures import figures
from .slips import MISCONCEPTIONS, PAGE
from .words import context, worked

PIXELS = "a pixel at each landmark is up to 1°"
SEGMENT = "Angles of segments"
JOINT = "Angles of joints"
TRANSLATE = "Translating conventions"
JUDGEMENT = "Judgement"


def angle(example: str) -> Quantity:
    """An angle read from the picture."""
    return Quantity("deg", (-180, 180), Tolerance(1, because=PIXELS), "angle", example)


TASKS = (
    Task(
        "thigh",
        "How far does the **thigh** (hip to knee) point below the horizontal? Minus if it points above it.",
        angle("11 deg"),
        marks=1,
        competency=SEGMENT,
        page=PAGE,
        title="Thigh below the horizontal",
        solve=lambda case, _: thigh_deg(case),
    ),
    Task(
        "trunk",
        "How far does the **trunk** (hip to shoulder) rise above the horizontal?",
        angle("77 deg"),
        marks=1,
        competency=SEGMENT,
        page=PAGE,
        title="Trunk above the horizontal",
        solve=lambda case, _: trunk_deg(case),
    ),
    Task(
        "trunk-thigh",
        "Which angle do trunk and thigh **include** at the hip?",
        angle("15 deg"),
        marks=2,
        competency=JOINT,
        page=PAGE,
        title="Angle between trunk and thigh",
        solve=lambda _, earlier: earlier["trunk"] + earlier["thigh"],
        uses=("thigh", "trunk"),
    ),
    Task(
        "hip",
        "The pelvis is tilted **{{ tilt }}° further forward than in standing**. What is the **hip flexion**, thigh "
        "against pelvis, 0° standing upright?",
        angle("155 deg"),
        marks=2,
        competency=JOINT,
        page=PAGE,
        title="Hip flexion",
        solve=lambda case, earlier: hip_deg(case) + thigh_deg(case) - earlier["thigh"],
        uses=("thigh",),
    ),
    Task(
        "knee",
        "What is the **knee flexion**, 0° for the straight leg?",
        angle("5 deg"),
        marks=2,
        competency=JOINT,
        page=PAGE,
        title="Knee flexion",
        solve=lambda case, _: knee_deg(case),
    ),
    Task(
        "ankle",
        "What is the **plantar flexion** of the ankle: sole (heel to toe) against shank, 0° at a right angle, minus "
        "for dorsiflexion?",
        angle("-33 deg"),
        marks=2,
        competency=JOINT,
        page=PAGE,
        title="Plantar flexion of the ankle",
        solve=lambda case, _: ankle_deg(case),
    ),
    Task(
        "reported",
        "A paper aims at “{{ reported }}° of knee flexion” at the bottom of the stroke, where a leg is nearly "
        "straight. Which flexion is that, counted as above?",
        Quantity("deg", (-180, 180), Tolerance(0.5, because="whole degrees"), "angle", "5 deg"),
        marks=1,
        competency=TRANSLATE,
        page=PAGE,
        title="A paper's number",
        solve=lambda case, _: reported_flexion_deg(case),
    ),
    Task(
        "judgement",
        "**Write the record**: {{ reason }}. What must stand beside your numbers so that they can be compared, how "
        "sure are they, and what do they not say? Four to eight sentences.",
        Words(
            (
                Criterion("Names landmarks, zero and sign of each angle, and the crank angle at which it was read.", 1),
                Criterion(
                    "Says that the two hip angles are different things, and that the ankle hangs on what is taken for "
                    "the foot.",
                    1,
                ),
                Criterion(
                    "Gives a repeatability and compares only what was measured alike; takes no angle for a diagnosis.",
                    1,
                ),
            )
        ),
        marks=3,
        competency=JUDGEMENT,
        page=PAGE,
        title="The record",
    ),
)

FAMILY = Family(
    name="angle-conventions",
    title="Angles from landmarks and their conventions",
    module_page=PAGE,
    competencies=(SEGMENT, JOINT, TRANSLATE, JUDGEMENT),
    draw=draw,
    tasks=TASKS,
    misconceptions=MISCONCEPTIONS,
    figures=figures,
    context=context,
    clear=clear,
    worked=worked,
)
