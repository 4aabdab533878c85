"""Bench of module 4: a wedge's height and angle over the real width, and the forefoot's tilt it leaves."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.wedge.draw import WedgePicture
from pedalwright_bench.benches.wedge.model import Inputs, results
from pedalwright_bench.benches.wedge.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="wedge",
    title="A wedge under the forefoot",
    question="How many degrees are a few millimetres, and under which edge?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=WedgePicture,
    target=TARGET,
    notes=NOTES,
)
