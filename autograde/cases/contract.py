"""What a case family has to provide."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from autograde.marking import (
    Choice,
    ChoiceSet,
    DirectedChange,
    Misconception,
    Ordering,
    Quantity,
    Task,
    Tolerance,
    Words,
    read_answer,
)
from autograde.marking.reading import UnreadableError
from autograde.marking.units import read_unit

CASE_FILE, BRIEF_FILE = "case.py", "brief.md"
NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")


class FamilyError(ValueError):
    """A case family does not keep the contract; the message names the file and the fix."""


@dataclass(frozen=True)
class Family:
    """One kind of case study, from which every trainee gets an own variant.

    Parameters
    ----------
    name : str
        Name of its folder under exercises/, lower case with hyphens.
    title : str
        Heading for people.
    module_page : str
        Page of the book it practises, without ending.
    competencies : tuple of str
        What it shows; each task names one of these.
    draw : callable
        From a numpy random generator to one case (a frozen dataclass or a mapping). Numbers in
        the case are those the trainee sees: round them here.
    tasks : tuple of Task
        In the order of the brief.
    misconceptions : tuple of Misconception
        Wrong ways that are recognised.
    figures : callable
        From a case to PNG pictures by name.
    context : callable
        From a case to what the brief's placeholders stand for.
    clear : callable
        From a case to a list of reasons against it; empty when solvable and unambiguous.
    worked : callable or None
        From a case to a worked solution (Markdown) by task id, for practice.
    folder : Path or None
        Where it was found; filled in by `discover`.
    summary : str
        One sentence on what it asks; the first line of case.py's docstring when empty.
    """

    name: str
    title: str
    module_page: str
    competencies: tuple[str, ...]
    draw: Callable[[np.random.Generator], Any]
    tasks: tuple[Task, ...]
    misconceptions: tuple[Misconception, ...]
    figures: Callable[[Any], Mapping[str, bytes]]
    context: Callable[[Any], Mapping[str, Any]]
    clear: Callable[[Any], list[str]] = field(default=lambda _case: [])
    worked: Callable[[Any], Mapping[str, str]] | None = None
    folder: Path | None = None
    summary: str = ""

    def task(self, task_id: str) -> Task:
        """Find a task by its id.

        Raises
        ------
        KeyError
            When there is none.
        """
        for task in self.tasks:
            if task.id == task_id:
                return task
        raise KeyError(task_id)

    @property
    def max_marks(self) -> float:
        """Full marks of one sheet."""
        return sum(task.marks for task in self.tasks)


def check_family(family: Any, file: Path) -> Family:
    """Check that a family keeps the contract.

    Parameters
    ----------
    family : object
        What ``case.py`` calls FAMILY.
    file : Path
        That ``case.py``, for the error.

    Returns
    -------
    Family
        The same family.

    Raises
    ------
    FamilyError
        With every problem found, the file and what to change.
    """
    if not isinstance(family, Family):
        raise FamilyError(f"{file}: FAMILY is a {type(family).__name__}; make it an autograde.cases.Family(...)")
    problems = _type_problems(family)
    if not problems:
        problems = [*_name_problems(family, file), *_task_problems(family), *_misconception_problems(family)]
    if problems:
        raise FamilyError(f"{file}: " + "; ".join(problems))
    return family


def _type_problems(family: Family) -> list[str]:
    """Find what is of another type than the contract says, so that nothing later trips over it."""
    problems = []
    for name in ("name", "title", "module_page"):
        value = getattr(family, name)
        if not (isinstance(value, str) and value.strip()):
            problems.append(f"{name} is {value!r}: give a text")
    for name, kind in (("competencies", str), ("tasks", Task), ("misconceptions", Misconception)):
        problems += _sequence_problems(name, getattr(family, name), kind)
    for name in ("draw", "figures", "context", "clear"):
        if not callable(getattr(family, name)):
            problems.append(f"{name} is a {type(getattr(family, name)).__name__}: give a function")
    if family.worked is not None and not callable(family.worked):
        problems.append(f"worked is a {type(family.worked).__name__}: give a function, or leave it out")
    if not problems:
        problems = [text for task in family.tasks for text in _task_type_problems(task)]
        problems += [
            f"misconception {item.id!r} of task {item.task!r}: predict is a {type(item.predict).__name__}; give a "
            "function of case and earlier values"
            for item in family.misconceptions
            if not callable(item.predict)
        ]
    return problems


def _sequence_problems(name: str, value: Any, kind: type) -> list[str]:
    if not isinstance(value, tuple | list):
        return [f"{name} is a {type(value).__name__}: put it in brackets with a comma, {name}=(…,)"]
    return [
        f"entry {number} of {name} is a {type(each).__name__}: give a {'text' if kind is str else kind.__name__}"
        for number, each in enumerate(value, 1)
        if not isinstance(each, kind)
    ]


def _task_type_problems(task: Task) -> list[str]:
    where = f"task {task.id!r}"
    problems = [f"{where}: {text}" for text in _sequence_problems("uses", task.uses, str)]
    if not isinstance(task.kind, Quantity | Choice | ChoiceSet | Ordering | DirectedChange | Words):
        problems.append(
            f"{where}: its kind is a {type(task.kind).__name__}; give a Quantity(...), Choice(...) or the like"
        )
    elif isinstance(task.kind, Quantity | DirectedChange) and not isinstance(task.kind.tolerance, Tolerance):
        problems.append(f"{where}: its tolerance is {task.kind.tolerance!r}; give Tolerance(...)")
    if task.solve is not None and not callable(task.solve):
        problems.append(f"{where}: solve is a {type(task.solve).__name__}; give a function of case and earlier values")
    for name in ("prompt", "page", "title"):
        if not (isinstance(getattr(task, name), str) and getattr(task, name).strip()):
            problems.append(f"{where}: {name} is {getattr(task, name)!r}; give a text")
    return problems


def _name_problems(family: Family, file: Path) -> list[str]:
    problems = []
    if not NAME.match(family.name):
        problems.append(f"name {family.name!r}: use lower case letters, digits and single hyphens")
    if family.name != file.parent.name:
        problems.append(f"name {family.name!r} differs from its folder {file.parent.name!r}: give both the same name")
    if not family.tasks:
        problems.append("no tasks: list at least one Task(...)")
    if not (file.parent / BRIEF_FILE).is_file():
        problems.append("brief.md is missing beside it: write the brief there")
    return problems


def _task_problems(family: Family) -> list[str]:
    problems: list[str] = []
    before: set[str] = set()
    seen: set[str] = set()
    for task in family.tasks:
        where = f"task {task.id!r}"
        if not NAME.match(task.id):
            problems.append(f"{where}: use lower case letters, digits and single hyphens in its id")
        if task.id in seen:
            problems.append(f"{where} is listed twice: give each task its own id")
        if task.competency not in family.competencies:
            problems.append(f"{where}: competency {task.competency!r} is not listed in `competencies`; add it there")
        unknown = [name for name in task.uses if name not in before]
        if unknown:
            problems.append(f"{where} uses {unknown}: name only earlier tasks that are marked by the program")
        if isinstance(task.kind, Quantity | DirectedChange):
            problems += [f"{where}: {text}" for text in _unit_problems(task.kind)]
        seen.add(task.id)
        if not task.by_hand:
            before.add(task.id)
    return problems


def _unit_problems(kind: Quantity | DirectedChange) -> list[str]:
    try:
        read_unit(kind.unit)
    except UnreadableError as problem:
        return [f"{problem}; use one that autograde.marking.units lists"]
    low, high = kind.plausible
    if isinstance(kind, Quantity):
        value = read_answer(kind, kind.example).value
        if not (isinstance(value, float) and low <= value <= high):
            return [f"its example {kind.example!r} is not a plausible answer; write one that is"]
    return []


def _misconception_problems(family: Family) -> list[str]:
    problems = []
    markable = {task.id for task in family.tasks if not task.by_hand}
    pairs = [(item.task, item.id) for item in family.misconceptions]
    for item in family.misconceptions:
        where = f"misconception {item.id!r} of task {item.task!r}"
        if item.task not in markable:
            problems.append(f"{where}: there is no such task marked by the program; correct the task id")
        if not NAME.match(item.id):
            problems.append(f"{where}: use lower case letters, digits and single hyphens in its id")
        if pairs.count((item.task, item.id)) > 1:
            problems.append(f"{where} is listed twice: remove one")
        if not item.feedback.strip() or not item.label.strip():
            problems.append(f"{where}: write its label and its feedback")
    return problems
