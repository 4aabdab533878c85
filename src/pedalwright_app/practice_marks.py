"""What the marking package says to every answer of a practice rider, as a table a page can look up without a kernel.

For a number the axis is cut where any verdict can change, at the edges of the band of the right value and of each
slip's; between two cuts the marking package is asked once. So the page compares nothing: it reads a number and a
unit, and looks in which piece the number falls. Earlier tasks count as answered rightly.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from autograde.cases import Family
from autograde.marking import State, mark_sheet
from autograde.marking.answers import LARGEST_SHARE, how_to_write
from autograde.marking.compare import EDGE
from autograde.marking.misconceptions import Misconception
from autograde.marking.reading import UnreadableError
from autograde.marking.solving import SolveError, key_values, predict
from autograde.marking.tasks import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Task, Value
from autograde.marking.units import SPELLINGS, convert, read_unit

WRITTEN_UNITS = (
    *("N m", "N mm", "N cm", "kN m", "cm^2", "mm^2", "m^2", "mm/kN", "mm/N", "cm/kN", "m/kN"),
    *("rev/min", "revs/min", "turns/min", "1/min", "/min", "rad/s", "newton metres", "newton meters", "mm per kN"),
    *("square centimetres", "square millimetres", "per cent"),
)
_RAISED = str.maketrans("⁰¹²³⁴", "01234")


@dataclass
class MarkTables:
    """Verdicts of one family: words once, and for each rider and task where they hold.

    Parameters
    ----------
    family : Family
        The family.
    words : list of tuple of str
        State, feedback and page; tables point into it.
    """

    family: Family
    words: list[tuple[str, str, str]] = field(default_factory=list)
    _known: dict[tuple[str, str, str], int] = field(default_factory=dict)

    def rider(self, case: Any) -> dict[str, Any]:
        """Give the tables of one rider, by task; texts, and what cannot be worked out, have none."""
        keys = key_values(self.family.tasks, case)
        tables = {}
        for task in self.family.tasks:
            right = keys.get(task.id)
            if right is None or isinstance(right, SolveError):
                continue
            targets = [right, *_slips(self.family.misconceptions, task, case, keys)]
            tables[task.id] = self._table(task, case, targets)
        return tables

    def as_data(self, riders: Sequence[dict[str, Any]]) -> dict[str, Any]:
        """Everything the page needs for this family."""
        return {
            "tasks": {task.id: about(task, self.family) for task in self.family.tasks},
            "words": self.words,
            "riders": list(riders),
        }

    def _table(self, task: Task, case: Any, targets: Sequence[Value]) -> Any:
        kind = task.kind
        if isinstance(kind, Quantity | DirectedChange):
            return self._pieces(task, kind, case, [float(str(target)) for target in targets])
        if isinstance(kind, Ordering):
            labels = {option.key: label for label, option in kind.labelled()}
            known = [[labels[key] for key in target] for target in targets if isinstance(target, tuple)]
            other = next(list(o) for o in itertools.permutations(labels.values()) if list(o) not in known)
            table = {" ".join(order): self._say(task, case, ", ".join(order)) for order in known}
            return {**table, "": self._say(task, case, ", ".join(other))}
        if isinstance(kind, ChoiceSet):
            labels_shown = [label for label, _ in kind.labelled()]
            sets = (s for size in range(len(labels_shown) + 1) for s in itertools.combinations(labels_shown, size))
            return {" ".join(chosen): self._say(task, case, ", ".join(chosen) or "none") for chosen in sets}
        assert isinstance(kind, Choice)
        return {label: self._say(task, case, label) for label, _ in kind.labelled()}

    def _pieces(
        self, task: Task, kind: Quantity | DirectedChange, case: Any, targets: Sequence[float]
    ) -> list[tuple[float | None, int, int]]:
        """Pieces of the axis from below: upper end, verdict with a unit, verdict on a bare number."""
        pieces: list[tuple[float | None, int, int]] = []
        for low, high in itertools.pairwise([-math.inf, *cuts(kind, targets), math.inf]):
            inside = _inside(low, high)
            said = self._say(task, case, typed(kind, inside)), self._say(task, case, typed(kind, inside, bare=True))
            upper = None if math.isinf(high) else high
            if pieces and pieces[-1][1:] == said:
                pieces[-1] = (upper, *said)
            else:
                pieces.append((upper, *said))
        return pieces

    def _say(self, task: Task, case: Any, text: str) -> int:
        result = mark_sheet(_needed(self.family, task), self.family.misconceptions, case, {task.id: text})[task.id]
        if result.state is State.NOT_GRADABLE:
            raise ValueError(f"family {self.family.name!r}, task {task.id!r}: {text!r} was {result.reason!r}")
        said = str(result.state), result.feedback, result.page
        if said not in self._known:
            self._known[said] = len(self.words)
            self.words.append(said)
        return self._known[said]


def about(task: Task, family: Family) -> dict[str, Any]:
    """Say what a page must know of a task to show its input and to read an answer."""
    kind, found = task.kind, {"title": task.title, "kind": type(task.kind).__name__, "how": how_to_write(task.kind)}
    more: dict[str, Any] = {"builds": [family.task(name).title for name in task.uses]}
    if isinstance(kind, Quantity | DirectedChange):
        more |= {"unit": kind.unit, "units": unit_factors(kind.unit)}
        if kind.unit == "%":
            more["share"] = LARGEST_SHARE
    if isinstance(kind, DirectedChange):
        more["ways"] = [kind.positive[0], kind.negative[0]]
    if isinstance(kind, Choice | ChoiceSet | Ordering):
        more["labels"] = [label for label, _ in kind.labelled()]
    return {**found, **more}


def typed(kind: Quantity | DirectedChange, value: float, *, bare: bool = False) -> str:
    """Write a value as a trainee could, with the task's unit or without any."""
    word = ""
    if isinstance(kind, DirectedChange) and value:
        word, value = (kind.positive[0] if value > 0 else kind.negative[0]) + " ", abs(value)
    if bare and kind.unit == "%" and abs(value / 100) <= LARGEST_SHARE:
        value /= 100
    return f"{word}{value!r}" + ("" if bare else f" {kind.unit}")


