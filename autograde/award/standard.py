"""The standard: where the cut lies, how sure that is, and the band around it in which a person decides."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from autograde.award.errors import AwardError
from autograde.award.ratings import Bounds, Round

__all__ = ["CompromiseCheck", "RoundSummary", "Standard", "compromise_check", "set_standard", "summarise_round"]


@dataclass(frozen=True)
class RoundSummary:
    """What one round of ratings says.

    Parameters
    ----------
    number : int
        Round.
    raters : int
        How many, at least 2.
    cut_marks : float
        Mean of the raters' cut scores.
    rater_sd_marks : float
        Standard deviation between raters.
    cut_se_marks : float
        Standard error of the cut score.
    """

    number: int
    raters: int
    cut_marks: float
    rater_sd_marks: float
    cut_se_marks: float


@dataclass(frozen=True)
class CompromiseCheck:
    """Whether the cut agrees with what raters find acceptable as cut and as failure rate.

    Parameters
    ----------
    cut_marks : float
        The compromise: where the failure curve meets the raters' line, or the given cut when they do not meet.
    fell_back : bool
        True when they do not meet.
    fail_pct : float
        Share of trainees below the given cut, in percent.
    agrees : bool
        True when the given cut and its failure rate both lie within the raters' mean bounds.
    sentence : str
        The result in plain words.
    """

    cut_marks: float
    fell_back: bool
    fail_pct: float
    agrees: bool
    sentence: str


@dataclass(frozen=True)
class Standard:
    """A standard that decisions are made by.

    Parameters
    ----------
    cut_marks, cut_se_marks : float
        The cut and its standard error; the cut is rounded to hundredths once, here.
    sem_marks : float
        Standard error of measurement of one trainee's total.
    max_marks : float
        Full marks.
    rounds : tuple of RoundSummary
        All rounds; the last one counts.
    check : CompromiseCheck or None
        The reality check, if it was made.
    reliability : float or None
        Reliability that the standard error of measurement rests on.
    """

    cut_marks: float
    cut_se_marks: float
    sem_marks: float
    max_marks: float
    rounds: tuple[RoundSummary, ...]
    check: CompromiseCheck | None = None
    reliability: float | None = None

    def __post_init__(self) -> None:
        if not 0 < self.cut_marks <= self.max_marks:
            raise AwardError(
                f"the cut is {self.cut_marks!r} of {self.max_marks:g} marks; it must lie above 0 and within"
            )
        if not (math.isfinite(self.sem_marks) and self.sem_marks >= 0):
            raise AwardError(f"the standard error of measurement is {self.sem_marks!r}; give a number of 0 or more")

    @property
    def band_marks(self) -> tuple[float, float]:
        """Lowest and highest total at which a person decides; the highest does not belong to it."""
        low, high = self.cut_marks - self.sem_marks, self.cut_marks + self.sem_marks
        return round(max(0.0, low), 2), round(min(self.max_marks, high), 2)

    @property
    def sentence(self) -> str:
        """How the standard was set, in plain words for a certificate."""
        last = self.rounds[-1]
        rounds = "one round" if len(self.rounds) == 1 else f"{len(self.rounds)} rounds"
        return (
            f"{last.raters} raters judged in {rounds}, task by task, what somebody who is only just competent would "
            f"earn (modified Angoff method): {self.cut_marks:g} of {self.max_marks:g} marks, standard error "
            f"{self.cut_se_marks:.1f}. Within {self.sem_marks:.1f} marks of it (standard error of measurement) a "
            "person decides."
        )

    def as_dict(self) -> dict[str, Any]:
        """Give plain data for a file or a record."""
        return asdict(self) | {"rounds": [asdict(summary) for summary in self.rounds]}

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> Standard:
        """Read what `as_dict` gave; AwardError if something is missing or unknown."""
        try:
            rounds = tuple(RoundSummary(**summary) for summary in data["rounds"])
            check = CompromiseCheck(**data["check"]) if data.get("check") else None
            return cls(**{**data, "rounds": rounds, "check": check})
        except (KeyError, TypeError) as error:
            raise AwardError(f"the stored standard is damaged or of another version: {error}; set it again") from error


def summarise_round(ratings: Round) -> RoundSummary:
    """Find the cut score of one round of ratings.

    Parameters
    ----------
    ratings : Round
        At least two raters.

    Returns
    -------
    RoundSummary
        With the standard error of the mean over raters.

    Raises
    ------
    AwardError
        If there is one rater only.

    Notes
    -----
    A rater's cut is the sum over tasks of share × full marks; the cut is the mean over raters, and its standard
    error SD/√r, which treats raters as a sample and the tasks as given. After a discussion ratings are no longer
    independent, so the standard error of a later round is on the low side.

    References
    ----------
    angoff_1971, maccann_stanley_2004
    """
    cuts = ratings.rater_cuts
    if len(cuts) < 2:
        raise AwardError(
            f"round {ratings.number} has {len(cuts)} rater; a standard needs at least two, better six or more"
        )
    sd = float(cuts.std(ddof=1))
    return RoundSummary(ratings.number, len(cuts), float(cuts.mean()), sd, sd / math.sqrt(len(cuts)))


def compromise_check(bounds: Sequence[Bounds], totals: ArrayLike, cut_marks: float) -> CompromiseCheck:
    """Hold a cut against what raters find acceptable (Hofstee's compromise).

    Parameters
    ----------
    bounds : sequence of Bounds
        One a rater, at least one; their means count.
    totals : array_like
        Totals of the trainees in marks, shape (n,), n ≥ 1, no gaps.
    cut_marks : float
        The cut to be checked, and the one to fall back to.

    Returns
    -------
    CompromiseCheck
        The cut itself is not moved by it; when it disagrees, a person has to look at the standard again.

    Raises
    ------
    AwardError
        If there are no bounds or no totals.

    Notes
    -----
    The failure curve, the share of totals below c, rises in steps; the line falls from (lowest cut, highest failure
    rate) to (highest cut, lowest failure rate). Where they cross is the compromise. If they do not cross, the given
    cut stays (from memory, common practice, no source for the fallback).

    References
    ----------
    hofstee_1983

    Examples
    --------
    >>> check = compromise_check([Bounds("flint", 40, 60, 0, 100)], range(0, 101), cut_marks=52)
    >>> round(check.cut_marks), check.agrees
    (50, True)
    """
    scores = np.sort(np.asarray(totals, dtype=float).ravel())
    if not bounds or scores.size == 0 or np.isnan(scores).any():
        raise AwardError("the check needs the bounds of at least one rater and the totals of trainees, without gaps")
    means = np.array([(b.cut_min_marks, b.cut_max_marks, b.fail_min_pct, b.fail_max_pct) for b in bounds]).mean(axis=0)
    cut_min, cut_max, fail_min, fail_max = (float(value) for value in means)
    fail_pct = float(100 * (scores < cut_marks).mean())
    agrees = bool(cut_min <= cut_marks <= cut_max and fail_min <= fail_pct <= fail_max)
    meeting = _meeting(scores, cut_min, cut_max, fail_min, fail_max)
    words = f"{fail_pct:.0f} % of the trainees lie below the cut of {cut_marks:g} marks; raters find acceptable "
    words += f"{fail_min:.0f} to {fail_max:.0f} % and a cut of {cut_min:g} to {cut_max:g}. "
    if meeting is None:
        words += "Their line and the failure curve do not meet, so the cut is kept. "
    else:
        words += f"Their compromise lies at {meeting:.1f} marks. "
    words += "Both lie within the bounds." if agrees else "This lies outside the bounds: a person has to look again."
    return CompromiseCheck(cut_marks if meeting is None else meeting, meeting is None, fail_pct, agrees, words)


def set_standard(
    rounds: Sequence[Round],
    *,
    sem_marks: float,
    reliability: float | None = None,
    bounds: Sequence[Bounds] = (),
    totals: ArrayLike = (),
) -> Standard:
    """Set the standard from a panel's ratings.

    Parameters
    ----------
    rounds : sequence of Round
        In order; the last one counts.
    sem_marks : float
        Standard error of measurement of a total, at least 0.
    reliability : float, optional
        What `sem_marks` rests on, for the record.
    bounds, totals
        For `compromise_check`, which is made when both are given.

    Returns
    -------
    Standard
        With all rounds.

    Raises
    ------
    AwardError
        As the parts do.
    """
    if not rounds:
        raise AwardError("there are no ratings to set a standard from")
    summaries = tuple(summarise_round(ratings) for ratings in rounds)
    last = summaries[-1]
    cut = round(last.cut_marks, 2)
    check = compromise_check(bounds, totals, cut) if len(bounds) and np.size(totals) else None
    max_marks = math.fsum(item.max_marks for item in rounds[-1].items)
    return Standard(cut, last.cut_se_marks, sem_marks, max_marks, summaries, check, reliability)


def _meeting(scores: Any, cut_min: float, cut_max: float, fail_min: float, fail_max: float) -> float | None:
    """Where the rising step curve meets the falling line, or None."""

    def curve(cut: float) -> float:
        return float(100 * np.searchsorted(scores, cut, side="left") / scores.size)

    if curve(cut_min) > fail_max or 100 * np.searchsorted(scores, cut_max, side="right") / scores.size < fail_min:
        return None
    width, drop = cut_max - cut_min, fail_max - fail_min
    steps = [float(score) for score in np.unique(scores) if cut_min <= score < cut_max]
    left = cut_min
    for right in [*steps, cut_max]:
        level = curve(right)
        if drop > 0 and width > 0:
            meeting = cut_min + (fail_max - level) / drop * width
            if meeting <= right:
                return max(left, meeting)
        elif level >= fail_max:
            return left
        left = right
    return cut_max
