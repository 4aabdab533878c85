"""Constants with their unit, spread, population and source; an assumption says that it is one."""

from dataclasses import dataclass
from typing import Literal

Standing = Literal["definition", "published", "from memory", "common practice", "assumption"]


@dataclass(frozen=True)
class Constant:
    """A number that a calculation uses and where it comes from.

    Parameters
    ----------
    value : float
        The number, in the unit named.
    unit : str
        Its unit as written in print; ``1`` if there is none.
    meaning : str
        What it is.
    standing : str
        ``definition``, ``published``, ``from memory`` (published, the paper not at hand when it was
        entered), ``common practice`` (no source) or ``assumption`` (ours, with the reason in ``meaning``).
    source : str
        Bibliography key; needed for what is published.
    spread : float or None
        Standard deviation in the population, where it is known. [same unit]
    population : str
        Whom it was measured on.

    Raises
    ------
    ValueError
        If a published number has no source.

    Examples
    --------
    >>> STANDARD_GRAVITY_M_S2.value
    9.80665
    """

    value: float
    unit: str
    meaning: str
    standing: Standing
    source: str = ""
    spread: float | None = None
    population: str = ""

    def __post_init__(self) -> None:
        if self.standing in ("published", "from memory", "definition") and not self.source:
            raise ValueError(
                f"constant without a source: {self.meaning}; add the bibliography key or call it assumption"
            )


STANDARD_GRAVITY_M_S2 = Constant(
    9.80665, "m/s²", "standard acceleration of free fall", "definition", source="bipm_si_2019"
)

HIP_ABOVE_SADDLE_MM = Constant(
    30.0,
    "mm",
    "height of the hip joint centre above the saddle top, soft tissue and saddle pressed down; chosen so that 0.883 "
    "of an inseam of 0.48 of the stature bends the knee by about 30° at the bottom: measure it on the rider",
    "assumption",
)
HIP_AHEAD_OF_SADDLE_MM = Constant(
    0.0, "mm", "hip joint centre ahead of the sitting point; changes with the pelvis: measure it", "assumption"
)
ANKLE_TO_PEDAL_SLOPE_DEG = Constant(
    35.0,
    "°",
    "slope of the line from ankle centre to pedal axle when the sole is level; an ankle 86 mm above and 123 mm behind "
    "the axle has it",
    "assumption",
)
STANCE_WIDTH_MM = Constant(
    250.0, "mm", "distance between the middles of the two pedals, seen from the front", "common practice"
)
HIP_JOINT_WIDTH_MM = Constant(
    170.0, "mm", "distance between the two hip joint centres, about one tenth of the stature", "assumption"
)
PELVIS_FORWARD_TILT_DEG = Constant(
    20.0,
    "°",
    "roll of the pelvis forward from upright standing; makes the hip flexion of a usual position fall in the range "
    "of 39° to 90° that simulation of recorded pedalling gives",
    "assumption",
)
TRUNK_ANGLE_DEG = Constant(45.0, "°", "trunk above the horizontal, hands on the hoods", "common practice")

INSEAM_TO_PEDAL_FACTOR = Constant(
    1.09,
    "1",
    "saddle to pedal over inseam, crank in line with the seat tube",
    "from memory",
    source="hamley_thomas_1967",
)
INSEAM_TO_BRACKET_FACTOR = Constant(
    0.883,
    "1",
    "saddle to bottom bracket over inseam; described by the source, which found no primary study behind it",
    "published",
    source="peveler_2005",
)
TROCHANTER_LOW_FACTOR = Constant(
    0.96, "1", "saddle to pedal over trochanter height, low end", "from memory", source="nordeen_snyder_1977"
)
TROCHANTER_HIGH_FACTOR = Constant(
    1.0,
    "1",
    "saddle to pedal over trochanter height with the lowest oxygen uptake of the three tested",
    "from memory",
    source="nordeen_snyder_1977",
)
REGRESSION_OFFSET_MM = Constant(
    221.0,
    "mm",
    "saddle to pedal: constant term",
    "from memory",
    source="ferrer_roca_2012",
    population="23 elite riders",
)
REGRESSION_INSEAM_FACTOR = Constant(
    0.896,
    "1",
    "saddle to pedal: share of the inseam",
    "from memory",
    source="ferrer_roca_2012",
    population="23 elite riders",
)
REGRESSION_KNEE_MM_PER_DEG = Constant(
    -1.5,
    "mm/°",
    "saddle to pedal: change with knee flexion",
    "from memory",
    source="ferrer_roca_2012",
    population="23 elite riders",
)
VIDEO_UNDERREADS_KNEE_DEG = Constant(
    2.2, "°", "knee flexion to add to a reading from two-dimensional video", "published", source="fonda_2014"
)
