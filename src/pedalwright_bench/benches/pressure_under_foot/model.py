"""Inputs of the bench and what the calculation package makes of them."""

from dataclasses import dataclass
from functools import cache

from pedalwright.footbed import Footing, Sole, stand_on_footbed
from pedalwright_bench.bench import slider

LOAD_ALONG_SHARE = 0.70
CELL_MM = 2.5
SOLE = Sole()


def filled_in_words(value: float, unit: str) -> str:
    """Say how much of the arch the support fills."""
    return "flat" if value == 0 else f"fills {value:g} {unit} of the arch"


@dataclass(frozen=True)
class Inputs:
    """What the learner can move."""

    load_n: float = slider("Load on the foot", "N", 200, 600, 200, 400, ("light", "hard"))
    filled_pct: float = slider("Contour", "%", 0, 90, 30, 60, ("flat", "full"), filled_in_words)
    stiffness_kpa_mm: float = slider("Flesh and padding", "kPa/mm", 10, 40, 15, 25, ("soft", "firm"))


@dataclass(frozen=True)
class Results:
    """Everything the picture and the sentence need."""

    inputs: Inputs
    flat: Footing
    shaped: Footing

    @property
    def peak_change_pct(self) -> float:
        """Change of the highest pressure against the flat support, in per cent."""
        return 100 * (float(self.shaped.peak_pressure_kpa / self.flat.peak_pressure_kpa) - 1)

    @property
    def peak_in_target(self) -> bool:
        """Whether the highest pressure is no higher than on the flat support."""
        return bool(self.shaped.peak_pressure_kpa <= self.flat.peak_pressure_kpa * (1 + 1e-9))


def midfoot_share(footing: Footing) -> float:
    """Share of the load on the inner and the outer midfoot."""
    return float(sum(share for region, share in footing.region_shares.items() if region.endswith("midfoot")))


def results(inputs: Inputs) -> Results:
    """Press the foot on both supports."""
    return Results(
        inputs=inputs,
        flat=_stand(inputs.load_n, 0.0, inputs.stiffness_kpa_mm),
        shaped=_stand(inputs.load_n, inputs.filled_pct, inputs.stiffness_kpa_mm),
    )


@cache
def _stand(load_n: float, filled_pct: float, stiffness_kpa_mm: float) -> Footing:
    return stand_on_footbed(
        SOLE,
        load_n,
        filled_share=filled_pct / 100,
        load_along_share=LOAD_ALONG_SHARE,
        stiffness_kpa_mm=stiffness_kpa_mm,
        cell_mm=CELL_MM,
    )


def whole_sole() -> Footing:
    """Give the sole with every cell bearing: its outline."""
    return stand_on_footbed(SOLE, 400.0, filled_share=1.0, tilt="none", cell_mm=CELL_MM)
