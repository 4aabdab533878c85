"""How well a measurement repeats: standard error of measurement, smallest change worth naming, instruments."""

from dataclasses import dataclass

import numpy as np
from scipy import stats

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked


@dataclass(frozen=True)
class Instrument:
    """A way of measuring the knee angle and the change it can tell from noise.

    Parameters
    ----------
    label : str
        Name of the instrument.
    smallest_change_deg : float
        Published smallest change that is not noise, 95 %. [°]
    source : str
        Bibliography key.

    Examples
    --------
    >>> round(KNEE_ANGLE_INSTRUMENTS["inclinometer"].standard_error_deg, 2)
    2.16
    """

    label: str
    smallest_change_deg: float
    source: str

    @property
    def standard_error_deg(self) -> float:
        """Standard error of one measurement behind the published change, in degrees."""
        return standard_error_from_change(self.smallest_change_deg).item()


# Knee angle at rest, several raters: minimum significant differences of the abstract.
KNEE_ANGLE_INSTRUMENTS = {
    "inclinometer": Instrument("digital inclinometer", 6.0, "hancock_2018"),
    "long goniometer": Instrument("long-armed goniometer", 10.0, "hancock_2018"),
    "phone": Instrument("phone application", 12.0, "hancock_2018"),
    "short goniometer": Instrument("short-armed goniometer or the eye", 14.0, "hancock_2018"),
}


def within_subject_sd(readings: Numbers) -> Floats:
    """Pool the standard deviation of repeated readings over subjects.

    Parameters
    ----------
    readings : array_like, shape (..., subjects, repeats)
        Readings; at least two repeats. [any unit]

    Returns
    -------
    numpy.ndarray, shape (...)
        Within-subject standard deviation. [unit of the reading]

    Raises
    ------
    OutOfRangeError
        If there are fewer than two repeats.

    Notes
    -----
    *Measured law* (root of the mean variance within subjects). Assumes the error does not
    grow with the size of the reading.

    References
    ----------
    bland_altman_1996

    Examples
    --------
    >>> round(within_subject_sd([[34.0, 36.0], [30.0, 30.0]]).item(), 3)
    1.0
    """
    table = checked("readings", readings)
    if table.ndim < 2 or table.shape[-1] < 2:
        raise OutOfRangeError(
            f"readings: received shape {table.shape}; allowed: subjects × at least 2 repeats; measure each again"
        )
    return np.asarray(np.sqrt(table.var(axis=-1, ddof=1).mean(axis=-1)))


def standard_error_of_measurement(standard_deviation: Numbers, icc: Numbers) -> Floats:
    """Find the standard error of one measurement from the spread between subjects and the reliability.

    Parameters
    ----------
    standard_deviation : array_like
        Standard deviation between subjects, at least 0. [any unit]
    icc : array_like
        Intraclass correlation, 0 to 1. [1]

    Returns
    -------
    numpy.ndarray
        Standard error of measurement. [unit of the deviation]

    Raises
    ------
    OutOfRangeError
        If the deviation is negative or the correlation is not in 0 to 1.

    Notes
    -----
    *Measured law* (classical test theory): SEM = SD·√(1 − ICC). It depends on the form of
    the correlation and on how varied the subjects were.

    References
    ----------
    weir_2005

    Examples
    --------
    >>> round(standard_error_of_measurement(3.0, 0.90).item(), 3)
    0.949
    """
    spread = checked("standard_deviation", standard_deviation, at_least=0)
    reliability = checked("icc", icc, at_least=0, at_most=1, advice="a negative estimate means no reliability: give 0")
    return np.asarray(spread * np.sqrt(1 - reliability))


def smallest_detectable_change(standard_error: Numbers, confidence: Numbers = 0.95) -> Floats:
    """Smallest difference between two measurements that is not explained by their error.

    Parameters
    ----------
    standard_error : array_like
        Standard error of one measurement, at least 0. [any unit]
    confidence : array_like
        Confidence, between 0 and 1. [1]

    Returns
    -------
    numpy.ndarray
        z·√2·SEM. [unit of the error]

    Raises
    ------
    OutOfRangeError
        If the error is negative or the confidence is not between 0 and 1.

    Notes
    -----
    *Measured law* (difference of two independent normal errors).

    References
    ----------
    weir_2005

    Examples
    --------
    >>> round(smallest_detectable_change(0.949).item(), 2)
    2.63
    """
    return np.asarray(checked("standard_error", standard_error, at_least=0) * _change_factor(confidence))


