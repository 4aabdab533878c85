"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass

import numpy as np

from pedalwright.decision import decide, uncertainty_needed
from pedalwright.repeatability import KNEE_ANGLE_INSTRUMENTS, Instrument, repeats_needed
from pedalwright_bench.bench import slider
from pedalwright_bench.shapes import Floats

TARGET_DEG = (25.0, 35.0)
CONFIDENCE = 0.95
INSTRUMENTS: tuple[Instrument, ...] = tuple(
    sorted(KNEE_ANGLE_INSTRUMENTS.values(), key=lambda one: one.smallest_change_deg)
)
SHORT_NAMES = ("inclinometer", "long goniometer", "phone", "short goniometer")


def instrument_in_words(value: float, unit: str) -> str:
    """Name the instrument by its place in the list."""
    return INSTRUMENTS[round(value) - 1].label


def repeats_in_words(value: float, unit: str) -> str:
    """Say how many readings are averaged."""
    return "one reading" if value == 1 else f"mean of {value:g} readings"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    reading_deg: float = slider("Knee flexion read", "°", 27, 39, 3, 33, ("less", "more"))
    instrument: float = slider("Instrument", "", 1, 4, 1, 2, ("repeats well", "repeats badly"), instrument_in_words)
    repeats: float = slider("Readings", "", 1, 4, 3, 1, ("one", "four"), repeats_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    instrument: Instrument
    uncertainty_deg: float
    probability_inside: float
    verdict: str
    all_probabilities: Floats
    readings_for_a_verdict: int

    @property
    def reading_in_target(self) -> bool:
        """Whether the reading itself lies in the target window."""
        return TARGET_DEG[0] <= self.inputs.reading_deg <= TARGET_DEG[1]


def results(inputs: Inputs) -> Results:
    """Hold the reading against the window."""
    instrument = INSTRUMENTS[round(inputs.instrument) - 1]
    spread = np.array([one.standard_error_deg for one in INSTRUMENTS]) / np.sqrt(inputs.repeats)
    decisions = decide(inputs.reading_deg, spread, *TARGET_DEG, confidence=CONFIDENCE)
    place = INSTRUMENTS.index(instrument)
    return Results(
        inputs=inputs,
        instrument=instrument,
        uncertainty_deg=float(spread[place]),
        probability_inside=float(decisions.probability_inside[place]),
        verdict=str(decisions.verdict[place]),
        all_probabilities=decisions.probability_inside,
        readings_for_a_verdict=int(
            repeats_needed(instrument.standard_error_deg, uncertainty_needed(*TARGET_DEG, CONFIDENCE))
        ),
    )
