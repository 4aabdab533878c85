"""Bench of module 5: a seat that is higher on one side, seen from behind and from the front."""

from pedalwright_bench.bench import Bench
from pedalwright_bench.benches.uneven_seat.draw import SeatPicture
from pedalwright_bench.benches.uneven_seat.model import Inputs, results
from pedalwright_bench.benches.uneven_seat.words import NOTES, TARGET, prediction, sentence

BENCH = Bench(
    name="uneven-seat",
    title="An uneven seat, from behind and from the front",
    question="The seat is higher on one side: which knee is drawn to the frame?",
    inputs=Inputs,
    model=results,
    sentence=sentence,
    prediction=prediction,
    picture=SeatPicture,
    target=TARGET,
    notes=NOTES,
)
