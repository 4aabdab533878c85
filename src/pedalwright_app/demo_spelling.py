"""How a bird writes down what it thinks: figures, units, letters and words in many hands."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Task

__all__ = ["rounded", "written"]

SPELLINGS = {
    "N m": ("Nm", "N m", "N*m", "newton metres"),
    "deg": ("deg", "°", "degrees"),
    "%": ("%", "percent"),
    "cm^2": ("cm2", "cm²", "cm^2"),
    "N": ("N", "newton"),
    "W": ("W", "watts"),
    "mm": ("mm", "mm", "millimetres"),
}
OTHER_UNITS = {
    "N m": (100.0, "N cm"),
    "J": (0.001, "kJ"),
    "W": (0.001, "kW"),
    "%": (0.01, ""),
    "mm": (0.1, "cm"),
    "deg": (math.pi / 180, "rad"),
    "N": (0.001, "kN"),
    "cm^2": (100.0, "mm^2"),
    "mm/kN": (0.001, "mm/N"),
}
ROUNDING_SHARE = 0.15
"""A value is rounded so far that the rounding is at most this share of the tolerance."""
LONGEST_IN_WORDS = 30


def rounded(kind: Quantity | DirectedChange, value: float) -> tuple[float, int]:
    """Round a value as somebody would who knows how sure it is.

    Parameters
    ----------
    kind : Quantity or DirectedChange
        Of the task.
    value : float
        In the task's unit.

    Returns
    -------
    float, int
        The value and its decimals.
    """
    finest = 2 * ROUNDING_SHARE * kind.tolerance.half_width(value)
    decimals = min(6, max(0, math.ceil(-math.log10(finest))))
    return round(value, decimals) + 0.0, decimals


def written(task: Task, thought: object, habit: str, forgets: float, chance: random.Random) -> str:
    """Write an answer down.

    Parameters
    ----------
    task : Task
        What is answered.
    thought : float, str, set or tuple
        A value of the task's kind.
    habit : str
        Of the bird.
    forgets : float
        Chance to forget the unit.
    chance : random.Random
        Of this answer.

    Returns
    -------
    str
        As typed into the sheet.

    Raises
    ------
    TypeError
        If the kind of the task is new to this module.
    """
    match task.kind:
        case Quantity():
            return _quantity(task.kind, float(str(thought)), habit, forgets, chance)
        case DirectedChange():
            return _change(task.kind, float(str(thought)), habit, forgets, chance)
        case Choice():
            return _choice(task.kind, str(thought), chance)
        case ChoiceSet() | Ordering() if isinstance(thought, tuple | frozenset):
            return _several(task.kind, thought, chance)
    raise TypeError(f"the demonstration cannot answer {task.id} with {thought!r}")


def _pick(chance: random.Random, ways: Sequence[str]) -> str:
    """Pick a way; the first ones are more usual."""
    return ways[int(len(ways) * chance.random() ** 2)]


def _number(kind: Quantity | DirectedChange, value: float, habit: str) -> tuple[str, str]:
    """Figures and unit, in the unit of the task or in another."""
    unit, (value, decimals) = kind.unit, rounded(kind, value)
    if habit == "other units" and unit in OTHER_UNITS:
        scale, unit = OTHER_UNITS[unit]
        return f"{value * scale:.{_figures(value, decimals)}g}", unit
    figures = f"{value:.{decimals}f}"
    if habit == "decimal comma":
        # three figures after a comma could be thousands, so one more is written
        figures = (f"{value:.4f}" if decimals == 3 else figures).replace(".", ",")
    return figures, unit


def _figures(value: float, decimals: int) -> int:
    return max(3, decimals + len(f"{abs(value):.0f}")) + 1


def _quantity(kind: Quantity, value: float, habit: str, forgets: float, chance: random.Random) -> str:
    figures, unit = _number(kind, value, habit)
    style, without_unit = chance.random(), chance.random() < forgets
    if not habit and style < 0.03:
        halves = f"{value / 2:.6g}"
        figures = f"2 * {halves}" if value > 0 else figures
    elif not habit and style < 0.07:
        figures = f"about {figures}"
    unit = unit if unit != kind.unit else _pick(chance, SPELLINGS.get(unit, (unit,)))
    return figures if without_unit else f"{figures} {unit}".strip()


def _change(kind: DirectedChange, value: float, habit: str, forgets: float, chance: random.Random) -> str:
    figures, unit = _number(kind, abs(value), habit)
    word = _pick(chance, kind.positive if value >= 0 else kind.negative)
    if value == 0:
        return "no change"
    amount = figures if chance.random() < forgets else f"{figures} {unit}"
    return f"{amount} {word}" if chance.random() < 0.3 else f"{word} {amount}"


def _choice(kind: Choice, key: str, chance: random.Random) -> str:
    label, option = next((label, option) for label, option in kind.labelled() if option.key == key)
    style = chance.random()
    if style < 0.2 and len(option.text) <= LONGEST_IN_WORDS:
        return option.text
    if kind.numbered:
        return label
    return label.lower() if style > 0.85 else f"{label})" if style > 0.8 else label


def _several(kind: ChoiceSet | Ordering, keys: frozenset[str] | tuple[str, ...], chance: random.Random) -> str:
    label_of = {option.key: label for label, option in kind.labelled()}
    labels = [label_of[key] for key in keys]
    if isinstance(kind, ChoiceSet):
        labels.sort()
    if not labels:
        return "none"
    ways = (", ", " ") if isinstance(kind, ChoiceSet) else (", ", " > ", " ")
    return _pick(chance, ways).join(labels)
