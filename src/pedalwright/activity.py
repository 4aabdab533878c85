"""Published windows of muscle activity in pedalling, and how a predicted pattern compares with them.

The windows disagree among themselves. They are shown as they were published (some from memory) and nothing here is
made to agree with them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked
from pedalwright.recruit import Recruitment


@dataclass(frozen=True)
class ActivityWindow:
    """Crank angles over which a muscle was found active; an offset below the onset means over the top.

    Parameters
    ----------
    muscle : str
        A key of ``MUSCLES``.
    onset_deg, offset_deg : float
        Crank angles, 0 to 360; 0 and 360 together mean the whole turn. [°]
    source : str
        Bibliography key.
    standing : str
        How the numbers were come by.

    References
    ----------
    hug_dorel_2009

    Examples
    --------
    >>> ACTIVITY_WINDOWS[0].muscle
    'gluteus maximus'
    """

    muscle: str
    onset_deg: float
    offset_deg: float
    source: str
    standing: str


_REVIEW = "summary of several studies, from memory"
_INTRODUCTION = "as a later paper's introduction (da_silva_2016) states it"

ACTIVITY_WINDOWS: tuple[ActivityWindow, ...] = (
    ActivityWindow("gluteus maximus", 340, 130, "hug_dorel_2009", _REVIEW),
    ActivityWindow("vasti", 300, 130, "hug_dorel_2009", _REVIEW),
    ActivityWindow("vasti", 0, 90, "da_silva_2016", "strongest activity, as its introduction states it"),
    ActivityWindow("rectus femoris", 200, 110, "hug_dorel_2009", _REVIEW),
    ActivityWindow("semimembranosus", 60, 240, "jorge_hull_1986", _INTRODUCTION),
    ActivityWindow("semimembranosus", 150, 270, "ericson_1985", _INTRODUCTION),
    ActivityWindow("semimembranosus", 0, 180, "dorel_2008", "downstroke, " + _INTRODUCTION),
    ActivityWindow("semimembranosus", 0, 360, "ryan_gregor_1992", "whole turn, " + _INTRODUCTION),
    ActivityWindow("biceps femoris, long head", 0, 180, "dorel_2008", "downstroke, " + _INTRODUCTION),
    ActivityWindow("biceps femoris, long head", 0, 360, "ryan_gregor_1992", "whole turn, " + _INTRODUCTION),
    ActivityWindow("biceps femoris, short head", 0, 180, "dorel_2008", "downstroke, " + _INTRODUCTION),
    ActivityWindow("gastrocnemius", 350, 270, "hug_dorel_2009", _REVIEW + "; varies much between riders"),
    ActivityWindow("soleus", 340, 270, "hug_dorel_2009", _REVIEW),
)


@dataclass(frozen=True)
class ActivityComparison:
    """One published window beside the prediction.

    Parameters
    ----------
    window : ActivityWindow
        What was published.
    predicted_onset_deg, predicted_offset_deg : float
        Longest predicted arc of activity; not a number if there is none. [°]
    published_share_covered : float
        Part of the published window in which the prediction is active too. [1]
    predicted_share_inside : float
        Part of the predicted activity that falls into the published window. [1]
    overlap : float
        Crank angles active in both, of those active in either. [1]

    References
    ----------
    hug_dorel_2009

    Examples
    --------
    >>> ActivityComparison(ACTIVITY_WINDOWS[0], 350, 130, 0.9, 1.0, 0.9).in_words()
    'gluteus maximus: published 340° to 130° (hug_dorel_2009), predicted 350° to 130°; overlap 90 %'
    """

    window: ActivityWindow
    predicted_onset_deg: float
    predicted_offset_deg: float
    published_share_covered: float
    predicted_share_inside: float
    overlap: float

    def in_words(self) -> str:
        """Say the comparison in one line."""
        published = f"published {self.window.onset_deg:.0f}° to {self.window.offset_deg:.0f}° ({self.window.source})"
        predicted = (
            "predicted silent"
            if np.isnan(self.predicted_onset_deg)
            else f"predicted {self.predicted_onset_deg:.0f}° to {self.predicted_offset_deg:.0f}°"
        )
        return f"{self.window.muscle}: {published}, {predicted}; overlap {100 * self.overlap:.0f} %"


def active_at(activation: Numbers, *, threshold: float = 0.2) -> NDArray[np.bool_]:
    """Where a muscle counts as active: where it exceeds a share of its own peak.

    Parameters
    ----------
    activation : array_like, shape (..., crank angles)
        Activation or force around the turn, at least 0. [1]
    threshold : float
        Share of the peak, above 0 and below 1. [1]

    Returns
    -------
    numpy.ndarray of bool, shape (..., crank angles)
        Whether the muscle is active; nowhere if the peak is below a thousandth.

    Raises
    ------
    OutOfRangeError
        If a value is out of range.

    Notes
    -----
    *Convention*: a fifth of the peak is the threshold most used with surface recordings (from memory); onsets move by
    tens of degrees with it.

    References
    ----------
    hug_dorel_2009

    Examples
    --------
    >>> active_at([0.0, 0.1, 0.5, 1.0]).tolist()
    [False, False, True, True]
    """
    values = checked("activation", activation, at_least=0)
    share = checked("threshold", threshold, above=0, below=1)
    peak = values.max(axis=-1, keepdims=True)
    return np.asarray((values > share * peak) & (peak > 1e-3))


def active_arc_deg(activation: Numbers, *, threshold: float = 0.2) -> tuple[float, float]:
    """Onset and offset of the longest arc of activity of one muscle.

    Parameters
    ----------
    activation : array_like, shape (crank angles,)
        Activation or force at evenly spaced crank angles from the top, one turn. [1]
    threshold : float
        Share of the peak, above 0 and below 1. [1]

    Returns
    -------
    tuple of float
        Onset and offset; (0, 360) if always active, not a number if never. [°]

    Raises
    ------
    OutOfRangeError
        If a value is out of range or there is more than one muscle.

    Notes
    -----
    *Convention*: a sample stands for the arc from itself to the next.

    References
    ----------
    hug_dorel_2009

    Examples
    --------
    >>> active_arc_deg([1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0])
    (315.0, 90.0)
    """
    active = active_at(activation, threshold=threshold)
    if active.ndim != 1:
        raise OutOfRangeError(
            f"activation: received shape {active.shape}; allowed: one muscle, (crank angles,); choose one muscle"
        )
    if active.all():
        return 0.0, 360.0
    if not active.any():
        return float("nan"), float("nan")
    count = len(active)
    starts = np.flatnonzero(active & ~np.roll(active, 1))
    ends = np.flatnonzero(~active & np.roll(active, 1))
    lengths = [min(int(end - start) % count for end in ends) for start in starts]
    longest = int(np.argmax(lengths))
    start = int(starts[longest])
    return start * 360 / count, (start + lengths[longest]) % count * 360 / count


def compare_with_activity(
    recruitment: Recruitment, *, threshold: float = 0.2, windows: tuple[ActivityWindow, ...] = ACTIVITY_WINDOWS
) -> tuple[ActivityComparison, ...]:
    """Compare predicted muscle timing with published windows of activity, as it is.

    Parameters
    ----------
    recruitment : Recruitment
        One rider's prediction at evenly spaced crank angles from the top, one turn.
    threshold : float
        Share of its own peak above which a muscle counts as active, above 0 and below 1. [1]
    windows : tuple of ActivityWindow
        Published windows; those of muscles that were not predicted are left out.

    Returns
    -------
    tuple of ActivityComparison
        One comparison a window.

    Raises
    ------
    OutOfRangeError
        If there is more than one rider, or the threshold is out of range.

    Notes
    -----
    *Teaching model* against measured activity. Electrical activity comes 50 to 100 ms before force (from memory), 27°
    to 54° at 90 rpm, so published onsets should lie ahead of predicted forces even if the model were right.

    References
    ----------
    hug_dorel_2009
    jorge_hull_1986
    ericson_1985
    dorel_2008
    ryan_gregor_1992
    da_silva_2016

    Examples
    --------
    >>> from pedalwright.posture import Posture
    >>> from pedalwright.recruit import recruit
    >>> push = np.maximum(60 * np.sin(np.radians(np.arange(8) * 45.0)), 0)
    >>> shared = recruit(push, 0 * push, 0 * push, Posture(60 + 0 * push, 60, 0))
    >>> compare_with_activity(shared)[0].in_words()
    'gluteus maximus: published 340° to 130° (hug_dorel_2009), predicted 45° to 180°; overlap 50 %'
    """
    if recruitment.activation.ndim != 2:
        raise OutOfRangeError(
            f"recruitment: received activations of shape {recruitment.activation.shape}; allowed: one rider, (muscles, "
            "crank angles); choose one rider"
        )
    rows: Mapping[str, Floats] = dict(zip(recruitment.muscles, recruitment.activation, strict=True))
    return tuple(_compared(window, rows[window.muscle], threshold) for window in windows if window.muscle in rows)


def _compared(window: ActivityWindow, activation: Floats, threshold: float) -> ActivityComparison:
    predicted = active_at(activation, threshold=threshold)
    middle = (np.arange(len(predicted)) + 0.5) * 360 / len(predicted)
    width = window.offset_deg - window.onset_deg
    published = np.mod(middle - window.onset_deg, 360) < (width if width > 0 else width + 360)
    both = float(np.sum(predicted & published))
    onset, offset = active_arc_deg(activation, threshold=threshold)
    return ActivityComparison(
        window,
        onset,
        offset,
        both / max(float(np.sum(published)), 1.0),
        both / max(float(np.sum(predicted)), 1.0),
        both / max(float(np.sum(predicted | published)), 1.0),
    )
