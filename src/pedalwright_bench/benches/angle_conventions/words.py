"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.angle_conventions.model import TOE_LINE_DEG, WINDOW, Results, place_in_words

TARGET = (
    f"Shaded: {WINDOW.low_deg:g}° to {WINDOW.high_deg:g}° of knee flexion at the bottom, held still, under each of its "
    "names (weak or mixed: taught most, tested little). It belongs to the bottom only; elsewhere its outline is broken."
)

NOTES = (
    (
        "The same knee",
        "Flexion counts from the straight leg. The included angle is what lies between thigh and shank: 180° less the "
        "flexion. Motion laboratories often count extension as positive, so that the same bend is a negative number. "
        "A paper’s “155° of knee flexion” was the included angle, 25° of flexion.",
    ),
    (
        "Three hips",
        "Thigh to pelvis is the hip joint itself. Trunk to thigh also takes in the bend of the back. Thigh below the "
        "horizontal knows neither pelvis nor trunk. Here the pelvis stays while the trunk comes down: the back bends, "
        "the hip joint does not.",
    ),
    (
        "Three ankles",
        "Plantar flexion counts from the sole at a right angle to the shank; negative is toe up. An angle read to the "
        f"joint of a toe is larger: on this invented rider by {TOE_LINE_DEG:g}°, on others by 10° to 30° (from "
        "memory). "
        "Here the pedal stands for the sole, and the ankle is more bent than in recorded riders; the lesson is the "
        "difference between the names. Measure each rider under one name, and write it down.",
    ),
)


def number(value: float) -> str:
    """Print an angle with a real minus sign."""
    return f"{value:.0f}".replace("-0", "0").replace("-", "−") if abs(value) < 0.5 else f"{value:.0f}".replace("-", "−")


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    knee, hip, ankle = results.knee_deg, results.hip_deg, results.ankle_deg
    window = ""
    if results.at_bottom:
        inside = WINDOW.low_deg <= knee["flexion"] <= WINDOW.high_deg
        window = f" ({'inside' if inside else 'outside'} the shaded window)"
    return (
        f"Crank at {place_in_words(results.inputs.crank_angle_deg, '°')}, trunk {results.inputs.trunk_angle_deg:g}° "
        f"above the horizontal: one pose, nine numbers. Knee: flexion {number(knee['flexion'])}°{window}, included "
        f"angle {number(knee['included angle'])}°, extension counted positive {number(knee['extension positive'])}°. "
        f"Hip: thigh to pelvis {number(hip['thigh to pelvis'])}°, trunk to thigh {number(hip['trunk to thigh'])}°, "
        f"thigh below horizontal {number(hip['thigh below horizontal'])}°. Ankle: plantar flexion "
        f"{number(ankle['plantar flexion'])}°, included angle to the sole "
        f"{number(ankle['included angle to the sole'])}°, to the toe {number(ankle['included angle to the toe'])}°."
    )


def prediction(results: Results) -> Prediction:
    """Ask which hip number a lower trunk changes before the picture is seen."""
    before = number(results.hip_deg["trunk to thigh"])
    seen = f"Only trunk to thigh, {before}° now, moves with the trunk; it changes degree for degree."
    return Prediction(
        prompt="Before you look: a rider brings the shoulders down by rounding the back. Pelvis, leg and saddle stay. "
        "Which number changes?",
        choices=(
            Choice("The flexion of the hip joint, thigh to pelvis", f"Neither thigh nor pelvis moved. {seen}"),
            Choice("The angle between trunk and thigh", f"Yes. {seen}", right=True),
            Choice("The angle of the thigh below the horizontal", f"The thigh did not move. {seen}"),
            Choice("All three", f"They measure different things. {seen}"),
        ),
    )
