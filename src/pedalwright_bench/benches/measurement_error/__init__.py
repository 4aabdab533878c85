"""Bench of measuring: how well an instrument repeats, and how sure a verdict about a window can be."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.measurement_error.draw import ErrorPicture
from pedalwright_bench.benches.measurement_error.model import Inputs, results
from pedalwright_bench.benches.measurement_error.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="measurement-error",
    title="How sure are you?",
    question="The reading lies inside the window: does the knee?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=ErrorPicture,
    target=TARGET,
    notes=NOTES,
)
