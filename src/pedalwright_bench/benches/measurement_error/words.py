"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright.decision import INSIDE, NOT_SURE
from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.measurement_error.model import CONFIDENCE, TARGET_DEG, Results, repeats_in_words

TARGET = (
    f"Shaded: the target window, {TARGET_DEG[0]:g} to {TARGET_DEG[1]:g}° of knee flexion with the pedal at the bottom "
    f"(common practice). A verdict is given from {100 * CONFIDENCE:g} % on, a convention; below that the honest answer "
    "is “not sure”."
)

NOTES = (
    (
        "What the model keeps",
        "A measured law: readings of one knee scatter around it in the bell of a normal distribution, and a mean of "
        "four scatters half as much. How much each instrument scatters comes from the smallest change that several "
        "raters could tell from noise at a resting knee: 6, 10, 12 and 14° (Hancock and others 2018); the standard "
        "error is that change over 1.96·√2.",
    ),
    (
        "What it leaves out",
        "An error that stays: a landmark always marked too high, a foot that hangs otherwise than on the road, a rider "
        "who sits differently when watched. Averaging does not touch it, so lift the tool off, mark again, and let "
        "somebody else repeat. That the knee was at rest in the study, not pedalling, makes these figures kind ones.",
    ),
    (
        "What follows",
        "“Not sure” is no failure: measure again, measure better, or leave the position alone. A value inside the "
        "window proves no health, and one outside is no diagnosis: pain, swelling or a locking knee goes to a "
        "physician or physiotherapist, whatever the angle.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs = results.inputs
    place = "inside" if results.reading_in_target else "outside"
    return (
        f"A reading of {inputs.reading_deg:g}° ({repeats_in_words(inputs.repeats, '')}, {results.instrument.label}) "
        f"lies {place} the window, with a standard uncertainty of {results.uncertainty_deg:.1f}°: the knee itself is "
        f"inside with a probability of {100 * results.probability_inside:.0f} %, so the verdict is "
        f"“{results.verdict}”{_advice(results)}."
    )


def _advice(results: Results) -> str:
    if results.verdict != NOT_SURE:
        return ""
    needed = results.readings_for_a_verdict
    if needed <= results.inputs.repeats:
        return "; it lies too near the edge for this instrument"
    return f"; with this instrument “{INSIDE}” takes at least {needed} readings, and a value in the middle"


def prediction(results: Results) -> Prediction:
    """Ask how sure one reading is before the picture is seen."""
    inside = 100 * results.probability_inside
    told = (
        f"The standard uncertainty is {results.uncertainty_deg:.1f}°, the edge is "
        f"{TARGET_DEG[1] - results.inputs.reading_deg:g}° away, and the knee is inside with {inside:.0f} %."
    )
    return Prediction(
        prompt=f"Before you look: one reading with a {results.instrument.label} says {results.inputs.reading_deg:g}°, "
        f"and the window is {TARGET_DEG[0]:g} to {TARGET_DEG[1]:g}°. How sure are you that the knee is inside?",
        choices=(
            Choice("Sure: the reading is inside", f"No. {told}"),
            Choice("About two to one", f"Yes. {told}", right=True),
            Choice("It could be anywhere", f"It is better than that. {told}"),
        ),
    )
