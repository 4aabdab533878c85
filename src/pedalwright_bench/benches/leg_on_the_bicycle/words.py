"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.leg_on_the_bicycle.model import (
    MOVING,
    STILL,
    Results,
    height_in_words,
    setback_in_words,
)

TARGET = (
    f"Two windows, two ways of measuring. Held still at the bottom: {STILL.low_deg:g}° to {STILL.high_deg:g}° of knee "
    "flexion (weak or mixed). Least while pedalling: "
    f"{MOVING.low_deg:g}° to {MOVING.high_deg:g}° (common practice). Never compare a reading with the other window."
)

NOTES = (
    (
        "What the model keeps",
        "An invented rider of 1.75 m, hip still on the saddle, foot as recorded from 15 riders (Park, Caldwell and "
        "Umberger 2022) whatever the saddle does; for the reading held still, a level foot. The saddle goes up along "
        "the seat tube and slides on level rails, which by itself changes its distance to the bottom bracket. A "
        "longer crank leaves the saddle where it is.",
    ),
    (
        "What it leaves out",
        "Riders answer with ankle and pelvis. With the saddle about 4 % higher, measured knees opened by about 7° "
        "(Ferrer-Roca and others 2014), half of what this geometry says. It is a teaching model: read directions and "
        "sizes from it, not a rider’s values.",
    ),
    (
        "What is known of the windows",
        "Which height is best is not settled: two studies favour the higher of the saddles compared, one the lower. A "
        "window of 10° is about as wide as the difference between two testers. No study followed riders in and out of "
        "a window until they were hurt or not. Pain that stays, swelling, locking or giving way belong to a physician "
        "or physiotherapist.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs = results.inputs
    ahead = results.knee_ahead_mm
    knee = (
        "plumb over the pedal axle"
        if abs(ahead) < 0.5
        else (f"{abs(ahead):.0f} mm {'ahead of' if ahead > 0 else 'behind'} the pedal axle")
    )
    return (
        f"Saddle {height_in_words(inputs.raised_mm, 'mm')} in height and {setback_in_words(inputs.back_mm, 'mm')} on "
        f"its rails, crank {inputs.crank_length_mm:g} mm: held still at the bottom with a level foot the knee bends "
        f"{results.still_knee_deg:.0f}°, {_word(results.still_inside)} its window; while pedalling it is "
        f"straightest at {results.least_at_deg:.0f}°, before the bottom, with {results.least_knee_deg:.0f}° "
        f"({_word(results.moving_inside)} its window; {results.knee_at_bottom_deg:.0f}° at the bottom itself). Over "
        f"the turn the knee bends up to {results.knee_deg.max():.0f}° and the hip up to {results.hip_deg.max():.0f}°; "
        f"with the crank forward the knee is {knee}."
    )


def prediction(results: Results) -> Prediction:
    """Ask where the leg is straightest before the picture is seen."""
    at = f"{results.least_at_deg:.0f}°"
    return Prediction(
        prompt="Before you look: where in the turn is the knee straightest while pedalling?",
        choices=(
            Choice(
                "Exactly at the bottom",
                f"Close, and it is what most people say. The hip sits behind the bottom bracket and the heel comes up "
                f"before the bottom, so the knee is straightest at {at}.",
            ),
            Choice(
                "A little before the bottom",
                f"Yes, at {at} here. The hip sits behind the bottom bracket, and the heel comes up before the bottom. "
                "Measured riders had their least flexion near 170° (Farrell and others 2003).",
                right=True,
            ),
            Choice(
                "A little after the bottom",
                f"By then the heel has come up further and the knee bends again. It is straightest at {at}.",
            ),
        ),
    )


def _word(inside: bool) -> str:
    return "inside" if inside else "outside"
