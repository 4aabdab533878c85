"""A case family small enough to read at a glance, for tests of the cohort desk."""

import math
from dataclasses import dataclass

import numpy as np

from autograde.cases import (
    Choice,
    Criterion,
    Family,
    Misconception,
    Option,
    Quantity,
    Task,
    Tolerance,
    Words,
)

ONE_PIXEL_PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010806000000"
    "1f15c4890000000d49444154789c6360606060000000050001a5f64540"
    "0000000049454e44ae426082"
)


@dataclass(frozen=True)
class Drill:
    rider: str
    crank_mm: float
    force_n: float
    cadence_rpm: float


def draw(rng: np.random.Generator) -> Drill:
    return Drill(
        rider=str(rng.choice(["Rowan", "Hazel", "Alder"])),
        crank_mm=float(rng.choice([165.0, 170.0, 172.5, 175.0])),
        force_n=float(rng.integers(150, 400)),
        cadence_rpm=float(rng.integers(70, 100)),
    )


FAMILY = Family(
    name="crank-drill",
    title="Crank drill",
    module_page="lever-tangency",
    competencies=("torque", "judgement"),
    draw=draw,
    tasks=(
        Task(
            "torque",
            "What torque acts on the crank?",
            Quantity("N m", (0, 150), Tolerance(relative=0.02, because="the pedal repeats to 2 %"), asks="torque"),
            marks=2,
            competency="torque",
            page="lever-tangency",
            solve=lambda case, earlier: case.force_n * case.crank_mm / 1000,
        ),
        Task(
            "power",
            "What power is that at {{ cadence_rpm }} turns a minute?",
            Quantity("W", (0, 2000), Tolerance(relative=0.02, because="the pedal repeats to 2 %"), asks="power"),
            marks=3,
            competency="torque",
            page="lever-tangency",
            uses=("torque",),
            solve=lambda case, earlier: earlier["torque"] * case.cadence_rpm * 2 * math.pi / 60,
        ),
        Task(
            "other-leg",
            "Where is the other crank?",
            Choice((Option("same", "at the same place"), Option("opposite", "half a turn away"))),
            marks=1,
            competency="torque",
            page="lever-tangency",
            solve=lambda case, earlier: "opposite",
        ),
        Task(
            "advice",
            "What would you tell {{ rider }}, and when would you refer?",
            Words((Criterion("names the limits of the number", 1.0), Criterion("says when to refer", 1.0))),
            marks=2,
            competency="judgement",
            page="start-here",
        ),
    ),
    misconceptions=(
        Misconception(
            "metres-forgotten",
            "torque",
            "left the crank in millimetres",
            lambda case, earlier: case.force_n * case.crank_mm / 10,
            "The crank length went in as centimetres.",
            "conventions",
        ),
        Misconception(
            "turns-for-radians",
            "power",
            "took turns a second for angular velocity",
            lambda case, earlier: earlier["torque"] * case.cadence_rpm / 60,
            "Turns per second were used where radians per second belong.",
            "lever-tangency",
        ),
    ),
    figures=lambda case: {"crank": ONE_PIXEL_PNG},
    context=lambda case: {
        "rider": case.rider,
        "crank_mm": f"{case.crank_mm:g}",
        "force_n": f"{case.force_n:g}",
        "cadence_rpm": f"{case.cadence_rpm:g}",
    },
)
