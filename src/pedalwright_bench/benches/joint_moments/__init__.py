"""Bench of module 3: joint moments and powers, and what the direction of the push does to the hip."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.joint_moments.draw import JointPicture
from pedalwright_bench.benches.joint_moments.model import Inputs, results
from pedalwright_bench.benches.joint_moments.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="joint-moments",
    title="What the joints must do",
    question="Which joint does the work, and what does the direction of the push change?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=JointPicture,
    target=TARGET,
    notes=NOTES,
)
