"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass, replace

import numpy as np

from pedalwright.constants import HIP_JOINT_WIDTH_MM
from pedalwright.force import at_crank_angle
from pedalwright.lever import TEACHING_LEG, TEACHING_POSITION
from pedalwright.position import Position, raised
from pedalwright.repeatability import KNEE_ANGLE_INSTRUMENTS
from pedalwright.rule_outcomes import DEFAULT_WINDOW, KNEE_FLEXION_WINDOWS
from pedalwright.targets import saddle_for_knee_flexion
from pedalwright.uneven_seat import uneven_seat
from pedalwright_bench.bench import slider

WINDOW = KNEE_FLEXION_WINDOWS[DEFAULT_WINDOW]
AIM_DEG = 30.0
FOOTBED_MM = 4.0
LOW_BY_MM = 15.0
TOOL = KNEE_ANGLE_INSTRUMENTS["inclinometer"]
BOTTOM_DEG = 180.0
FOUND, SADDLE, SEAT, FEET, AGAIN, LOOK = "found", "saddle", "seat", "feet", "again", "look"
ORDERS = {1: (FOUND, SADDLE, SEAT, FEET, AGAIN), 2: (FOUND, SEAT, FEET, SADDLE, LOOK)}
ORDER_NAMES = {1: "saddle first", 2: "support first"}
STEP_NAMES = {
    FOUND: "as found",
    SADDLE: "saddle set",
    SEAT: "seat levelled",
    FEET: "footbeds in",
    AGAIN: "saddle set again",
    LOOK: "measured again",
}


def order_in_words(value: float, unit: str) -> str:
    """Name the order of work."""
    return ORDER_NAMES[round(value)]


def step_in_words(value: float, unit: str) -> str:
    """Count the steps."""
    return "as found" if value == 0 else f"after step {value:g}"


def seat_in_words(value: float, unit: str) -> str:
    """Say how the seat was found."""
    return "level" if value == 0 else f"right side {value:g}{unit} higher"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    order: float = slider("Order of work", "", 1, 2, 1, 1, ("saddle first", "support first"), order_in_words)
    step: float = slider("Step", "", 0, 4, 1, 0, ("as found", "all done"), step_in_words)
    seat_deg: float = slider("Seat as found", "°", 0, 4, 2, 4, ("level", "sloping"), seat_in_words)


@dataclass(frozen=True)
class Step:
    """How the rider sits after one step; the saddle is counted from where it was found."""

    what: str
    name: str
    seat_deg: float
    footbed_mm: float
    right_deg: float
    left_deg: float
    saddle_mm: float
    moved_mm: float


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need: the whole way, and how far along it the learner is."""

    inputs: Inputs
    way: tuple[Step, ...]
    still_to_move_mm: float

    @property
    def now(self) -> Step:
        """Where the learner stands."""
        return self.way[round(self.inputs.step)]

    @property
    def done(self) -> tuple[Step, ...]:
        """The steps up to here."""
        return self.way[: round(self.inputs.step) + 1]

    @property
    def times_set(self) -> int:
        """How often the saddle was set so far."""
        return sum(step.what in (SADDLE, AGAIN) for step in self.done)

    @property
    def travelled_mm(self) -> float:
        """How far the saddle was moved so far, up and down added."""
        return sum(abs(step.moved_mm) for step in self.done)


def results(inputs: Inputs) -> Results:
    """Take the steps one after the other; the fitter sets the saddle by the right knee."""
    seat, footbed, saddle = inputs.seat_deg, 0.0, -LOW_BY_MM
    way = []
    for what in ORDERS[round(inputs.order)]:
        seat = 0.0 if what == SEAT else seat
        footbed = FOOTBED_MM if what == FEET else footbed
        move = to_move_mm(seat, footbed, saddle) if what in (SADDLE, AGAIN) else 0.0
        saddle += move
        right, left = knees_deg(seat, footbed, saddle)
        way.append(Step(what, name_of(what, inputs.seat_deg), seat, footbed, right, left, saddle + LOW_BY_MM, move))
    now = way[round(inputs.step)]
    return Results(inputs, tuple(way), to_move_mm(now.seat_deg, now.footbed_mm, now.saddle_mm - LOW_BY_MM))


def name_of(what: str, found_deg: float) -> str:
    """Name a step; a seat that was found level is only checked."""
    return "seat checked" if what == SEAT and found_deg == 0 else STEP_NAMES[what]


def position_of(footbed_mm: float, saddle_mm: float) -> Position:
    """Give the contact points; a footbed brings the hip so much nearer to the pedal."""
    moved = raised(TEACHING_POSITION, saddle_mm)
    return replace(moved, hip_above_saddle_mm=float(np.asarray(moved.hip_above_saddle_mm)) - footbed_mm)


def knees_deg(seat_deg: float, footbed_mm: float, saddle_mm: float) -> tuple[float, float]:
    """Flexion of the right and the left knee at the bottom, held still with a level foot."""
    seat = uneven_seat(TEACHING_LEG, position_of(footbed_mm, saddle_mm), seat_deg)
    both = (seat.right_knee_flexion_deg, seat.left_knee_flexion_deg)
    right, left = (float(at_crank_angle(flexion, BOTTOM_DEG)) for flexion in both)
    return right, left


def to_move_mm(seat_deg: float, footbed_mm: float, saddle_mm: float) -> float:
    """How far the saddle has to go, up positive, until the right knee is at the aim."""
    here = position_of(footbed_mm, saddle_mm)
    higher = HIP_JOINT_WIDTH_MM.value / 2 * np.sin(np.radians(seat_deg))
    hip = replace(here, hip_above_saddle_mm=float(np.asarray(here.hip_above_saddle_mm)) + higher)
    wanted = saddle_for_knee_flexion(TEACHING_LEG, hip, AIM_DEG)
    return float(np.asarray(wanted.saddle_height_mm) - np.asarray(here.saddle_height_mm))