def cuts(kind: Quantity | DirectedChange, targets: Sequence[float]) -> list[float]:
    """Every value at which a verdict can change, rising."""
    bands = [(target, kind.tolerance.half_width(target) * (1 + EDGE)) for target in targets]
    found = {edge for centre, half in bands for edge in (centre - half, centre + half)} | set(kind.plausible)
    if isinstance(kind, DirectedChange):
        found.add(0.0)
    for (one, half), (other, width) in itertools.combinations(bands, 2):
        if abs(one - other) <= half + width:
            found |= {(one * width + other * half) / (half + width)}
            if half != width:
                found |= {(one * width - other * half) / (width - half)}
    return sorted(found)


@cache
def unit_factors(unit: str) -> dict[str, float]:
    """Every way to write a unit of the same kind, as `plain_unit` gives it, with its factor to the unit asked for."""
    wanted, factors = read_unit(unit), {}
    for written in (unit, *(word for words in SPELLINGS.values() for word in words.split()), *WRITTEN_UNITS):
        try:
            factor = convert(1.0, read_unit(written), wanted)
        except UnreadableError:
            continue
        if written and factor is not None:
            factors[plain_unit(written)] = factor
    return factors


def plain_unit(text: str) -> str:
    """Bring a unit into the form in which it is looked up; the page does the same.

    Examples
    --------
    >>> plain_unit("N·m"), plain_unit("cm²"), plain_unit("mm / kN")
    ('n m', 'cm2', 'mm/kn')
    """
    plain = text.translate(_RAISED).casefold().replace("º", "°")
    plain = re.sub(r"\^|\*\*", "", plain)
    plain = re.sub(r"[·⋅×.•∙*-]", " ", plain)
    return re.sub(r"\s*/\s*", "/", " ".join(plain.split()))


def _slips(
    misconceptions: Sequence[Misconception], task: Task, case: Any, keys: dict[str, Value | SolveError]
) -> Iterator[Value]:
    for slip in misconceptions:
        leads_to = predict(slip, task, case, keys) if slip.task == task.id else None
        if leads_to is not None:
            yield leads_to


def _needed(family: Family, task: Task) -> list[Task]:
    """List the task and those it builds on, near and far, in order."""
    wanted = {task.id}
    for earlier in reversed(family.tasks):
        if earlier.id in wanted:
            wanted |= set(earlier.uses)
    return [one for one in family.tasks if one.id in wanted]


def _inside(low: float, high: float) -> float:
    """Give a value between two cuts."""
    if math.isinf(low):
        return high - 1.0 if not math.isinf(high) else 0.0
    return low + 1.0 if math.isinf(high) else (low + high) / 2
