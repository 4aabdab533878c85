"""What sources report of pelves: figures that disagree, side by side. None allows a guess from sex or size: measure."""

from dataclasses import dataclass


@dataclass(frozen=True)
class PelvisReport:
    """A measure of the pelvis as one source reports it.

    Parameters
    ----------
    lower, upper : float
        Range told, or mean less and plus one standard deviation. [mm or °]
    sample : str
        Who was measured, and how.
    source : str
        Bibliography key, or "common practice, no source".

    Examples
    --------
    >>> SIT_BONE_WIDTHS_MM[0].upper
    160.0
    """

    lower: float
    upper: float
    sample: str
    source: str


SIT_BONE_WIDTHS_MM = (
    PelvisReport(80.0, 160.0, "adults, unrelated to body size", "common practice, no source"),
    PelvisReport(141.0, 169.0, "ten young women, mean 155 ± 14", "lin_2023"),
)

# Angle between the two bones that run from the sit bones to the front.
PUBIC_ARCH_ANGLES_DEG = (
    PelvisReport(82.92 - 15.06, 82.92 + 15.06, "fifty women, scans", "gundogdu_kebapci_2019"),
    PelvisReport(67.91 - 9.15, 67.91 + 9.15, "fifty men, scans", "gundogdu_kebapci_2019"),
    PelvisReport(137.15 - 11.92, 137.15 + 11.92, "women, radiographs", "kayastha_2020"),
    PelvisReport(104.72 - 10.47, 104.72 + 10.47, "men, radiographs", "kayastha_2020"),
)
