"""Bench of module 4: one load on a flat and on a contoured support, soft or firm."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.pressure_under_foot.draw import FootprintPicture
from pedalwright_bench.benches.pressure_under_foot.model import Inputs, results
from pedalwright_bench.benches.pressure_under_foot.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="pressure-under-foot",
    title="Pressure under the foot",
    question="What does a contoured support change that a flat one does not?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=FootprintPicture,
    target=TARGET,
    notes=NOTES,
)
