"""Bench of module 1: which muscle carries the load when, predicted and published."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.muscle_timing.draw import TimingPicture
from pedalwright_bench.benches.muscle_timing.model import Inputs, results
from pedalwright_bench.benches.muscle_timing.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="muscle-timing",
    title="Which muscle, when",
    question="Does a calculation tell when each muscle works, and do measurements agree?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=TimingPicture,
    target=TARGET,
    notes=NOTES,
)
