"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass

from pedalwright.pelvis import bearing_width_mm, bone_margin_mm
from pedalwright.seat import Saddle, Seating, SitBones, sit
from pedalwright_bench.bench import slider

SIT_BONE_WIDTH_MM = 130.0
LOAD_N = 350.0
CELL_MM = 2.5
TARGET_MM = (0.0, 10.0)


def roll_in_words(value: float, unit: str) -> str:
    """Say how far the pelvis is rolled forward."""
    return "upright" if value == 0 else f"rolled {value:g}{unit} forward"


def load_in_words(value: float, unit: str) -> str:
    """Say where the load acts."""
    return "in the middle" if value == 0 else f"{abs(value):g} {unit} to the {'right' if value > 0 else 'left'}"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    saddle_width_mm: float = slider("Saddle that bears", "mm", 110, 170, 15, 125, ("narrow", "wide"))
    pelvic_roll_deg: float = slider("Pelvis", "°", 0, 30, 15, 0, ("upright", "low"), roll_in_words)
    load_across_mm: float = slider("Load acts", "mm", -12, 12, 12, 0, ("left", "right"), load_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    bearing_width_mm: float
    margin_mm: float
    seating: Seating

    @property
    def margin_in_target(self) -> bool:
        """Whether the bones lie in the target window."""
        return TARGET_MM[0] <= self.margin_mm <= TARGET_MM[1]


def results(inputs: Inputs) -> Results:
    """Let the pelvis down on the saddle."""
    width = float(bearing_width_mm(SIT_BONE_WIDTH_MM, inputs.pelvic_roll_deg))
    return Results(
        inputs=inputs,
        bearing_width_mm=width,
        margin_mm=float(bone_margin_mm(inputs.saddle_width_mm, width)),
        seating=sit(
            SitBones(width),
            Saddle(inputs.saddle_width_mm),
            LOAD_N,
            load_across_mm=inputs.load_across_mm,
            cell_mm=CELL_MM,
        ),
    )
