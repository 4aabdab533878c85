"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.two_joint_muscles.model import CADENCE_RPM, Results

TARGET = (
    "Shaded bars: where published recordings found the muscle active (weak or mixed: studies disagree, and some "
    "figures are from memory). They are shown as published, and nothing here is made to fit them."
)

NOTES = (
    (
        "How to read it",
        "Each curve is a length less its mean over the turn, muscle and tendon together. Rising means getting longer. "
        "Two thin curves say what each joint alone would do to the two-joint muscle; the thick curve is their sum. "
        "The dashed curve is a one-joint muscle that does the same at one of those joints.",
    ),
    (
        "What the model keeps",
        "An invented rider of 1.75 m, hip held still, foot as recorded from 15 riders (Park, Caldwell and Umberger "
        "2022). Moment arms of a published leg model made for deeply bent joints (Lai, Arnold and Wakeling 2017); "
        "the length follows from them exactly. In this position the ankle is more bent than in recorded riders, so "
        "read the change at the ankle and not its middle.",
    ),
    (
        "What it leaves out",
        "A muscle whose length with tendon stays the same can still have fibres that shorten while the tendon "
        "stretches. Other published models give other moment arms: for the gastrocnemius at the knee even the trend "
        "differs. It is a teaching model. A short or a long muscle in this picture is no finding about a rider.",
    ),
)


def way_in_words(velocity_mm_s: float) -> str:
    """Say whether a muscle gets longer or shorter, and how fast."""
    if abs(velocity_mm_s) < 5:
        return "hardly changing"
    return f"getting {'longer' if velocity_mm_s > 0 else 'shorter'} by {abs(velocity_mm_s):.0f} mm a second"


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    alone = " and ".join(
        f"the {joint} alone would change it by {results.change_mm(part):.0f} mm"
        for joint, part in results.parts_mm.items()
    )
    return (
        f"Over the turn the {results.name} changes its length by {results.change_mm(results.whole_mm):.0f} mm; "
        f"{alone}. The {results.beside} beside it crosses one of these joints only and changes by "
        f"{results.change_mm(results.beside_mm):.0f} mm. With the crank at {results.inputs.crank_angle_deg:g}° and "
        f"{CADENCE_RPM:g} rpm, the {results.name} is {way_in_words(results.velocity_mm_s)}, the {results.beside} "
        f"{way_in_words(results.beside_velocity_mm_s)}."
    )


def prediction(results: Results) -> Prediction:
    """Ask how a two-joint muscle changes on the way down before the picture is seen."""
    whole, beside = (curve[180] - curve[0] for curve in (results.whole_mm, results.beside_mm))
    seen = (
        f"From the top to the bottom the {results.name} ends {abs(whole):.0f} mm "
        f"{'longer' if whole > 0 else 'shorter'}, the {results.beside} {abs(beside):.0f} mm "
        f"{'longer' if beside > 0 else 'shorter'}."
    )
    return Prediction(
        prompt="Before you look: from the top to the bottom of the turn, hip and knee both open. The long head of the "
        "biceps femoris opens the hip and closes the knee. How long is it at the bottom, compared with the top?",
        choices=(
            Choice(
                "Much shorter, because the hip opened",
                f"The opening hip shortens it, but the opening knee lengthens it again. {seen}",
            ),
            Choice(
                "Much longer, because the knee opened",
                f"The opening knee lengthens it, but the opening hip shortens it again. {seen}",
            ),
            Choice(
                "About as long as before",
                f"Yes. What the hip takes, the knee gives back. {seen}",
                right=True,
            ),
        ),
    )
