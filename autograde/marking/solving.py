"""Calling a family's functions, so that anything that goes wrong there is one kind of error."""

from __future__ import annotations

import math
import numbers
from collections.abc import Mapping, Sequence
from typing import Any

from autograde.marking.misconceptions import Misconception
from autograde.marking.tasks import Choice, ChoiceSet, DirectedChange, Kind, Ordering, Quantity, Solve, Task, Value


class SolveError(RuntimeError):
    """A value could not be worked out; the message names no value."""


def key_values(tasks: Sequence[Task], case: Any) -> dict[str, Value | SolveError]:
    """Work out the right values, each from the right values before it.

    Parameters
    ----------
    tasks : sequence of Task
        In order.
    case : object
        The drawn case.

    Returns
    -------
    dict
        By task id: the value, or the error that stood in its way. Tasks marked by hand are left out.
    """
    found: dict[str, Value | SolveError] = {}
    for task in tasks:
        if task.by_hand:
            continue
        try:
            found[task.id] = solve_task(task, case, found)
        except SolveError as problem:
            found[task.id] = problem
    return found


def solve_task(task: Task, case: Any, values: Mapping[str, Value | SolveError]) -> Value:
    """Work out one task from a case and the values of the tasks it uses.

    Raises
    ------
    SolveError
        When a used value is missing, the calculation fails, or its result is no value of the task's kind.
    """
    if task.solve is None:
        raise SolveError(f"task {task.id!r} is marked by a person")
    value = _call(task.solve, task, case, values)
    if value is None:
        raise SolveError(f"solving task {task.id!r} gave nothing")
    return value


def predict(
    misconception: Misconception, task: Task, case: Any, values: Mapping[str, Value | SolveError]
) -> Value | None:
    """Work out where a misconception leads; None where it does not apply.

    Raises
    ------
    SolveError
        As for `solve_task`.
    """
    return _call(misconception.predict, task, case, values)


def _call(solve: Solve, task: Task, case: Any, values: Mapping[str, Value | SolveError]) -> Value | None:
    used = {}
    for name in task.uses:
        value = values.get(name)
        if value is None or isinstance(value, SolveError):
            raise SolveError(f"task {task.id!r} builds on {name!r}, which has no value")
        used[name] = value
    try:
        result = solve(case, used)
    except Exception as problem:
        raise SolveError(f"working out task {task.id!r} failed ({type(problem).__name__})") from problem
    return None if result is None else _as_value(task.kind, result, task.id)


def _as_value(kind: Kind, result: Any, task_id: str) -> Value:
    """Check that a result is a value of the task's kind, in plain Python types."""
    match kind:
        case Quantity() | DirectedChange():
            number = float(result) if isinstance(result, numbers.Real) and not isinstance(result, bool) else math.nan
            if math.isfinite(number):
                return number
        case Choice():
            if str(result) in _keys(kind):
                return str(result)
        case ChoiceSet():
            if not isinstance(result, str) and set(result) <= _keys(kind):
                return frozenset(str(key) for key in result)
        case Ordering():
            if not isinstance(result, str) and set(result) == _keys(kind) and len(result) == len(kind.options):
                return tuple(str(key) for key in result)
        case _:
            pass
    raise SolveError(f"working out task {task_id!r} gave no usable {type(kind).__name__}")


def _keys(kind: Choice | ChoiceSet | Ordering) -> set[str]:
    return {option.key for option in kind.options}
