"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from dataclasses import replace

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.pelvis_and_hip.model import TARGET_DEG, Results, results
from pedalwright_bench.panels import signed

TARGET = (
    f"Shaded: {TARGET_DEG[0]:g} to {TARGET_DEG[1]:g}° of hip flexion, the range found when recorded pedalling of 15 "
    "riders was simulated (Park, Caldwell and Umberger 2022). It is where one study’s riders were, no limit."
)

NOTES = (
    (
        "What the model keeps",
        "An invented rider of 1.75 m, the foot level, the trunk held at 45° by hands that stay. The pelvis turns about "
        "the sitting point and takes the hip joint with it. With a shorter crank the saddle goes up by as much. Hip "
        "flexion is the thigh against the pelvis, zero as in standing; the angle between trunk and thigh is another "
        "measure, and hardly moves when only the pelvis rolls, because the back bends less.",
    ),
    (
        "What it leaves out",
        "The pelvis rocks 2 to 3° in every turn, the contact wanders forward, and nobody’s hip is asked whether it can "
        "close that far. The lengthening of the gluteus maximus, tendon included, comes from two muscle models (Lai "
        "and others 2017; Delp and others 1990) and is counted from the start of the sliders; they differ, and what a "
        "longer muscle does for a rider is not settled. It is a teaching model.",
    ),
    (
        "Before you roll a rider forward",
        "That a rolled pelvis loads the front of the saddle is measured; that it makes a rider stronger is weakly "
        "evidenced. Feel how far the hip closes off the bicycle first. Pinching in the groin, numbness, back pain with "
        "signs in a leg: open the hip again and refer to a physician or physiotherapist.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs = results.inputs
    return (
        f"With the pelvis rolled {inputs.pelvis_forward_tilt_deg:g}° forward and a {inputs.crank_length_mm:g} mm crank "
        f"the hip is closed to {results.top_hip_flexion_deg:.1f}° with the crank at the top{_change(results)}; it "
        f"closes furthest {results.greatest_at_crank_deg:.0f}° later, to {results.greatest_hip_flexion_deg:.1f}°, "
        f"{'inside' if results.greatest_in_target else 'outside'} the shaded range, while the angle between trunk and "
        f"thigh is {results.least_trunk_thigh_deg:.0f}° at its smallest."
    )


def _change(results: Results) -> str:
    if not results.inputs.moved:
        return ", where the comparison starts"
    change = results.top_hip_flexion_deg - results.start_top_deg
    low, high = sorted(abs(longer) for longer in results.gluteus_longer_mm)
    more, longer = ("more", "longer") if change > 0 else ("less", "shorter")
    size = f"{low:.1f}" if f"{low:.1f}" == f"{high:.1f}" else f"{low:.1f} to {high:.1f}"
    return f", {abs(change):.1f}° {more} than at the start, and the gluteus maximus is {size} mm {longer} there"


def prediction(results: Results) -> Prediction:
    """Ask which of two changes closes the hip more before the picture is seen."""
    crank, roll = (_closes(results, **change) for change in ({"crank_length_mm": 175.0}, _rolled(results)))
    told = (
        f"5 mm of crank, the saddle lowered by as much, close the hip by {signed(crank, 1)}° at the top; 5° of roll by "
        f"{signed(roll, 1)}°."
    )
    return Prediction(
        prompt="Before you look: one rider gets a crank 5 mm longer, another rolls the pelvis 5° further forward. "
        "Whose hip closes more at the top of the stroke?",
        choices=(
            Choice("The longer crank’s", f"No. {told}"),
            Choice("The rolled pelvis’s", f"Yes. {told}", right=True),
            Choice(
                "Neither: the hands have not moved, so the trunk has not",
                f"The trunk may stay and the pelvis still turn: then the back bends less. {told}",
            ),
        ),
    )


def _rolled(before: Results) -> dict[str, float]:
    return {"pelvis_forward_tilt_deg": before.inputs.pelvis_forward_tilt_deg + 5}


def _closes(before: Results, **change: float) -> float:
    return results(replace(before.inputs, **change)).top_hip_flexion_deg - before.top_hip_flexion_deg
