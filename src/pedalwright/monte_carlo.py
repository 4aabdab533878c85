"""Uncertainty of a computed value by drawing its inputs many times."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from pedalwright._choices import chosen
from pedalwright._model_inputs import Model, checked_correlation, checked_inputs, outputs_of
from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

Shape = Literal["normal", "rectangular", "triangular"]


@dataclass(frozen=True)
class Drawn:
    """A computed value as a distribution.

    Parameters
    ----------
    mean, standard_uncertainty : numpy.ndarray
        Mean and standard deviation of the drawn outputs. [unit of the output]
    lower, upper : numpy.ndarray
        Ends of the coverage interval with equal probability outside on both sides. [unit of the output]
    draws : numpy.ndarray
        The drawn outputs, draws on the first axis. [unit of the output]

    Examples
    --------
    >>> drawn = propagate_by_draws(lambda a: a, [0.0], [1.0], draw_count=1000)
    >>> bool(drawn.lower < drawn.mean < drawn.upper)
    True
    """

    mean: Floats
    standard_uncertainty: Floats
    lower: Floats
    upper: Floats
    draws: Floats


def propagate_by_draws(
    model: Model,
    values: Sequence[Numbers],
    standard_uncertainties: Sequence[Numbers],
    correlation: Numbers | None = None,
    *,
    shapes: Shape | Sequence[Shape] = "normal",
    coverage: float = 0.95,
    draw_count: int = 100_000,
    rng: np.random.Generator | int = 0,
) -> Drawn:
    """Uncertainty of a computed value by Monte Carlo.

    Parameters
    ----------
    model : callable
        As for `propagate`; receives arrays with the draws on the first axis. [any unit]
    values, standard_uncertainties : sequence of array_like
        As for `propagate`. [unit of each input]
    correlation : array_like, optional
        As for `propagate`; only normal inputs may be correlated. [1]
    shapes : {"normal", "rectangular", "triangular"} or one name an input
        Shape of each input's distribution.
    coverage : float
        Probability inside the interval, between 0 and 1. [1]
    draw_count : int
        Number of draws, at least 100. [1]
    rng : numpy.random.Generator or int
        Generator or seed, so that a result can be repeated.

    Returns
    -------
    Drawn
        Mean, standard uncertainty, interval and the draws themselves. [unit of the output]

    Raises
    ------
    OutOfRangeError
        As `propagate`, and if a shape is not known or correlated inputs are not normal.

    Notes
    -----
    *Measured law* (propagation of distributions). The interval leaves the same probability on both sides.

    References
    ----------
    jcgm_101_2008

    Examples
    --------
    >>> found = propagate_by_draws(lambda a, b: a + b, [0.0, 0.0], [3.0, 4.0], rng=1)
    >>> abs(found.standard_uncertainty.item() - 5) < 0.05
    True
    """
    inputs, spreads = checked_inputs(values, standard_uncertainties)
    matrix = checked_correlation(correlation, len(inputs))
    names = [shapes] * len(inputs) if isinstance(shapes, str) else list(shapes)
    share = checked("coverage", coverage, above=0, below=1, advice="give a probability such as 0.95").item()
    checked("draw_count", draw_count, at_least=100, advice="draw more often")
    if len(names) != len(inputs):
        raise OutOfRangeError(
            f"shapes: received {len(names)} names; allowed: one or {len(inputs)}; name the shape of each input"
        )
    correlated = not np.array_equal(matrix, np.eye(len(inputs)))
    if correlated and set(names) != {"normal"}:
        raise OutOfRangeError(
            "shapes: received a correlation with a shape that is not normal; allowed: normal; "
            "drop the correlation or take normal inputs"
        )
    generator = np.random.default_rng(rng)
    spread = np.stack([_standard_draws(name, generator, (draw_count, *inputs[0].shape)) for name in names])
    if correlated:
        spread = np.einsum("ij,j...->i...", _square_root(matrix), spread)
    drawn, many = outputs_of(model, [x + u * s for x, u, s in zip(inputs, spreads, spread, strict=True)])
    draws = np.moveaxis(drawn, 1, 0) if many else drawn[0]
    lower, upper = np.quantile(draws, [(1 - share) / 2, (1 + share) / 2], axis=0)
    return Drawn(draws.mean(axis=0), draws.std(axis=0, ddof=1), lower, upper, draws)


def _standard_draws(shape: str, generator: np.random.Generator, size: tuple[int, ...]) -> Floats:
    """Draws of mean 0 and standard deviation 1."""
    end = chosen("shapes", shape, {"normal": np.inf, "rectangular": np.sqrt(3), "triangular": np.sqrt(6)})
    if shape == "rectangular":
        return generator.uniform(-end, end, size)
    if shape == "triangular":
        return generator.triangular(-end, 0, end, size)
    return generator.standard_normal(size)


def _square_root(matrix: Floats) -> Floats:
    weights, axes = np.linalg.eigh(matrix)
    return np.asarray(axes * np.sqrt(np.maximum(weights, 0)) @ axes.T)
