"""Findings that stop a fit: what to ask, how urgent, to whom. Data only; `referral` reads it."""

from dataclasses import dataclass

# From the mildest to the most urgent.
URGENCIES = ("before the next hard ride", "soon", "same day", "emergency")

DOCTOR = "a physician"
SPECIALIST = "a physician, who may ask a specialist"
THERAPIST = "a physician or physiotherapist"
EMERGENCY = "emergency services, now"


@dataclass(frozen=True)
class RedFlag:
    """A finding that is not a fitter's to solve.

    Parameters
    ----------
    name : str
        Short name.
    question : str
        What to ask or to notice, in the rider's words.
    urgency : str
        One of ``URGENCIES``.
    refer_to : str
        Who looks at it.
    stops_fit : bool
        True if nothing is adjusted until it has been looked at; False if the fit may go on with the precaution named.
    precaution : str
        What the fitter does or leaves in the meantime.
    source : str
        Bibliography key, or "from memory".

    Examples
    --------
    >>> RED_FLAGS[0].urgency
    'emergency'
    """

    name: str
    question: str
    urgency: str
    refer_to: str
    stops_fit: bool
    precaution: str
    source: str


_STOP = "Adjust nothing. Do not let the rider pedal."
_EASE = "Adjust nothing that loads it. Easy riding only if it is free of pain."

RED_FLAGS = (
    RedFlag(
        "loss of bladder or bowel control",
        "New trouble starting or holding urine or stool, or numbness around the seat, with or without back pain.",
        "emergency", EMERGENCY, True, _STOP, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "chest pain or fainting",
        "Pain or pressure in the chest, fainting, or breathlessness out of proportion, in effort or at rest.",
        "emergency", EMERGENCY, True, _STOP, "from memory",
    ),
    RedFlag(
        "hot swollen joint with fever",
        "A joint that is hot, swollen and too painful to move, or any joint trouble with fever.",
        "emergency", EMERGENCY, True, _STOP, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "swollen painful calf",
        "One calf swollen, warm and tender without a blow, above all after travel, surgery or rest in bed.",
        "emergency", EMERGENCY, True, _STOP + " Do not massage it.", "nhs_borders_lower_limb",
    ),
    RedFlag(
        "possible fracture or dislocation",
        "A fall or a blow, and now the leg or arm will not bear weight, looks out of shape or has lost its motion.",
        "emergency", EMERGENCY, True, _STOP, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "sudden foot drop",
        "The foot slaps or the toes cannot be lifted, and this is new.",
        "same day", DOCTOR, True, _STOP, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "weakness or numbness that spreads",
        "A leg or an arm that grows weaker or number from week to week.",
        "same day", DOCTOR, True, _STOP, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "back pain with leg symptoms",
        "Back pain with pain, tingling or weakness down a leg.",
        "soon", THERAPIST, True, _EASE, "from memory",
    ),
    RedFlag(
        "night pain, fever or weight loss",
        "Pain that keeps the rider awake in any position, with fever, sweats, weight loss or a history of cancer.",
        "same day", DOCTOR, True, _STOP, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "genital numbness that lasts",
        "Numbness between the legs that lasts after riding or comes back each ride, or a change of erection.",
        "soon", DOCTOR, True,
        "With any trouble of bladder or bowel it is an emergency. Otherwise stop riding on this saddle. Ask in "
        "private; never examine. A saddle without a nose relieved pressure in one uncontrolled study; that is no "
        "treatment.",
        "schrader_2008",
    ),
    RedFlag(
        "hand weakness or wasting",
        "Weak grip, dropping things, a flat or hollow place in the hand, or tingling that stays for days after a ride.",
        "soon", SPECIALIST, True,
        "Take load off the hands. Tingling that goes within hours is common after long rides.",
        "patterson_2003",
    ),
    RedFlag(
        "leg weakness in effort that rest relieves",
        "A thigh or calf that aches or loses power at high effort and recovers within minutes, always the same.",
        "soon", SPECIALIST, True, "Adjust nothing for it; a narrowed artery has been found in hard-training riders.",
        "from memory",
    ),
    RedFlag(
        "knee that locks, gives way or swells",
        "A knee that catches, buckles or is visibly swollen.",
        "soon", THERAPIST, True, _EASE, "from memory",
    ),
    RedFlag(
        "child with hip or thigh pain",
        "A rider who is still growing, with hip, groin, thigh or knee pain or a limp.",
        "same day", DOCTOR, True, _STOP, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "several stiff swollen joints",
        "More than one joint swollen, and stiff in the morning for longer than half an hour.",
        "soon", DOCTOR, True, _EASE, "nhs_borders_lower_limb",
    ),
    RedFlag(
        "pain that grows during the fit",
        "Pain that becomes worse with any change made today.",
        "soon", THERAPIST, True, "Go back to the last position without it and stop.", "common practice, no source",
    ),
    RedFlag(
        "recent surgery or joint replacement",
        "An operation on the back, hip, knee or foot within the last months, or any artificial joint.",
        "before the next hard ride", SPECIALIST, False,
        "Go on only with the surgeon's or therapist's limits of motion in writing, and stay inside them.",
        "from memory",
    ),
    RedFlag(
        "numb feet or diabetes",
        "Feet that feel little, or diabetes with trouble of the feet.",
        "before the next hard ride", DOCTOR, False,
        "No wedge or hard footbed without medical advice: the rider may not feel a pressure sore. Look at the skin.",
        "from memory",
    ),
    RedFlag(
        "medicine that thins the blood",
        "Medicine against clotting.",
        "before the next hard ride", DOCTOR, False,
        "Go on with care on the trainer. Say nothing for or against the medicine.", "from memory",
    ),
    RedFlag(
        "pregnancy",
        "Pregnancy.",
        "before the next hard ride", DOCTOR, False,
        "Go on with a higher trunk and easy effort if the rider's midwife or physician agrees.", "from memory",
    ),
)  # fmt: skip

# Scope-of-practice reasoning, no source found: what a fitter does not do, whatever is asked.
MUST_NOT = (
    "Name a disease or explain a symptom.",
    "Sell or set a footbed, wedge or shim as a treatment.",
    "Move or manipulate a joint beyond what the rider does alone.",
    "Promise less injury, less pain or more power.",
    "Adjust on through pain that grows.",
    "Advise for or against a medicine or an operation.",
    "Examine or touch the seat area; ask with consent, in private, with someone of the rider's choice present.",
)
