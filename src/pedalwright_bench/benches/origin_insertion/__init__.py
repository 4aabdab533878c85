"""Bench of module 1: a muscle between two attachments shortens; which joint closes, which opens."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.origin_insertion.draw import OriginPicture
from pedalwright_bench.benches.origin_insertion.model import Inputs, results
from pedalwright_bench.benches.origin_insertion.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="origin-insertion",
    title="A muscle between two attachments",
    question="Which joint closes and which opens when it shortens?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=OriginPicture,
    target=TARGET,
    notes=NOTES,
)
