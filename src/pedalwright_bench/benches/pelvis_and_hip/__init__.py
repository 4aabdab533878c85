"""Bench of module 5: the pelvis rolled forward, how far the hip closes, and what the gluteus maximus makes of it."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.pelvis_and_hip.draw import PelvisPicture
from pedalwright_bench.benches.pelvis_and_hip.model import Inputs, results
from pedalwright_bench.benches.pelvis_and_hip.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="pelvis-and-hip",
    title="The pelvis rolls, the hip closes",
    question="What closes the hip more at the top: a longer crank or a pelvis rolled forward?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=PelvisPicture,
    target=TARGET,
    notes=NOTES,
)
