"""What a case family has to provide."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from autograde.marking import Misconception, Task

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
