"""10,000 riders × 72 crank angles: kinematics and inverse dynamics in one call against a rigid-body library's loop.

Run: ``python benchmarks/strokes.py [RIDERS]``. The loop gets the states ready made (angles, rates, forces) and does
inverse dynamics only, each rider a compiled model of its own, built before the clock starts; it is timed on a sample
of the same riders in the same process, and the ratio is one of processor times per state, so that other work on the
machine does not enter.
"""

import resource
import sys
import time
import tracemalloc
from statistics import median

import mujoco
import numpy as np

from pedalwright.dynamics import JointLoads, LegInertia, inverse_dynamics
from pedalwright.position import Leg, Position
from pedalwright.recorded import recorded_pedal_angle, recorded_pedal_force
from pedalwright.stroke import Stroke, solve_stroke

ANGLES = np.arange(72) * 5.0
COM, GYRATION = (0.433, 0.433, 0.5), (0.323, 0.302, 0.475)
SAMPLE, REPEATS = 40, 7


class Riders:
    """Invented riders: sizes, masses, positions and cadences drawn from plain ranges."""

    def __init__(self, count: int) -> None:
        draw = np.random.default_rng(20)
        self.size = draw.uniform(0.85, 1.12, count)
        self.leg = Leg(428.75 * self.size, 430.5 * self.size, 150 * self.size)
        self.position = Position(
            715 * self.size * draw.uniform(0.97, 1.01, count), 200 * self.size, draw.uniform(160, 177.5, count)
        )
        self.masses = draw.uniform(50, 95, (count, 1)) * np.array([0.1, 0.0465, 0.0145])
        self.cadence = draw.uniform(60, 110, count)
        self.force = recorded_pedal_force(crank_angle_deg=ANGLES)

    def solve(self) -> tuple[Stroke, JointLoads]:
        stroke = solve_stroke(self.leg, self.position, ANGLES, recorded_pedal_angle(), self.cadence)
        return stroke, inverse_dynamics(stroke, LegInertia(self.masses, COM, GYRATION), *self.force)


def planar_leg(lengths_m: np.ndarray, masses: np.ndarray) -> tuple[mujoco.MjModel, mujoco.MjData]:
    bodies = ""
    for k in range(3):
        turning = masses[k] * (GYRATION[k] * lengths_m[k]) ** 2
        bodies += (
            f'<body pos="{lengths_m[k - 1] if k else 0} 0 0"><joint type="hinge" axis="0 0 1"/>'
            f'<inertial pos="{COM[k] * lengths_m[k]} 0 0" mass="{masses[k]}" diaginertia="{3 * f"{turning} "}"/>'
        )
    model = mujoco.MjModel.from_xml_string(
        f'<mujoco><option gravity="0 -9.80665 0"/><worldbody>{bodies}'
        f'<site name="pedal" pos="{lengths_m[2]} 0 0"/></body></body></body></worldbody></mujoco>'
    )
    return model, mujoco.MjData(model)


def states_of(stroke: Stroke, rider: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Joint angles, velocities and accelerations of one rider, crank angle by joint."""
    motion = stroke.motion
    assert motion is not None
    columns = []
    for thigh, shank, foot in (
        (stroke.thigh_angle_deg, stroke.shank_angle_deg, stroke.foot_angle_deg),
        (motion.thigh_velocity_deg_s, motion.shank_velocity_deg_s, motion.foot_velocity_deg_s),
        (motion.thigh_acceleration_deg_s2, motion.shank_acceleration_deg_s2, motion.foot_acceleration_deg_s2),
    ):
        a, b, c = thigh[rider], shank[rider], foot[rider]
        columns.append(np.ascontiguousarray(np.radians([a, b - a, c - b]).T))
    return columns[0], columns[1], columns[2]


def loop(model: mujoco.MjModel, data: mujoco.MjData, states: tuple[np.ndarray, ...], on_foot: np.ndarray) -> np.ndarray:
    angles, rates, changes = states
    moments, jacobian = np.empty((72, 3)), np.zeros((3, 3))
    for k in range(72):
        data.qpos[:] = angles[k]
        data.qvel[:] = rates[k]
        data.qacc[:] = changes[k]
        mujoco.mj_inverse(model, data)
        mujoco.mj_jacSite(model, data, jacobian, None, 0)
        moments[k] = data.qfrc_inverse - jacobian.T @ on_foot[k]
    return moments


def main(count: int) -> None:
    riders = Riders(count)
    start = time.process_time()
    riders.solve()
    first = time.process_time() - start
    times = []
    for _ in range(REPEATS):
        start = time.process_time()
        stroke, joints = riders.solve()
        times.append(time.process_time() - start)
    ours = median(times)

    chosen = np.linspace(0, count - 1, min(SAMPLE, count)).astype(int)
    lengths = (
        np.stack([riders.leg.thigh_length_mm, riders.leg.shank_length_mm, riders.leg.ankle_to_pedal_mm], -1) / 1000
    )
    models = [planar_leg(lengths[rider], riders.masses[rider]) for rider in chosen]
    states = [states_of(stroke, rider) for rider in chosen]
    on_foot = np.stack([-riders.force[0], -riders.force[1], np.zeros(72)], axis=-1)
    loops = []
    for _ in range(REPEATS):
        start = time.process_time()
        found = [loop(*model, state, on_foot) for model, state in zip(models, states, strict=True)]
        loops.append(time.process_time() - start)
    theirs = median(loops) / len(chosen) * count
    expected = np.stack(found)
    got = np.stack(
        [-joints.hip_extension_moment_nm, joints.knee_extension_moment_nm, -joints.ankle_plantar_flexion_moment_nm], -1
    )[chosen]
    gap = np.abs(got - expected).max()

    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    del stroke, joints
    tracemalloc.start()
    kept = riders.solve()
    held, highest = (value / 2**20 for value in tracemalloc.get_traced_memory())
    tracemalloc.stop()
    del kept
    rows = [
        ("states (riders × crank angles)", f"{count * 72:,}"),
        ("kinematics and inverse dynamics, one call, median", f"{ours:.3f} s"),
        ("the same, first call", f"{first:.3f} s"),
        (f"library loop, inverse dynamics only, from {len(chosen)} riders", f"{theirs:.2f} s"),
        ("ratio", f"{theirs / ours:.1f} ×"),
        ("greatest difference of a joint moment", f"{gap:.1e} N·m"),
        ("memory of the call: highest, of which results", f"{highest:.0f} MiB, {held:.0f} MiB"),
        ("peak memory of the whole process", f"{peak:.0f} MiB"),
    ]
    width = max(len(name) for name, _ in rows)
    for name, value in rows:
        print(f"{name:<{width}}  {value:>20}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