def standard_error_from_change(smallest_change: Numbers, confidence: Numbers = 0.95) -> Floats:
    """Find the standard error of one measurement behind a published smallest detectable change.

    Parameters
    ----------
    smallest_change : array_like
        Smallest detectable change, at least 0. [any unit]
    confidence : array_like
        Confidence at which it was stated, between 0 and 1. [1]

    Returns
    -------
    numpy.ndarray
        Standard error of measurement. [unit of the change]

    Raises
    ------
    OutOfRangeError
        If the change is negative or the confidence is not between 0 and 1.

    Notes
    -----
    *Measured law*, the inverse of `smallest_detectable_change`.

    References
    ----------
    weir_2005

    Examples
    --------
    >>> round(standard_error_from_change(6.0).item(), 3)
    2.165
    """
    return np.asarray(checked("smallest_change", smallest_change, at_least=0) / _change_factor(confidence))


def repeats_needed(single_uncertainty: Numbers, wanted_uncertainty: Numbers) -> Floats:
    """How many independent measurements must be averaged for a wanted uncertainty.

    Parameters
    ----------
    single_uncertainty : array_like
        Standard uncertainty of one measurement, at least 0. [any unit]
    wanted_uncertainty : array_like
        Standard uncertainty wanted of the mean, above 0. [same unit]

    Returns
    -------
    numpy.ndarray
        Whole number of measurements, at least 1. [1]

    Raises
    ------
    OutOfRangeError
        If an uncertainty is out of range.

    Notes
    -----
    *Measured law* (u/√n). Repeating does not remove an error that stays the same, such as a
    landmark always marked too high: lift the tool off, mark again, and let another person repeat it.

    References
    ----------
    jcgm_100_2008

    Examples
    --------
    >>> repeats_needed(2.5, 1.0).item()
    7.0
    """
    single = checked("single_uncertainty", single_uncertainty, at_least=0)
    wanted = checked("wanted_uncertainty", wanted_uncertainty, above=0)
    return np.asarray(np.maximum(np.ceil((single / wanted) ** 2 * (1 - 1e-12)), 1.0))


def included_angle_uncertainty_deg(
    first_arm_mm: Numbers, second_arm_mm: Numbers, included_angle_deg: Numbers, landmark_uncertainty_mm: Numbers
) -> Floats:
    """Uncertainty of an angle between three landmarks, from how well each is placed.

    Parameters
    ----------
    first_arm_mm, second_arm_mm : array_like
        Distances from the middle landmark to the outer ones, above 0. [mm]
    included_angle_deg : array_like
        Angle at the middle landmark, 0 to 180. [°]
    landmark_uncertainty_mm : array_like
        Standard uncertainty of each landmark in each direction, at least 0. [mm]

    Returns
    -------
    numpy.ndarray
        Standard uncertainty of the angle, first order. [°]

    Raises
    ------
    OutOfRangeError
        If an input is out of range.

    Notes
    -----
    *Measured law* (geometry, first-order propagation, three independent landmarks):
    u = u_p·√(1/a² + 1/b² + d²/(a·b)²), with d between the outer landmarks. The middle landmark
    counts most: it moves both arms at once.

    References
    ----------
    jcgm_100_2008

    Examples
    --------
    >>> round(included_angle_uncertainty_deg(430, 430, 145, 5).item(), 2)
    1.58
    """
    first = checked("first_arm_mm", first_arm_mm, above=0)
    second = checked("second_arm_mm", second_arm_mm, above=0)
    angle = np.radians(checked("included_angle_deg", included_angle_deg, at_least=0, at_most=180))
    spread = checked("landmark_uncertainty_mm", landmark_uncertainty_mm, at_least=0)
    opposite = first**2 + second**2 - 2 * first * second * np.cos(angle)
    return np.degrees(spread * np.sqrt(1 / first**2 + 1 / second**2 + opposite / (first * second) ** 2))


def _change_factor(confidence: Numbers) -> Floats:
    share = checked("confidence", confidence, above=0, below=1, advice="give a probability such as 0.95")
    return np.asarray(np.sqrt(2) * stats.norm.ppf((1 + share) / 2))
