"""Inputs and outputs of a computed value, shared by the two ways of propagating uncertainty."""

from collections.abc import Callable, Sequence

import numpy as np

from pedalwright._typing import Floats, Numbers
from pedalwright.errors import OutOfRangeError, checked

Model = Callable[..., Numbers | tuple[Numbers, ...]]


def checked_inputs(values: Sequence[Numbers], spreads: Sequence[Numbers]) -> tuple[list[Floats], list[Floats]]:
    """Return values and standard uncertainties, all of one shape."""
    if len(values) != len(spreads) or len(values) == 0:
        raise OutOfRangeError(
            f"standard_uncertainties: received {len(spreads)} for {len(values)} values; allowed: one for each value; "
            "give a standard uncertainty (0 if exact) for each"
        )
    clean = [checked(f"value {i + 1}", value) for i, value in enumerate(values)]
    widths = [checked(f"standard uncertainty {i + 1}", u, at_least=0) for i, u in enumerate(spreads)]
    shaped = np.broadcast_arrays(*clean, *widths)
    return list(shaped[: len(clean)]), list(shaped[len(clean) :])


def checked_correlation(correlation: Numbers | None, count: int) -> Floats:
    """Return the correlation as a square array, or the error that says why it is none."""
    if correlation is None:
        return np.eye(count)
    matrix = checked("correlation", correlation, at_least=-1 - 1e-9, at_most=1 + 1e-9)
    square = matrix.shape == (count, count) and np.allclose(matrix, matrix.T) and np.allclose(np.diag(matrix), 1)
    if not square or np.linalg.eigvalsh(matrix).min() < -1e-6:
        raise OutOfRangeError(
            f"correlation: received an array of shape {matrix.shape}; allowed: symmetric {count} × {count} with ones "
            "on the diagonal that a set of readings can have; compute it from simultaneous readings"
        )
    return matrix


def outputs_of(model: Model, inputs: list[Floats]) -> tuple[Floats, bool]:
    """Return the outputs stacked on the first axis, and whether the model gives several."""
    result = model(*inputs)
    many = isinstance(result, tuple)
    shape = inputs[0].shape
    outputs = [np.asarray(one, dtype=np.float64) for one in (result if isinstance(result, tuple) else (result,))]
    shaped = [one if one.shape[: len(shape)] == shape else np.broadcast_to(one, shape) for one in outputs]
    return np.stack(shaped), many
