"""Find out why a family's functions give no values, where marking itself must not show more than that they do not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, TypeAlias

import numpy as np

from autograde.cases.calling import case_file, place_of, words_of
from autograde.cases.contract import Family
from autograde.marking import Choice, ChoiceSet, Ordering, Task
from autograde.marking.solving import SolveError, key_values, predict
from autograde.marking.tasks import Kind, Solve, Value

Key: TypeAlias = Mapping[str, Value | SolveError]
RAW_DRAWS = 3


def problems_of_functions(family: Family) -> list[str]:
    """Call `solve` and `predict` of a family with cases as they are drawn, and tell what goes wrong.

    Parameters
    ----------
    family : Family
        It keeps the contract.

    Returns
    -------
    list of str
        Each with file, line where known, and mending; each once.
    """
    found: dict[str, None] = {}
    for seed in range(RAW_DRAWS):
        try:
            case = family.draw(np.random.default_rng(seed))
        except Exception:
            return list(found)  # told by the search for a variant already
        found |= dict.fromkeys(_problems(family, case))
    return list(found)


def _problems(family: Family, case: Any) -> Iterator[str]:
    key = key_values(family.tasks, case)
    for task in family.tasks:
        if task.solve is not None and isinstance(key[task.id], SolveError):
            yield from _why(family, task, "solve", task.solve, case, key)
    for slip in family.misconceptions:
        task = family.task(slip.task)
        try:
            predict(slip, task, case, key)
        except SolveError:
            yield from _why(family, task, f"predict of the slip {slip.id!r}", slip.predict, case, key)


def _why(family: Family, task: Task, name: str, function: Solve, case: Any, key: Key) -> Iterator[str]:
    """Say why a function gives no usable value, unless an earlier task is to blame."""
    if any(isinstance(key.get(earlier), SolveError) for earlier in task.uses):
        return
    what = f"{name} in task {task.id!r}"
    try:
        given = function(case, {earlier: key[earlier] for earlier in task.uses})
    except Exception as problem:
        place = place_of(problem, family.folder, case_file(family))
        missing = problem.args[0] if isinstance(problem, KeyError) and problem.args else None
        if missing in {each.id for each in family.tasks}:
            yield f"{place}: {what} reads {missing!r}, which the task's `uses` does not list; add it there"
        else:
            yield f"{place}: {what} failed ({words_of(problem)}); correct it"
    else:
        yield f"{case_file(family)}: {what} gives {repr(given)[:60]}; return {_wanted(task.kind)}"


def _wanted(kind: Kind) -> str:
    if not isinstance(kind, Choice | ChoiceSet | Ordering):
        return "a finite number"
    keys = ", ".join(option.key for option in kind.options)
    start = {Choice: "one of", ChoiceSet: "a set of some of", Ordering: "a tuple of all of"}[type(kind)]
    return f"{start} {keys}"
