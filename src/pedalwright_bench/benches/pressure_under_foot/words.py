"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.pressure_under_foot.model import Results, filled_in_words, midfoot_share

TARGET = (
    "Shaded: the highest pressure no higher than on the flat support. No study gives a pressure that is safe or right "
    "for a rider; a map is compared with another map of the same foot, mat and load."
)

NOTES = (
    (
        "What the model keeps",
        "A stiff sole 255 mm long with an arch of 14 mm, pressed into springs of their own (an elastic bed) until the "
        "load over the pedal axle is in balance; the foot may tip. The contour lifts the springs under the arch. The "
        "stiffness is that of flesh and padding together.",
    ),
    (
        "What it leaves out",
        "Bones under the skin, toes that grip, a shoe that pinches, an arch that gives. So the hot spots of a real "
        "forefoot are missing and the numbers are too even. It is a teaching model: read which way contact and peak "
        "move, and how much more one moves than the other.",
    ),
    (
        "What is known, and how well",
        "Moderate evidence for contact: in twelve riders a contoured insert raised contact under the midfoot, and also "
        "the pressure under the big toe, which this sole cannot show (Bousie and others 2013). Weak evidence for "
        "anything beyond: no clear change of comfort or power (Yeo and Bonanno 2014). For a foot that burns "
        "or goes numb a wider shoe or a looser strap is tried first (common practice); numbness that stays, or a foot "
        "without feeling, belongs to a physician.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs, flat, shaped = results.inputs, results.flat, results.shaped
    start = (
        f"With {inputs.load_n:g} N on flesh and padding of {inputs.stiffness_kpa_mm:g} kPa/mm a flat support touches "
        f"{float(flat.midfoot_area_mm2) / 100:.0f} cm² of the midfoot, which bears {100 * midfoot_share(flat):.1f} % "
        f"of the load, and the highest pressure is {float(flat.peak_pressure_kpa):.1f} kPa"
    )
    if inputs.filled_pct == 0:
        return f"{start}; no contour is set to compare it with."
    way = "lower" if results.peak_change_pct < 0 else "higher"
    place = "inside" if results.peak_in_target else "outside"
    return (
        f"{start}; a support that {filled_in_words(inputs.filled_pct, '%')} touches "
        f"{float(shaped.midfoot_area_mm2) / 100:.0f} cm² there, which bear {100 * midfoot_share(shaped):.1f} %, and "
        f"the highest pressure is {float(shaped.peak_pressure_kpa):.1f} kPa, {abs(results.peak_change_pct):.1f} % "
        f"{way} and {place} the target window."
    )


def prediction(results: Results) -> Prediction:
    """Ask what the contour does to the peak before the picture is seen."""
    more = float(results.shaped.midfoot_area_mm2 / results.flat.midfoot_area_mm2)
    told = (
        f"In this model contact under the midfoot grows {more:.1f}-fold, and the peak falls by "
        f"{abs(results.peak_change_pct):.0f} % only: the load lies over the pedal, under the forefoot."
    )
    return Prediction(
        prompt=f"Before you look: a support {filled_in_words(results.inputs.filled_pct, '%')}. What becomes of the "
        "highest pressure under the foot?",
        choices=(
            Choice("It falls by about half", f"No. {told}"),
            Choice("It falls by a few per cent", f"Yes. {told}", right=True),
            Choice("It rises under the arch", f"The arch bears more, but far less than the forefoot. {told}"),
        ),
    )
