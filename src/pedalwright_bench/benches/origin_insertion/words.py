"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.origin_insertion.model import SHORTENING_MM, Results, place_in_words

TARGET = (
    "Shaded: the side that makes the leg longer, as on the way down: hip and knee open, toe goes down. Which side a "
    "muscle pulls to follows from where it is fixed (strong: it is geometry). How far from the joint it passes, in "
    "millimetres, differs between published models (moderate)."
)

NOTES = (
    (
        "How to read it",
        "The muscle is drawn from its origin (ring) to its insertion (square). The black line from a joint to the "
        "line of pull is the moment arm. We count it positive where the pull closes hip or knee or points the toe "
        "down, and negative where it does the opposite. A muscle can only pull; which end moves depends on what else "
        "holds the bones.",
    ),
    (
        "What the model keeps",
        "The leg of an invented rider of 1.75 m on the bicycle, foot as recorded (Park, Caldwell and Umberger 2022). "
        "Bars and degrees come from the moment arms of a published leg model made for deeply bent joints (Lai, Arnold "
        "and Wakeling 2017). The drawn line is a sketch with attachments placed by hand: it has the same sign and not "
        "the same millimetres.",
    ),
    (
        "What it leaves out",
        "Tendons stretch, joints slide while they turn, and several muscles pull at once. The degrees hold for one "
        "joint free and every other held. On a turning crank no joint is free: the joints move together. It is a "
        "teaching model; it says nothing about which muscle a rider uses, and nothing about a pain.",
    ),
)

CLOSING = {"hip": "closes the hip", "knee": "closes the knee", "ankle": "points the toe down"}
OPENING = {"hip": "opens the hip", "knee": "opens the knee", "ankle": "lifts the toe"}


def action_in_words(joint: str, arm_mm: float) -> str:
    """Say which way a pull with this moment arm turns the joint."""
    return (CLOSING if arm_mm > 0 else OPENING)[joint]


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    parts = [
        f"{action_in_words(joint, arm)} (moment arm {_signed(arm)} mm; {SHORTENING_MM:g} mm shorter turns this joint "
        f"alone by about {abs(results.turns_deg[joint]):.0f}°)"
        for joint, arm in results.arms_mm.items()
    ]
    crossed = (
        f"two joints crossed, {' and '.join(results.crossed)}"
        if len(parts) == 2
        else (f"one joint crossed, the {results.crossed[0]}")
    )
    return (
        f"{results.name[0].upper()}{results.name[1:]}, crank at {place_in_words(results.inputs.crank_angle_deg, '°')}: "
        f"{crossed}; shortening {' and '.join(parts)}."
    )


def prediction(_results: Results) -> Prediction:
    """Ask what a two-joint muscle of the front does before the picture is seen."""
    return Prediction(
        prompt="Before you look: the rectus femoris runs from the front of the pelvis over the kneecap to the shin. "
        "What does it do when it shortens?",
        choices=(
            Choice(
                "It opens hip and knee, so it pushes the pedal down",
                "Half right. It passes in front of the hip, and what shortens in front of the hip closes it. Set the "
                "muscle slider to the rectus femoris.",
            ),
            Choice(
                "It closes the hip and opens the knee",
                "Yes. In front of the hip it closes, over the kneecap it opens. Set the muscle slider to the rectus "
                "femoris and look at the two signs.",
                right=True,
            ),
            Choice(
                "It only opens the knee",
                "That is what the vasti do, which begin on the thigh. The rectus femoris begins on the pelvis and so "
                "acts on the hip too.",
            ),
        ),
    )


def _signed(value: float) -> str:
    return f"{value:+.0f}".replace("-", "−")
