"""What the bench says: the guess asked for, the sentence of a result, and what the model rests on."""

from pedalwright_bench.bench import Choice, Prediction
from pedalwright_bench.benches.sit_bones_on_saddle.model import (
    LOAD_N,
    SIT_BONE_WIDTH_MM,
    TARGET_MM,
    Results,
    load_in_words,
    roll_in_words,
)

TARGET = (
    f"Shaded: the bones {TARGET_MM[0]:g} to {TARGET_MM[1]:g} mm inside each edge of the saddle. Weak evidence: in ten "
    "women a saddle 5 mm wider than the bones on each side spread the pressure best; the window around it is ours."
)

NOTES = (
    (
        "What the model keeps",
        f"An invented rider whose sit bones are {SIT_BONE_WIDTH_MM:g} mm apart, {LOAD_N:g} N on the saddle: two round "
        "bone ends and a softer sheet between them are pressed into springs on the outline of the saddle until load "
        "and moments balance. Rolling forward moves the contact along two bones that run together in front, so the "
        "bearing width shrinks.",
    ),
    (
        "What it leaves out",
        "The nose of the saddle, cut-outs, skin that shears, hips that rock 2 to 3°, and all feeling. Stiffness, "
        "radius and the angle of the bones are assumptions, so read which way a number moves and not its height. It "
        "is a teaching model: comfort does not follow from it.",
    ),
    (
        "What is known, and how well",
        "Weak evidence for width (Lin and others 2023, ten women). Sit-bone widths told in the trade run from 80 to "
        "160 mm; women’s are wider on average with a wide overlap, and size does not tell: measure. More weight on the "
        "front of a saddle loads soft tissue: in 33 officers a saddle with a nose more than doubled the pressure there "
        "(Lowe and others 2004). Numbness of "
        "the genitals that lasts, any change of bladder or sexual function, a sore that does not heal: stop, and "
        "refer to a physician.",
    ),
)


def sentence(results: Results) -> str:
    """Say the result in one plain sentence."""
    inputs, seating = results.inputs, results.seating
    bones = round(100 * float(seating.bone_share))
    place = "inside" if results.margin_in_target else "outside"
    return (
        f"On a saddle {inputs.saddle_width_mm:g} mm wide, the pelvis {roll_in_words(inputs.pelvic_roll_deg, '°')} and "
        f"the load {load_in_words(inputs.load_across_mm, 'mm')}, the pelvis bears on {results.bearing_width_mm:.0f} "
        f"mm: the bones lie {_margin(results.margin_mm)} of the saddle, {place} the target window; they carry "
        f"{bones} % of the load and soft tissue {100 - bones} %, with up to {float(seating.soft_peak_kpa):.0f} kPa, "
        f"and the left side bears {float(seating.left_force_n):.0f} N and the right "
        f"{float(seating.right_force_n):.0f} N."
    )


def _margin(margin_mm: float) -> str:
    return f"{abs(margin_mm):.1f} mm {'inside' if margin_mm >= 0 else 'beyond'} each edge"


def prediction(results: Results) -> Prediction:
    """Ask who bears the load before the picture is seen."""
    soft = 100 * (1 - float(results.seating.bone_share))
    told = f"In this model soft tissue carries {soft:.0f} % of the load."
    return Prediction(
        prompt=f"Before you look: the sit bones are {results.bearing_width_mm:.0f} mm apart and the saddle is "
        f"{results.inputs.saddle_width_mm:g} mm wide, so that their middles just overhang. What bears most of "
        "the load?",
        choices=(
            Choice("Still the sit bones, nearly all of it", f"No: half of each bone has no saddle under it. {told}"),
            Choice("The soft tissue between them", f"Yes. {told} It was not made to.", right=True),
            Choice(
                "The hands and feet, since the saddle cannot",
                f"The load on the saddle stays; it only finds another place. {told}",
            ),
        ),
    )
