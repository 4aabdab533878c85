"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.lever_tangency.model import CADENCE_RPM, Results
from pedalwright_bench.turn import TARGET_DEG

TARGET = (
    f"Shaded: the target window, sectors 4 to 6 of sixteen ({TARGET_DEG[0]:g}° to {TARGET_DEG[1]:g}° after the top). "
    "That the push counts most there is common practice; the published records agree."
)

NOTES = (
    (
        "What the model keeps",
        "The mean force pattern recorded from 15 recreational riders (Park, Caldwell and Umberger 2022), the weight of "
        "a 70 kg rider’s leg, and the mean power you choose. Effort enlarges the recorded pattern without the leg’s "
        "weight, which stays as it is. When the saddle moves, the leg turns about the bottom bracket with its force "
        "pattern and its foot; the saddle height from the bottom bracket is kept; gravity still points down.",
    ),
    (
        "What it leaves out",
        "The swing of the leg, which grows with cadence (the riders were recorded at about 30 W a leg and slow "
        "pedalling); the rider’s own response to effort, cadence or a moved saddle; the pelvis, which rocks. It is a "
        "teaching model: read the direction and the size of an effect from it, not a rider’s values.",
    ),
    (
        "What is known of the plumb line",
        "Setting the saddle so that the knee stands over the pedal axle is a custom of the trade. No evidence was "
        "found that it protects the knee, and studies of saddle setback disagree: one found knee-cap load changed by "
        "1 to 4 % only (Bini and others 2013), another found no rise with the saddle forward and 14 to 15 % more "
        "compression in the knee joint with it back (Menard and others 2020). Knee pain that does not settle belongs "
        "to a physician or physiotherapist, not to a saddle rail.",
    ),
)


def knee_in_words(offset_mm: float) -> str:
    """Say where the knee stands over the pedal axle."""
    if abs(offset_mm) < 0.5:
        return "plumb over the pedal axle"
    return f"{abs(offset_mm):.0f} mm {'ahead of' if offset_mm > 0 else 'behind'} the pedal axle"


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    back = results.inputs.saddle_back_mm
    place = "the saddle where it started" if back == 0 else f"the saddle {abs(back):g} mm {_way(back)}"
    shift = results.peak_deg - results.unmoved_peak_deg
    moved = ""
    if back != 0:
        moved = f", only {abs(shift):.1f}° {'later' if shift > 0 else 'earlier'} than with the saddle where it started"
    inside = "inside" if results.peak_in_target else "outside"
    return (
        f"At {results.inputs.effort_w:g} W and {CADENCE_RPM:g} rpm with {place}, the right leg’s useful push peaks "
        f"{results.peak_deg:.0f}° after the top with {results.peak_torque_nm:.0f} N·m, {inside} the target window"
        f"{moved}; sectors 4 to 6 do {100 * results.target_share:.0f} % of that leg’s net work, "
        f"{100 * results.effectiveness:.0f} % of the whole force turns the crank, and with the crank forward the knee "
        f"is {knee_in_words(results.knee_over_pedal_mm)}."
    )


def prediction(results: Results) -> Prediction:
    """Ask where the push will peak before the picture is seen."""
    peak = f"{results.peak_deg:.0f}°"
    return Prediction(
        prompt="Before you look: where in the turn does the push of the right leg turn the crank most?",
        choices=(
            Choice(
                "Just after the top, where the knee is bent most",
                f"Not yet. Near the top the force points down along the crank, so little of it turns. The peak comes "
                f"at {peak}, where crank and force stand nearly at a right angle.",
            ),
            Choice(
                "Around the forward horizontal",
                f"Yes. Force and crank stand nearly at a right angle there; the peak comes at {peak}.",
                right=True,
            ),
            Choice(
                "Near the bottom, where the leg is almost straight",
                f"The force is still large there, but it points along the crank and only loads it. The peak comes "
                f"earlier, at {peak}.",
            ),
            Choice(
                "Evenly all round, if the rider pedals in circles",
                f"Riders do not: the rising leg is held back by its own weight. One leg’s push has a clear peak at "
                f"{peak}.",
            ),
        ),
    )


def _way(back_mm: float) -> str:
    return "back" if back_mm > 0 else "forward"
