"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.support_then_align.model import (
    AIM_DEG,
    FOOTBED_MM,
    LOW_BY_MM,
    ORDER_NAMES,
    TOOL,
    WINDOW,
    Inputs,
    Results,
    results,
    seat_in_words,
)

TARGET = (
    f"Shaded: the window often taught, {WINDOW.low_deg:g} to {WINDOW.high_deg:g}° of knee flexion, held still with the "
    f"crank at the bottom. The dashed line is what rider and fitter agreed on for the right knee, {AIM_DEG:g}°. Window "
    "and aim are common practice, no source shows that they protect."
)

NOTES = (
    (
        "What the model keeps",
        f"An invented rider with equal legs, the saddle {LOW_BY_MM:g} mm low as found. A seat that slopes lifts the "
        f"right hip and lowers the left one. A footbed lifts the whole foot by its thickness, {FOOTBED_MM:g} mm, so "
        "hip and pedal come nearer. The fitter sets the saddle by the right knee alone, as happens in a hurry. It is a "
        "teaching model: three sides of a triangle and the law of cosines.",
    ),
    (
        "What it leaves out",
        "A rider who answers a change by moving the ankle, tilting the pelvis or sliding on the saddle; footbeds that "
        "are thicker under the heel; the error of each reading. The bar on the right knee shows how large that error "
        f"is with a digital inclinometer: 1.96 times {TOOL.standard_error_deg:.1f}° either way, from the smallest "
        "change that several raters could tell (Hancock and others 2018).",
    ),
    (
        "What follows, and how well it is known",
        "That support comes before alignment is common practice: no trial compared the two orders. The bench shows the "
        "reason that can be reckoned: what holds the foot or the pelvis moves the knee by several millimetres of "
        "saddle, so the saddle is set again. The change is smaller than the tool can tell from its own error, so "
        "measuring alone would not have warned you. Pain that grows stops the work; it goes to a physician or "
        "physiotherapist, whatever the step.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    now, inputs = results.now, results.inputs
    found = seat_in_words(inputs.seat_deg, "°").replace("side", "side was")
    order = ORDER_NAMES[round(inputs.order)].capitalize()
    return (
        f"{order}, on a seat {'found level' if inputs.seat_deg == 0 else f'whose {found}'}: {_step(results)}, the "
        f"right knee bends {now.right_deg:.1f}° and the left {now.left_deg:.1f}°; {_moved(results)}, and for "
        f"{AIM_DEG:g}° at the right knee it {_to_go(results.still_to_move_mm)}."
    )


def _step(results: Results) -> str:
    step = round(results.inputs.step)
    name = results.now.name
    return name if step == 0 else f"after step {step} ({name})"


def _moved(results: Results) -> str:
    times = {0: "not yet", 1: "once", 2: "twice"}[results.times_set]
    if not results.times_set:
        return "the saddle was not set yet"
    return f"the saddle was set {times}, {results.travelled_mm:.0f} mm in all"


def _to_go(move_mm: float) -> str:
    if abs(move_mm) < 0.5:
        return "is where it belongs"
    return f"has still to go {'up' if move_mm > 0 else 'down'} by {abs(move_mm):.0f} mm"


def prediction(at_start: Results) -> Prediction:
    """Ask what support does to a knee that was set before it."""
    seat = at_start.inputs.seat_deg
    last = results(Inputs(order=1, step=3, seat_deg=seat))
    told = (
        f"On the level seat the right hip comes down, and the footbeds lift the feet: the right knee goes from "
        f"{AIM_DEG:g}° to {last.now.right_deg:.1f}°, and the saddle has to go up by another "
        f"{last.still_to_move_mm:.0f} mm."
    )
    return Prediction(
        prompt=f"Before you look: the right side of the seat is {seat:g}° too high. The saddle is set until the right "
        f"knee bends {AIM_DEG:g}°; only then is the seat levelled and {FOOTBED_MM:g} mm of footbed put in. What does "
        "the right knee do?",
        choices=(
            Choice("It stays where it was set", f"Nothing was moved at the saddle, and yet it changes. {told}"),
            Choice("It bends more", f"Yes. {told}", right=True),
            Choice("It bends less", f"The other way: hip and pedal come nearer to each other. {told}"),
        ),
    )
