"""Bench of module 3: where the useful push peaks, and how little the saddle's fore-aft place moves it."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.lever_tangency.draw import LeverPicture
from pedalwright_bench.benches.lever_tangency.model import Inputs, results
from pedalwright_bench.benches.lever_tangency.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="lever-tangency",
    title="Force arrows around the pedal circle",
    question="Where will the useful push peak?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=LeverPicture,
    target=TARGET,
    notes=NOTES,
)
