"""Bench of module 4: a foot that gives under load, followed up to the knee, with and without a footbed."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.foot_under_load.draw import FootPicture
from pedalwright_bench.benches.foot_under_load.model import Inputs, results
from pedalwright_bench.benches.foot_under_load.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="foot-under-load",
    title="From a foot that gives to the knee",
    question="How much of the knee’s drift inward can a footbed under the arch take away?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=FootPicture,
    target=TARGET,
    notes=NOTES,
)
