"""Bench of module 6: the same three changes in two orders, and how often the saddle has to be set."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.support_then_align.draw import OrderPicture
from pedalwright_bench.benches.support_then_align.model import Inputs, results
from pedalwright_bench.benches.support_then_align.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="support-then-align",
    title="Support first, then align",
    question="What happens to a saddle height that was set before the feet and the seat?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=OrderPicture,
    target=TARGET,
    notes=NOTES,
)
