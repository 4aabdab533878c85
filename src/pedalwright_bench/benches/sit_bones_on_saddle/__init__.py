"""Bench of module 5: two sit bones on a saddle, by width, posture and where the load acts."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.sit_bones_on_saddle.draw import SaddlePicture
from pedalwright_bench.benches.sit_bones_on_saddle.model import Inputs, results
from pedalwright_bench.benches.sit_bones_on_saddle.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="sit-bones-on-saddle",
    title="Sit bones on a saddle",
    question="What bears the rider when the saddle is narrower than the sit bones?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=SaddlePicture,
    target=TARGET,
    notes=NOTES,
)
