"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.wedge.model import TARGET_DEG, Results, edge_of

TARGET = (
    f"Shaded: a tilt of {TARGET_DEG[1]:g}° at most is left, either way. The window is ours and no finer than a "
    "hand-held measurement. That tilt should be filled at all is common practice, not a finding."
)

NOTES = (
    (
        "What the model keeps",
        "Geometry, a measured law: the angle is the arctangent of the height over the width from edge to edge. The "
        "forefoot is one stiff bar seen from the front, the right foot, with its heel held in the middle. Varus means "
        "that the inner edge, on the side of the big toe, is the higher one.",
    ),
    (
        "What it leaves out",
        "A foot that gives, a shoe that gives, where along the shoe the wedge lies, and what the knee makes of it. A "
        "usual shoe is said to have 1.5 mm of varus built in (common practice): add it before you set more. The "
        "filling is a teaching model of a stiff foot.",
    ),
    (
        "What is known, and how well",
        "How common a tilt is depends on the method: varus was found in 8.6 to 97.1 % of feet, so it is no "
        "abnormality. A review of six laboratory studies found no clear effect of wedges or footbeds on movement, "
        "comfort or power (Yeo and Bonanno 2014): weak evidence for any wedge. Change a little, one thing at a time, "
        "and take it out again if the rider feels worse. Knee pain that stays, or a foot with no feeling as in "
        "diabetes, belongs to a physician or podiatrist before any wedge.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs = results.inputs
    if inputs.wedge_mm == 0:
        made = f"On {inputs.width_mm:g} mm of width no wedge is set"
    else:
        made = (
            f"On {inputs.width_mm:g} mm of width a wedge of {abs(inputs.wedge_mm):g} mm under the "
            f"{edge_of(inputs.wedge_mm)} edge makes {abs(results.wedge_deg):.2f}°"
        )
    return f"{made}; {_forefoot(results)}, {'inside' if results.left_in_target else 'outside'} the target window."


def _forefoot(results: Results) -> str:
    tilt, left = results.inputs.forefoot_tilt_deg, results.left_deg
    if tilt == 0:
        return f"the level forefoot now {_tilt(left)}"
    needed = f"whole filling takes {results.height_that_fills_mm:.1f} mm under the {results.edge_that_fills} edge"
    return f"of {abs(tilt):g}° of {'varus' if tilt > 0 else 'valgus'}, whose {needed}, the forefoot {_tilt(left)}"


def _tilt(left: float) -> str:
    if abs(left) < 0.005:
        return "has no tilt left"
    return f"stands with {abs(left):.2f}° of {'varus' if left > 0 else 'valgus'} unfilled"


def prediction(results: Results) -> Prediction:
    """Ask what the wedge leaves before the picture is seen."""
    inputs = results.inputs
    told = (
        f"{inputs.wedge_mm:g} mm over {inputs.width_mm:g} mm are {results.wedge_deg:.2f}°, so {results.left_deg:.1f}° "
        f"of {inputs.forefoot_tilt_deg:g}° stay."
    )
    return Prediction(
        prompt=f"Before you look: the forefoot has {inputs.forefoot_tilt_deg:g}° of varus. How much is left with a "
        f"wedge of {inputs.wedge_mm:g} mm under the inner edge of a shoe {inputs.width_mm:g} mm wide?",
        choices=(
            Choice(f"{inputs.forefoot_tilt_deg - inputs.wedge_mm:g}°", f"That takes millimetres for degrees. {told}"),
            Choice(f"About {results.left_deg:.0f}°", f"Yes. {told}", right=True),
            Choice(
                f"About {inputs.forefoot_tilt_deg + results.wedge_deg:.0f}°",
                f"That is what it would be under the outer edge: a wedge fills the gap under the higher edge. {told}",
            ),
            Choice("Nothing: such a wedge is made for it", f"A size is no fit; the width decides. {told}"),
        ),
    )
