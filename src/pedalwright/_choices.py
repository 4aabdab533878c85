"""Picking a named choice: one error message wherever a name is not known."""

from collections.abc import Mapping
from typing import TypeVar

from pedalwright.errors import OutOfRangeError

T = TypeVar("T")


def chosen(name: str, value: str, choices: Mapping[str, T]) -> T:
    """Return the entry of that name, or raise an error that lists the names there are.

    Parameters
    ----------
    name : str
        What is being chosen.
    value : str
        The name received.
    choices : mapping
        The entries there are, by name.

    Returns
    -------
    object
        The entry.

    Raises
    ------
    OutOfRangeError
        If there is no entry of that name.

    Examples
    --------
    >>> chosen("side", "right", {"right": 1, "left": -1})
    1
    """
    try:
        return choices[value]
    except (KeyError, TypeError):
        names = ", ".join(choices)
        raise OutOfRangeError(f"{name}: received {value!r}; allowed: {names}; choose one of these names") from None
