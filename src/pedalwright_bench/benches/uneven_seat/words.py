"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.uneven_seat.model import TARGET_MM, Results, seat_in_words, slide_in_words

TARGET = (
    f"Shaded: each knee within {TARGET_MM[1]:g} mm of where it runs on a level seat. The window is ours, about what "
    "marking a landmark through clothing can tell; it is no limit of health."
)

NOTES = (
    (
        "What the model keeps",
        "An invented rider with equal legs. The pelvis leans as one piece with the seat, its hip joints 80 mm above "
        "the sit bones (assumed), so they shift to the lower side and one hip stands higher; a slide on the saddle is "
        "added as seen. Each leg then runs straight from its hip to its pedal.",
    ),
    (
        "What it leaves out",
        "Riders who lean against the slope, turn the pelvis, or let one leg work differently; legs of unequal length; "
        "feet and shins that turn. It is a teaching model (geometry): it shows which way hips and knees go, and that "
        "millimetres at the seat are millimetres at the knee.",
    ),
    (
        "What is known, and how well",
        "That an unevenly supported pelvis draws one knee to the frame and the other away is common practice, no "
        "source. Bones alone differ by up to 16 mm in height between sides of a level pelvis (Preece and others 2008), "
        "so measure again on another day. No agreed limit of asymmetry exists, and none is shown to injure: weak "
        "evidence. Right and left are never averaged here. Pain on one side, weakness, numbness or a new difference "
        "of leg length belongs to a physician or physiotherapist before any shim.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs = results.inputs
    return (
        f"With {_seat(inputs.obliquity_deg)} and the rider {slide_in_words(inputs.slide_mm, 'mm')}, the hips "
        f"{_shift(results.pelvis_shift_mm)}; the right knee runs {_knee(results.right_inward_mm)} and the left knee "
        f"{_knee(results.left_inward_mm)}, {'both' if results.knees_in_target else 'not both'} inside the target "
        f"window, and at the bottom the right knee is bent {results.right_flexion_deg:.1f}° and the left "
        f"{results.left_flexion_deg:.1f}°."
    )


def _seat(obliquity_deg: float) -> str:
    words = seat_in_words(obliquity_deg, "°")
    return "a level seat" if obliquity_deg == 0 else f"a seat whose {words.replace('side', 'side is')}"


def _shift(shift_mm: float) -> str:
    if abs(shift_mm) < 0.05:
        return "stay in the middle"
    return f"shift {abs(shift_mm):.1f} mm to the {'right' if shift_mm > 0 else 'left'}"


def _knee(inward_mm: float) -> str:
    if abs(inward_mm) < 0.05:
        return "where it was"
    return f"{abs(inward_mm):.1f} mm further {'in' if inward_mm > 0 else 'out'}"


def prediction(results: Results) -> Prediction:
    """Ask which knee goes in before the picture is seen."""
    told = (
        f"The hips shift {abs(results.pelvis_shift_mm):.1f} mm to the left, the lower side: the right knee runs "
        f"{_knee(results.right_inward_mm)} and the left {_knee(results.left_inward_mm)}."
    )
    return Prediction(
        prompt=f"Before you look: the right side of the seat is {results.inputs.obliquity_deg:g}° higher and the rider "
        "does not slide. Which knee is drawn to the frame?",
        choices=(
            Choice("The left one, on the lower side", f"No, it goes away from the frame. {told}"),
            Choice("The right one, on the higher side", f"Yes. {told}", right=True),
            Choice("Both", f"They go opposite ways. {told}"),
            Choice("Neither: the feet are fixed to the pedals", f"The feet stay, the hips do not. {told}"),
        ),
    )
