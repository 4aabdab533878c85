"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass

from pedalwright.forefoot import tilt_left_deg, wedge_angle_deg, wedge_edge, wedge_height_mm
from pedalwright_bench.bench import slider

TARGET_DEG = (-1.0, 1.0)
WIDTHS_MM = (85.0, 95.0, 105.0)


def tilt_in_words(value: float, unit: str) -> str:
    """Say which edge of the forefoot is higher."""
    if value == 0:
        return "level"
    return f"{abs(value):g}{unit} {'varus' if value > 0 else 'valgus'}"


def wedge_in_words(value: float, unit: str) -> str:
    """Say how high the wedge is and where its thick edge lies."""
    if value == 0:
        return "none"
    return f"{abs(value):g} {unit} under the {edge_of(value)} edge"


def edge_of(wedge_mm: float) -> str:
    """Name the edge under which the thick side lies; a positive height is the inner one."""
    return "inner" if wedge_mm >= 0 else "outer"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    forefoot_tilt_deg: float = slider("Forefoot", "°", -3, 3, 3, 3, ("valgus", "varus"), tilt_in_words)
    wedge_mm: float = slider("Wedge", "mm", -3, 3, 1.5, 1.5, ("outer edge", "inner edge"), wedge_in_words)
    width_mm: float = slider("Width it stands on", "mm", 85, 105, 10, 95, ("narrow", "wide"))


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need; angles positive when the inner edge is higher."""

    inputs: Inputs
    wedge_deg: float
    left_deg: float
    edge_that_fills: str
    height_that_fills_mm: float

    @property
    def left_in_target(self) -> bool:
        """Whether the tilt that is left lies in the target window."""
        return TARGET_DEG[0] <= self.left_deg <= TARGET_DEG[1]


def results(inputs: Inputs) -> Results:
    """Set the wedge and look at what is left."""
    height, edge = abs(inputs.wedge_mm), edge_of(inputs.wedge_mm)
    angle = float(wedge_angle_deg(height, inputs.width_mm))
    return Results(
        inputs=inputs,
        wedge_deg=angle if edge == "inner" else -angle,
        left_deg=float(tilt_left_deg(inputs.forefoot_tilt_deg, height, inputs.width_mm, edge)),
        edge_that_fills=str(wedge_edge(inputs.forefoot_tilt_deg, neutral_within_deg=0)),
        height_that_fills_mm=float(wedge_height_mm(abs(inputs.forefoot_tilt_deg), inputs.width_mm)),
    )
