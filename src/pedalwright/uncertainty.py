"""From the scatter of readings to the uncertainty of what is computed from them.

First-order propagation with correlation (the law of propagation of uncertainty); the
module `monte_carlo` does the same by drawing, and the two check each other.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pedalwright._model_inputs import Model, checked_correlation, checked_inputs, outputs_of
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

# Five-point central difference: weights and offsets in steps.
_STENCIL = ((-2.0, 1 / 12), (-1.0, -8 / 12), (1.0, 8 / 12), (2.0, -1 / 12))
_STEP_OF_UNCERTAINTY = 0.05
_LEAST_STEP = 1e-5


@dataclass(frozen=True)
class Readings:
    """Repeated readings of one or more quantities, summed up.

    Parameters
    ----------
    mean : numpy.ndarray
        Mean of each quantity. [unit of the reading]
    standard_uncertainty : numpy.ndarray
        Standard uncertainty of each mean, s/√n. [unit of the reading]
    correlation : numpy.ndarray
        Correlation of the means, a square array. [1]
    degrees_of_freedom : int
        Readings less one. [1]

    Examples
    --------
    >>> summarise_readings([34.0, 36.0]).degrees_of_freedom
    1
    """

    mean: Floats
    standard_uncertainty: Floats
    correlation: Floats
    degrees_of_freedom: int


@dataclass(frozen=True)
class Propagated:
    """A computed value with its uncertainty.

    Parameters
    ----------
    value : numpy.ndarray
        The computed value; with several outputs they are on the first axis. [unit of the output]
    standard_uncertainty : numpy.ndarray
        Its standard uncertainty, same shape. [unit of the output]
    sensitivity : numpy.ndarray
        Slope of each output against each input, inputs on the first axis. [output unit per input unit]
    covariance : numpy.ndarray
        Covariance of the outputs, two leading axes of outputs (1 × 1 for one output). [products of output units]

    Examples
    --------
    >>> propagate(lambda a, b: a - b, [5.0, 3.0], [0.3, 0.4]).standard_uncertainty.round(6).item()
    0.5
    """

    value: Floats
    standard_uncertainty: Floats
    sensitivity: Floats
    covariance: Floats

    @property
    def correlation(self) -> Floats:
        """Correlation of the outputs on two leading axes, each between −1 and 1."""
        spread = np.sqrt(np.einsum("ii...->i...", self.covariance))
        return np.asarray(self.covariance / (spread[:, None] * spread[None, :]))


def summarise_readings(readings: Numbers) -> Readings:
    """Sum up repeated readings: mean, standard uncertainty of the mean, correlation.

    Parameters
    ----------
    readings : array_like, shape (n,) or (quantities, n)
        Readings, simultaneous ones in the same column; at least two columns. [any unit]

    Returns
    -------
    Readings
        Summary with one entry a quantity. [unit of the reading]

    Raises
    ------
    OutOfRangeError
        If there are fewer than two readings or one is not finite.

    Notes
    -----
    *Measured law* (statistics of repeated observations, type A). It says nothing of a
    ruler that is wrong in the same way each time.

    References
    ----------
    jcgm_100_2008

    Examples
    --------
    >>> summary = summarise_readings([34.0, 36.0, 35.0, 35.0])
    >>> summary.mean.item(), round(summary.standard_uncertainty.item(), 3)
    (35.0, 0.408)
    """
    table = np.atleast_2d(checked("readings", readings))
    count = table.shape[-1]
    if table.ndim != 2 or count < 2:
        raise OutOfRangeError(
            f"readings: received shape {table.shape}; allowed: at least 2 readings of each quantity; measure again"
        )
    covariance = np.atleast_2d(np.cov(table, ddof=1)) / count
    spread = np.sqrt(np.diag(covariance))
    scale = np.where(spread > 0, spread, 1.0)
    correlation = covariance / np.outer(scale, scale)
    np.fill_diagonal(correlation, 1.0)
    return Readings(table.mean(axis=-1), spread, correlation, count - 1)


def propagate(
    model: Model,
    values: Sequence[Numbers],
    standard_uncertainties: Sequence[Numbers],
    correlation: Numbers | None = None,
) -> Propagated:
    """Uncertainty of a computed value by first-order propagation.

    Parameters
    ----------
    model : callable
        Takes one array an input and returns an array of their shape, further axes (such as the
        crank angle) allowed behind; or a tuple of such arrays for several outputs. [any unit]
    values : sequence of array_like
        Inputs; they broadcast against each other. [unit of each input]
    standard_uncertainties : sequence of array_like
        Standard uncertainty of each input, at least 0. [unit of each input]
    correlation : array_like, shape (inputs, inputs), optional
        Correlation of the inputs, −1 to 1; none given means uncorrelated. [1]

    Returns
    -------
    Propagated
        Value, standard uncertainty, sensitivities, covariance of the outputs. [unit of each output]

    Raises
    ------
    OutOfRangeError
        If the counts differ, an uncertainty is negative, or the correlation is not symmetric,
        not within ±1 or not possible.

    Notes
    -----
    *Measured law*, first order: u² = ΣΣ c_i c_j u_i u_j r_ij, slopes c by a five-point difference
    over a twentieth of each uncertainty. Where the model bends within one uncertainty, compare
    with `monte_carlo.propagate_by_draws`.

    References
    ----------
    jcgm_100_2008

    Examples
    --------
    >>> found = propagate(lambda inseam: 0.883 * inseam, [820.0], [5.0])
    >>> found.value.item(), found.standard_uncertainty.item()
    (724.06, 4.415)
    """
    inputs, spreads = checked_inputs(values, standard_uncertainties)
    matrix = checked_correlation(correlation, len(inputs))
    value, many = outputs_of(model, inputs)
    slopes = np.stack([_slope(model, inputs, spreads[i], i) for i in range(len(inputs))])
    parts = np.stack([slope * _trailing(u, slope.ndim - 1) for slope, u in zip(slopes, spreads, strict=True)])
    covariance = np.einsum("im...,ij,jn...->mn...", parts, matrix, parts)
    spread = np.sqrt(np.maximum(np.einsum("mm...->m...", covariance), 0))
    if many:
        return Propagated(value, spread, slopes, covariance)
    return Propagated(value[0], spread[0], slopes[:, 0], covariance)


def _slope(model: Model, inputs: list[Floats], spread: Floats, which: int) -> Floats:
    """Slope against one input, over a share of its uncertainty that rounding cannot swallow."""
    step = np.maximum(_STEP_OF_UNCERTAINTY * spread, _LEAST_STEP * np.abs(inputs[which]))
    step = np.where(step > 0, step, _LEAST_STEP)

    def moved(offset: float) -> Floats:
        shifted = list(inputs)
        shifted[which] = inputs[which] + offset * step
        return outputs_of(model, shifted)[0]

    change = np.asarray(sum(weight * moved(offset) for offset, weight in _STENCIL))
    return np.asarray(change / _trailing(step, change.ndim - 1))


def _trailing(values: Floats, axes: int) -> Floats:
    """Add axes behind, so that input-shaped numbers meet outputs with further axes."""
    return values.reshape(values.shape + (1,) * (axes - values.ndim))
