"""Bench of module 2: one pose under the names and zeros in use."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.angle_conventions.draw import ConventionsPicture
from pedalwright_bench.benches.angle_conventions.model import Inputs, results
from pedalwright_bench.benches.angle_conventions.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="angle-conventions",
    title="One pose, many numbers",
    question="Which of these numbers describe the same pose?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=ConventionsPicture,
    target=TARGET,
    notes=NOTES,
)
