"""Bench of module 3: two legs on opposed cranks, and why two meters read one ride differently."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.opposed_cranks.draw import CranksPicture
from pedalwright_bench.benches.opposed_cranks.model import Inputs, results
from pedalwright_bench.benches.opposed_cranks.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="opposed-cranks",
    title="Two legs on opposed cranks",
    question="What does the rising leg cost the other one?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=CranksPicture,
    target=TARGET,
    notes=NOTES,
)
