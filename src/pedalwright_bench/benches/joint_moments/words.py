"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.joint_moments.model import JOINTS, Results, lean_in_words, shares_pct
from pedalwright_bench.panels import signed
from pedalwright_bench.ride import ridden

TARGET = (
    "Pale bars behind the shares: what one study measured, six riders at 120 W and 60 rpm (Ericson and others 1986). "
    "A newer study at 250 W and more found the opening hip first (Elmer and others 2011). They disagree: weak or "
    "mixed. Nothing here is made to fit either."
)

NOTES = (
    (
        "How to read it",
        "A moment above zero opens hip or knee, or points the toe down; below zero it does the opposite. A power above "
        "zero goes from the joint into the leg. The sum of the three, over a whole turn, is what goes into the pedal. "
        "On the left the leg stands where the hip opens hardest: the arrow is the push, the dashed line is its line, "
        "and the bar from the hip is the distance at which it passes.",
    ),
    (
        "What the model keeps",
        "An invented rider of 1.75 m and 70 kg. The average push of 15 riders (Park, Caldwell and Umberger 2022), "
        "recorded at light riding and scaled to the effort, never measured there. Weight and swing of thigh, shank and "
        "foot are counted. The hip stands still.",
    ),
    (
        "What it leaves out",
        "Riders change their push with effort and cadence, and nobody can turn a push at will. Two-joint muscles carry "
        "work from joint to joint, so the share of a joint is the share of no muscle. A net moment hides opposing "
        "muscles that work at once. It is a teaching model: a large moment here is no finding about a rider’s hip or "
        "knee.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs = results.inputs
    most = [f"the {joint} with up to {results.moment_nm[joint].max():.0f} N·m" for joint in ("knee", "ankle")]
    powers = [f"{joint} {signed(results.mean_power_w(joint))} W" for joint in JOINTS]
    lost = "" if inputs.lean_deg == 0 else f", {results.lost_pct():.0f} % less than as recorded"
    hip, closing, knee, bending, ankle = shares_pct(results.work)
    return (
        f"At {inputs.effort_w:g} W and {inputs.cadence_rpm:g} rpm, push {lean_in_words(inputs.lean_deg, '°')}: the hip "
        f"opens with up to {results.moment_nm['hip'].max():.0f} N·m, at {results.peak_at_deg}°, where a push of "
        f"{results.push_size_n:.0f} N passes {results.hip_distance_mm:.0f} mm in front of it; {' and '.join(most)}. "
        f"Averaged over the turn {', '.join(powers)} give one pedal {results.pedal_power_w:.0f} W{lost}. Of the "
        f"positive work the opening hip does {hip:.0f} %, the closing hip {closing:.0f} %, the opening knee "
        f"{knee:.0f} %, the closing knee {bending:.0f} %, the ankle {ankle:.0f} %."
    )


def prediction(results: Results) -> Prediction:
    """Ask what a push leaning forward does to the hip before the picture is seen."""
    inputs = results.inputs
    _, _, leaning = ridden(inputs.effort_w, inputs.cadence_rpm, 15.0)
    hips = results.moment_nm["hip"].max(), leaning.hip_extension_moment_nm.max()
    lost = 100 * (1 - leaning.pedal_power_w.mean() / results.pedal_power_w)
    seen = (
        f"Here the hip then needs {hips[1]:.0f} N·m at most instead of {hips[0]:.0f}, the pedal gets {lost:.0f} % less."
    )
    return Prediction(
        prompt="Before you look: the same pushes, each turned 15° further forward. What happens to the moment that "
        "opens the hip, and to the power at the pedal?",
        choices=(
            Choice(
                "Both fall by about the same small part",
                f"The power hardly changes, but the line of the push comes much nearer to the hip. {seen}",
            ),
            Choice(
                "The moment at the hip about halves, the power hardly changes",
                f"Yes. The moment is push times the distance at which its line passes the hip. {seen}",
                right=True,
            ),
            Choice(
                "The moment stays, the power about halves",
                f"It is the other way round: the hip is far from the pedal, so a small turn moves the line by much "
                f"there. {seen}",
            ),
        ),
    )
