"""Bench of module 2: saddle height, setback and crank length against the angles of knee and hip."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.leg_on_the_bicycle.draw import BicyclePicture
from pedalwright_bench.benches.leg_on_the_bicycle.model import Inputs, results
from pedalwright_bench.benches.leg_on_the_bicycle.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="leg-on-the-bicycle",
    title="The leg on the bicycle",
    question="What do saddle height, setback and crank length do to knee and hip?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=BicyclePicture,
    target=TARGET,
    notes=NOTES,
)
