"""Support tier of a footbed."""

from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pedalwright.errors import OutOfRangeError
from pedalwright.foot import ARCH_CLASSES

# Common practice, no source: tier by the height of the neutral arch.
SUPPORT_TIERS = MappingProxyType({"low": "mild", "medium": "moderate", "high": "significant"})
SUPPORT_EVIDENCE = (
    "Common practice, no source: tier by neutral arch height. Studies of footbeds in cycling show more contact area "
    "and perceived support, no change of kinematics, comfort or power."
)

# Share of the arch's drop that a footbed of a tier is taken to prevent: an assumption of the teaching model, no source.
HELD_SHARE = MappingProxyType({"mild": 0.4, "moderate": 0.6, "significant": 0.8})


def support_tier(arch_class: Any) -> NDArray[Any]:
    """Support tier of a footbed by the class of the neutral arch.

    Parameters
    ----------
    arch_class : str or array_like of str
        "low", "medium" or "high", as `foot.arch_class` gives it.

    Returns
    -------
    numpy.ndarray of str
        "mild", "moderate" or "significant".

    Raises
    ------
    OutOfRangeError
        If a class is not known.

    Notes
    -----
    *Convention*, common practice, no source: a high arch leaves most to fill. See ``SUPPORT_EVIDENCE``.

    References
    ----------
    bousie_2013
    yeo_bonanno_2014

    Examples
    --------
    >>> support_tier(["high", "low"]).tolist()
    ['significant', 'mild']
    """
    names = np.asarray(arch_class, dtype=str)
    unknown = sorted(set(names.ravel().tolist()) - set(ARCH_CLASSES))
    if unknown:
        raise OutOfRangeError(f"arch_class: received {unknown[0]!r}; allowed: {', '.join(ARCH_CLASSES)}; choose one")
    return np.select([names == name for name in ARCH_CLASSES], [SUPPORT_TIERS[name] for name in ARCH_CLASSES], "")
