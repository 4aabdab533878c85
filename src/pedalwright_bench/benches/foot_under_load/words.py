"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.foot_under_load.model import TARGET_MM, Results

TARGET = (
    f"Shaded: the knee within {TARGET_MM[1]:g} mm of the straight line from hip to foot. That a knee should stay there "
    "is common practice, and the width is ours. A knee beside the line is a finding, not a fault."
)

NOTES = (
    (
        "What the model keeps",
        "An invented rider of 1.75 m with the crank forward and an arch that gives 14 mm under one kilonewton. The "
        "arch’s drop rolls the heel inward on a lever of 35 mm (assumed); a forefoot whose inner edge stands higher "
        "rolls it until that edge bears. The roll turns the shin by 0.68 of itself, as found in eight specimens "
        "(Fischer and others 2018; the black ranges are 0.53 to 0.83). The bent leg then swings about the line from "
        "hip to ankle.",
    ),
    (
        "What it leaves out",
        "Muscles that hold the arch and the hip, a foot loaded through its ball, a shoe that grips, float of the "
        "pedal. Arch and forefoot are simply added, which is the most they can do together. It is a teaching model: "
        "it shows direction, order and the largest size to expect, and no rider’s knee can be foretold with it.",
    ),
    (
        "What is known, and how well",
        "Weak or mixed evidence. Footbeds in cycling gave more contact under the midfoot (Bousie and others 2013); a "
        "review of six laboratory studies found no clear change of movement, comfort or power by footbeds or "
        "wedges (Yeo and Bonanno 2014). In mountain-bike riders frontal alignment went with no knee pain (Branco and "
        "others 2023). So support a foot for contact and feel, and promise no straight knee. Pain, numbness, a "
        "swollen knee or a foot without feeling belongs to a physician or physiotherapist first.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs, bare, held = results.inputs, results.bare, results.held
    tilt = inputs.forefoot_tilt_deg
    forefoot = "a level forefoot" if tilt == 0 else f"a forefoot tilted {tilt:g}°, inner edge higher,"
    start = (
        f"With {inputs.load_n:g} N on the foot and {forefoot} the unheld arch gives {results.arch_drop_mm:.1f} mm, the "
        f"heel rolls {float(bare.eversion_deg):.1f}° inward, the shin turns {float(bare.tibial_rotation_deg):.1f}° and "
        f"the knee drifts {float(bare.knee_drift_mm):.0f} mm inward"
    )
    if inputs.held_pct == 0:
        return f"{start}; there is no footbed, and {_place(results)}."
    kept = "" if tilt == 0 else f", of which the forefoot keeps {tilt:g}°"
    return (
        f"{start}; a footbed that holds {inputs.held_pct:g} % of the drop leaves {float(held.eversion_deg):.1f}° of "
        f"roll{kept}, and {float(held.knee_drift_mm):.0f} mm of drift: {_place(results)}."
    )


def _place(results: Results) -> str:
    return f"the knee is {'inside' if results.held_knee_in_target else 'outside'} the target window"


def prediction(results: Results) -> Prediction:
    """Ask how much a footbed takes away before the picture is seen."""
    bare, held = float(results.bare.knee_drift_mm), float(results.held.knee_drift_mm)
    told = (
        f"In this model the drift goes from {bare:.0f} to {held:.0f} mm, {100 * (1 - held / bare):.0f} % less: the "
        "forefoot’s tilt still rolls the heel."
    )
    return Prediction(
        prompt=f"Before you look: the forefoot is tilted {results.inputs.forefoot_tilt_deg:g}° and a footbed holds "
        f"{results.inputs.held_pct:g} % of the arch’s drop. How much of the knee’s drift does it take away?",
        choices=(
            Choice("All of it", f"No. {told}"),
            Choice(f"{results.inputs.held_pct:g} %, as of the drop", f"Not quite. {told}"),
            Choice(f"Less than {results.inputs.held_pct:g} %", f"Yes. {told}", right=True),
            Choice(
                "None: the foot does not reach the knee",
                f"The roll of the heel turns the shin, and the bent knee goes with it. {told}",
            ),
        ),
    )
