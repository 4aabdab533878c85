"""Bench of module 1: one- and two-joint muscles on a moving leg."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.two_joint_muscles.draw import TwoJointPicture
from pedalwright_bench.benches.two_joint_muscles.model import Inputs, results
from pedalwright_bench.benches.two_joint_muscles.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="two-joint-muscles",
    title="One joint, two joints",
    question="How much does a muscle over two joints change its length?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=TwoJointPicture,
    target=TARGET,
    notes=NOTES,
)
