"""How far an answer may lie from the value it is compared with."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Tolerance:
    """The repeatability of a measurement, as the band in which an answer counts as the same.

    Parameters
    ----------
    absolute : float
        Half width of the band in the unit of the task, at least 0.
    relative : float
        Half width of the band as a fraction of the value compared with, 0 to 0.5.
    because : str
        Where the band comes from, as the end of a sentence: "the pedal repeats to 2 %".

    Notes
    -----
    The wider of the two half widths holds.

    Examples
    --------
    >>> Tolerance(absolute=0.5, relative=0.02).half_width(40.0)
    0.8
    >>> Tolerance(absolute=0.5, relative=0.02).half_width(-3.0)
    0.5
    """

    absolute: float = 0.0
    relative: float = 0.0
    because: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.absolute) and self.absolute >= 0.0):
            raise ValueError(f"absolute tolerance is {self.absolute!r}; give a number of at least 0")
        if not (math.isfinite(self.relative) and 0.0 <= self.relative <= 0.5):
            raise ValueError(f"relative tolerance is {self.relative!r}; give a fraction from 0 to 0.5")
        if self.absolute == 0.0 and self.relative == 0.0:
            raise ValueError("a tolerance of nothing accepts no rounding; give an absolute or a relative band")

    def half_width(self, value: float) -> float:
        """Half width of the band around a value.

        Parameters
        ----------
        value : float
            The value compared with, in the unit of the task.

        Returns
        -------
        float
            Half width in the unit of the task.
        """
        return max(self.absolute, self.relative * abs(value))

    def sentence(self, unit: str) -> str:
        """Tell the trainee how close is close enough.

        Parameters
        ----------
        unit : str
            The unit as it is shown.

        Returns
        -------
        str
            One sentence.

        Examples
        --------
        >>> Tolerance(0.5, 0.02, "the pedal repeats to 2 %").sentence("N m")
        'Counts as right within 2 %, and always within 0.5 N m: the pedal repeats to 2 %.'
        """
        parts = []
        if self.relative:
            parts.append(f"within {self.relative * 100:g} %")
        if self.absolute:
            shown = f"{self.absolute:g} {'percentage points' if unit == '%' else unit}".strip()
            parts.append(f"always within {shown}" if parts else f"within {shown}")
        reason = f": {self.because}" if self.because else ""
        return "Counts as right " + ", and ".join(parts) + reason + "."
