"""One rider's case: what was measured on the rider, how the bicycle is set, what was reported."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from pedalwright._choices import chosen
from pedalwright._typing import Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.footbed_tier import HELD_SHARE
from pedalwright.forefoot import EDGE_SIGN
from pedalwright.position import Leg, Position

SIDES = ("right", "left")


@dataclass(frozen=True)
class Foot:
    """One foot as measured.

    Parameters
    ----------
    arch_index : float
        Arch height index standing, truncated length. [1]
    arch_flexibility_mm_per_kn : float
        How far the arch gives for each kilonewton. [mm/kN]
    forefoot_tilt_deg : float
        Tilt of the forefoot, positive varus. [°]
    forefoot_width_mm : float
        Width of the forefoot in this shoe. [mm]

    Examples
    --------
    >>> Foot(0.34, 14.0, 2.0, 95.0).forefoot_width_mm
    95.0
    """

    arch_index: float
    arch_flexibility_mm_per_kn: float
    forefoot_tilt_deg: float
    forefoot_width_mm: float

    def __post_init__(self) -> None:
        checked("forefoot_width_mm", self.forefoot_width_mm, at_least=50, at_most=150, advice="give the width in mm")


@dataclass(frozen=True)
class Shoe:
    """What lies between one foot and its pedal.

    Parameters
    ----------
    footbed : {"none", "mild", "moderate", "significant"}
        Support tier of the footbed.
    wedge_height_mm : float
        Height of the thick edge of a wedge, 0 to 10. [mm]
    wedge_edge : {"inner", "outer"}
        Under which edge the thick side lies.

    Examples
    --------
    >>> Shoe("mild").wedge_height_mm
    0.0
    """

    footbed: str = "none"
    wedge_height_mm: float = 0.0
    wedge_edge: str = "inner"

    def __post_init__(self) -> None:
        chosen("footbed", self.footbed, {"none": 0.0, **HELD_SHARE})
        chosen("wedge_edge", self.wedge_edge, EDGE_SIGN)
        checked("wedge_height_mm", self.wedge_height_mm, at_least=0, at_most=10, advice="give the height in mm")

    @property
    def held_share(self) -> float:
        """Share of the arch's drop the footbed is taken to prevent, an assumption."""
        return {"none": 0.0, **HELD_SHARE}[self.footbed]


@dataclass(frozen=True)
class Rider:
    """What was measured on the rider; the two sides are never averaged.

    Parameters
    ----------
    right_leg, left_leg : Leg
        Segment lengths of each leg. [mm]
    right_foot, left_foot : Foot
        Each foot.
    sit_bone_width_mm : float
        Distance between the sit bones, measured sitting upright. [mm]

    Examples
    --------
    >>> foot = Foot(0.34, 14.0, 2.0, 95.0)
    >>> Rider(Leg(430, 430, 150), Leg(430, 430, 150), foot, foot, 120.0).sit_bone_width_mm
    120.0
    """

    right_leg: Leg
    left_leg: Leg
    right_foot: Foot
    left_foot: Foot
    sit_bone_width_mm: float

    def leg(self, side: str) -> Leg:
        """Leg of a side."""
        return chosen("side", side, {"right": self.right_leg, "left": self.left_leg})

    def foot(self, side: str) -> Foot:
        """Foot of a side."""
        return chosen("side", side, {"right": self.right_foot, "left": self.left_foot})


@dataclass(frozen=True)
class Setup:
    """How bicycle and equipment are set.

    Parameters
    ----------
    position : Position
        Contact points. [mm]
    saddle_width_mm : float
        Width of the saddle that can bear load where the rider sits. [mm]
    pelvic_roll_deg : float
        Forward roll of the pelvis from sitting upright. [°]
    pelvic_obliquity_deg : float
        Slope of the pelvis on this seat seen from behind, positive right side higher. [°]
    right_shoe, left_shoe : Shoe
        Footbed and wedge of each side.
    pedal_angle_deg : float
        Pedal angle over the turn, positive toe down. [°]

    Examples
    --------
    >>> Setup(Position(720, 150, 170), 140.0).right_shoe.footbed
    'none'
    """

    position: Position
    saddle_width_mm: float
    pelvic_roll_deg: float = 20.0
    pelvic_obliquity_deg: float = 0.0
    right_shoe: Shoe = field(default_factory=Shoe)
    left_shoe: Shoe = field(default_factory=Shoe)
    pedal_angle_deg: Numbers = 10.0

    def shoe(self, side: str) -> Shoe:
        """Shoe of a side."""
        return chosen("side", side, {"right": self.right_shoe, "left": self.left_shoe})

    def with_shoe(self, side: str, shoe: Shoe) -> "Setup":
        """Return the setup with another shoe on one side."""
        field_name = chosen("side", side, {"right": "right_shoe", "left": "left_shoe"})
        return replace(self, **{field_name: shoe})  # type: ignore[arg-type]


# Standard uncertainties of one careful measurement. Knee angle: digital inclinometer. The rest: assumptions, no source.
DEFAULT_UNCERTAINTY = MappingProxyType(
    {
        "knee_flexion_deg": 2.2,
        "knee_over_pedal_mm": 5.0,
        "forefoot_tilt_deg": 1.0,
        "arch_index": 0.008,
        "sit_bone_width_mm": 4.0,
        "pelvic_obliquity_deg": 1.0,
    }
)


@dataclass(frozen=True)
class Assessment:
    """A whole case as assessed before anything is changed.

    Parameters
    ----------
    rider : Rider
        What was measured on the rider.
    setup : Setup
        How the bicycle is set now.
    reported : tuple of str
        Names of ``red_flags.RED_FLAGS`` that were reported or noticed.
    uncertainty : mapping of str to float
        Standard uncertainties; names as in ``DEFAULT_UNCERTAINTY``, what is left out is taken from there.
    push_n : float
        Load on the foot in the middle of the push, above 0. [N]

    Examples
    --------
    >>> foot = Foot(0.34, 14.0, 2.0, 95.0)
    >>> rider = Rider(Leg(430, 430, 150), Leg(430, 430, 150), foot, foot, 120.0)
    >>> Assessment(rider, Setup(Position(720, 150, 170), 140.0)).reported
    ()
    """

    rider: Rider
    setup: Setup
    reported: tuple[str, ...] = ()
    uncertainty: Mapping[str, float] = field(default_factory=dict)
    push_n: float = 300.0

    def __post_init__(self) -> None:
        checked("push_n", self.push_n, above=0)
        unknown = sorted(set(self.uncertainty) - set(DEFAULT_UNCERTAINTY))
        if unknown:
            raise OutOfRangeError(
                f"uncertainty: received {', '.join(unknown)}; allowed: {', '.join(DEFAULT_UNCERTAINTY)}; use them"
            )
        for name, value in self.uncertainty.items():
            checked(f"uncertainty of {name}", value, at_least=0)

    def spread(self, name: str) -> float:
        """Return the standard uncertainty of one measured quantity, in its unit."""
        return float({**DEFAULT_UNCERTAINTY, **self.uncertainty}[name])
