"""Shared type names: what functions accept (``Numbers``) and what they return."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Numbers = ArrayLike
Whole = NDArray[np.int64]
Truths = NDArray[np.bool_]
