"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass

import numpy as np

from pedalwright.activity import ActivityComparison, active_at, compare_with_activity
from pedalwright.dynamics import JointLoads
from pedalwright.lever import SAMPLES, TEACHING_LEG
from pedalwright.posture import Posture
from pedalwright.recruit import Recruitment, recruit
from pedalwright.stroke import Stroke
from pedalwright_bench.bench import slider
from pedalwright_bench.ride import ridden
from pedalwright_bench.shapes import Floats

STEP_DEG = 5
SHOE_DEG = 13.0
"""How far the foot in a shoe lies toe-down against the pedal (park_caldwell_umberger_2022)."""

AGREES, DISAGREES = 2 / 3, 1 / 2
"""Overlap above which a prediction is said to agree with a window, and below which not (assumptions)."""


def rule_in_words(value: float, _unit: str) -> str:
    """Say how the calculation shares the load."""
    spread = {2: "fewer muscles", 3: "the usual rule", 4: "more muscles"}
    return f"power {value:g}, {spread[round(value)]}"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    effort_w: float = slider("Effort, both legs", "W", 100, 300, 100, 200, ("easy", "hard"))
    cadence_rpm: float = slider("Cadence", "rpm", 60, 100, 20, 80, ("slow", "fast"))
    power: float = slider("Rule of sharing", "", 2, 4, 1, 3, ("fewer", "more"), rule_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need; curves start at the top, one sample every 5°."""

    inputs: Inputs
    shared: Recruitment
    compared: tuple[ActivityComparison, ...]

    @property
    def muscles(self) -> tuple[str, ...]:
        """Names, in the order of the rows."""
        return self.shared.muscles

    def load(self, muscle: str) -> Floats:
        """Force of a muscle over the turn, of the most it can pull."""
        return np.asarray(self.shared.activation[self.muscles.index(muscle)])

    def peak_pct(self, muscle: str) -> float:
        """Greatest load of a muscle."""
        return 100 * float(self.load(muscle).max())

    def peak_at_deg(self, muscle: str) -> int:
        """Crank angle of the greatest load."""
        return STEP_DEG * int(np.argmax(self.load(muscle)))

    def active(self, muscle: str) -> np.ndarray:
        """Where a muscle counts as active."""
        return active_at(self.load(muscle))

    def of(self, muscle: str) -> tuple[ActivityComparison, ...]:
        """List the published windows of a muscle beside the prediction."""
        return tuple(one for one in self.compared if one.window.muscle == muscle)

    @property
    def hardest(self) -> str:
        """Muscle that comes nearest to the most it can pull."""
        return max(self.muscles, key=self.peak_pct)

    @property
    def agreeing(self) -> int:
        """Number of windows the prediction agrees with."""
        return sum(one.overlap > AGREES for one in self.compared)

    @property
    def disagreeing(self) -> int:
        """Number of windows of which it overlaps less than half."""
        return sum(one.overlap < DISAGREES for one in self.compared)

    @property
    def best(self) -> ActivityComparison:
        """Window with the greatest overlap."""
        return max(self.compared, key=lambda one: one.overlap)

    @property
    def worst(self) -> ActivityComparison:
        """Window with the least overlap."""
        return min(self.compared, key=lambda one: one.overlap)


def results(inputs: Inputs) -> Results:
    """Share the joint moments of one turn among the muscles, and compare with what was published."""
    stroke, _, loads = ridden(inputs.effort_w, inputs.cadence_rpm)
    shared = shared_load(stroke, loads, inputs.power)
    return Results(inputs, shared, compare_with_activity(shared))


def shared_load(stroke: Stroke, loads: JointLoads, power: float) -> Recruitment:
    """Share the joint moments at every fifth degree."""
    places = slice(0, SAMPLES, STEP_DEG)
    return recruit(
        loads.hip_extension_moment_nm[places],
        loads.knee_extension_moment_nm[places],
        loads.ankle_plantar_flexion_moment_nm[places],
        Posture(
            stroke.hip_flexion_deg[places],
            stroke.knee_flexion_deg[places],
            stroke.ankle_plantar_flexion_deg[places] + SHOE_DEG,
        ),
        exponent=power,
        thigh_length_mm=TEACHING_LEG.thigh_length_mm,
        shank_length_mm=TEACHING_LEG.shank_length_mm,
    )
