"""Inputs of the bench and what the calculation package makes of them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pedalwright.force import mean_over_turn
from pedalwright.work_shares import PUBLISHED_WORK_SHARES, WorkShares, work_shares
from pedalwright_bench.bench import slider
from pedalwright_bench.leg import LegPose, pose_of
from pedalwright_bench.ride import ridden
from pedalwright_bench.shapes import Floats

JOINTS = ("hip", "knee", "ankle")


def lean_in_words(value: float, unit: str) -> str:
    """Say how the push was turned."""
    return "as recorded" if value == 0 else f"{value:g}{unit} further forward"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    effort_w: float = slider("Effort, both legs", "W", 100, 300, 100, 200, ("easy", "hard"))
    cadence_rpm: float = slider("Cadence", "rpm", 60, 100, 20, 80, ("slow", "fast"))
    lean_deg: float = slider("Direction of the push", "°", 0, 15, 5, 0, ("as recorded", "leaning"), lean_in_words)


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need; curves start at the top, one sample a degree."""

    inputs: Inputs
    pose: LegPose
    push_n: Floats
    moment_nm: Mapping[str, Floats]
    power_w: Mapping[str, Floats]
    pedal_power_w: float
    recorded_power_w: float
    work: WorkShares

    @property
    def peak_at_deg(self) -> int:
        """Crank angle at which the hip opens hardest."""
        return int(np.argmax(self.moment_nm["hip"]))

    @property
    def push_size_n(self) -> float:
        """Size of the push there."""
        return float(np.hypot(*self.push_n))

    @property
    def foot_of_hip_mm(self) -> Floats:
        """Point of the line of the push that lies nearest to the hip."""
        along = self.push_n / self.push_size_n
        return np.asarray(self.pose.pedal_mm + np.dot(self.pose.hip_mm - self.pose.pedal_mm, along) * along)

    @property
    def hip_distance_mm(self) -> float:
        """Distance at which the line of the push passes the hip."""
        return float(np.hypot(*(self.foot_of_hip_mm - self.pose.hip_mm)))

    def mean_power_w(self, joint: str) -> float:
        """Power of a joint, averaged over the turn."""
        return float(mean_over_turn(self.power_w[joint]))

    def lost_pct(self) -> float:
        """Power at the pedal lost against the push as it was recorded."""
        return 100 * (1 - self.pedal_power_w / self.recorded_power_w)


def shares_pct(work: WorkShares) -> tuple[float, ...]:
    """Shares of the positive work: hip opening, hip closing, knee opening, knee closing, ankle both ways."""
    ankle = float(work.ankle_plantar_flexion_pct) + float(work.ankle_dorsiflexion_pct)
    four = (work.hip_extension_pct, work.hip_flexion_pct, work.knee_extension_pct, work.knee_flexion_pct)
    return (*(float(share) for share in four), ankle)


def published_shares_pct() -> tuple[float, ...]:
    """Give the shares one study measured, in the same order."""
    shares = PUBLISHED_WORK_SHARES["ericson_1986"].shares
    assert shares is not None
    return shares_pct(shares)


def results(inputs: Inputs) -> Results:
    """Calculate joint moments and powers of one turn."""
    stroke, force, loads = ridden(inputs.effort_w, inputs.cadence_rpm, inputs.lean_deg)
    _, _, recorded = ridden(inputs.effort_w, inputs.cadence_rpm)
    moments = (
        loads.hip_extension_moment_nm,
        loads.knee_extension_moment_nm,
        loads.ankle_plantar_flexion_moment_nm,
    )
    peak = int(np.argmax(loads.hip_extension_moment_nm))
    return Results(
        inputs=inputs,
        pose=pose_of(stroke, peak),
        push_n=np.array([force[0][peak], force[1][peak]]),
        moment_nm=dict(zip(JOINTS, moments, strict=True)),
        power_w=dict(zip(JOINTS, (loads.hip_power_w, loads.knee_power_w, loads.ankle_power_w), strict=True)),
        pedal_power_w=float(mean_over_turn(loads.pedal_power_w)),
        recorded_power_w=float(mean_over_turn(recorded.pedal_power_w)),
        work=work_shares(loads),
    )
