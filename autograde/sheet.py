"""The answer sheet in a notebook, as an IPython extension.

The first cell of a case's notebook is::

    %load_ext autograde.sheet
    %case pedal-force-record

An answer cell begins with ``%%answer torque``; running it says how the answer is read. ``check("torque")``
says so again. Nothing here knows a right value: the variant's seed needs the cohort's secret.

``%case pedal-force-record practice 3`` is the third public practice variant: there ``check`` gives full
feedback at once and ``%solution torque`` shows a worked solution.

When the environment variable PEDALWRIGHT_MARKING names a cohort folder, ``check`` marks and returns the
points as a finite number. That is for nbgrader's own autograding of notebooks whose code is trusted: it
runs in the same process as the notebook's code, which could call anything. The cohort's own marking reads
the sheet and runs nothing.
"""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from autograde.cases import (
    Family,
    FamilyError,
    Variant,
    VariantError,
    load_family,
    practice_variant,
    read_secret,
    trainee_variant,
)
from autograde.marking import State, Task, TaskResult, cell_text, mark_sheet
from autograde.marking.form import check_form
from autograde.marking.result import SheetResult

MARKING = "PEDALWRIGHT_MARKING"
ATTEMPT = "PEDALWRIGHT_ATTEMPT"
MORE_CASES = "PEDALWRIGHT_CASES"
"""More folders of cases, parted like PATH."""

NO_CASE = "Run the first cell of this notebook once: it begins with %load_ext autograde.sheet."
IN_WORDS = {
    State.IN_CONSEQUENCE: "Right in consequence.",
    State.MISCONCEPTION: "A known slip.",
    State.OUT_OF_TOLERANCE: "Not right yet.",
    State.NOT_GRADABLE: "Not read.",
}


@dataclass
class Sheet:
    """The answers given so far and what may be said about them."""

    environment: Mapping[str, str]
    here: Path
    say: Callable[[str], None] = print
    family: Family | None = None
    practice: Variant | None = None
    answers: dict[str, str] = field(default_factory=dict)

    @property
    def marking(self) -> Path | None:
        """The cohort folder, when marking is switched on."""
        folder = self.environment.get(MARKING, "").strip()
        return Path(folder) if folder else None

    def open(self, line: str) -> None:
        """Open a case: its name, optionally followed by ``practice`` and a number."""
        words = line.split()
        if self.marking:
            words = [self.here.name]
        try:
            if not words or len(words) > 3 or (len(words) > 1 and words[1] != "practice"):
                raise FamilyError("write the name of a case: %case pedal-force-record")
            self.family = load_family(words[0], self._more_cases())
            self.practice = practice_variant(self.family, _number(words[2:])) if len(words) > 1 else None
        except (FamilyError, VariantError) as problem:
            self.family = self.practice = None
            self.say(f"The case cannot be opened: {problem}.")
            return
        self.answers.clear()
        self.say(
            f"{self.family.title}: {len(self.family.tasks)} tasks. Write each answer under its %%answer line and run "
            "the cell; it tells you how your answer is read."
        )

    def answer(self, line: str, body: str) -> None:
        """Take an answer and say how it is read."""
        task_id, text = cell_text(f"%%answer {line}\n{body}")
        task = self._task(task_id or "")
        if task is None:
            return
        self.answers[task.id] = text
        self.say(check_form(task, text).message)

    def check(self, task_id: str) -> float | None:
        """Say how an answer is read, practise or mark, as the notebook is opened."""
        if self.marking:
            return self._points(self.marking, task_id)
        task = self._task(task_id)
        if task is None:
            return None
        if self.practice is None:
            self.say(check_form(task, self.answers.get(task.id)).message)
            return None
        result = self._marked(self.practice)[task.id]
        self.say(_practice_words(result))
        return None

    def solution(self, line: str) -> None:
        """Show the worked solution of a practice task."""
        task = self._task(line.strip())
        if task is None:
            return
        if self.practice is None or self.practice.family.worked is None:
            self.say("There is a worked solution in practice only: %case NAME practice 1.")
            return
        self.say(self.practice.family.worked(self.practice.case).get(task.id, "This task has no worked solution."))

    def _points(self, cohort: Path, task_id: str) -> float:
        """Mark one task; anything that goes wrong is said, and earns nothing here."""
        try:
            if self.family is None:
                raise FamilyError("no case is open")
            attempt = _number([self.environment.get(ATTEMPT, "1")])
            variant = trainee_variant(self.family, read_secret(cohort), self.here.parent.name, attempt)
            result = self._marked(variant)[task_id]
        except (FamilyError, VariantError) as problem:
            self.say(f"not gradable: {problem}")
            return 0.0
        except Exception as problem:
            self.say(f"not gradable: marking failed ({type(problem).__name__})")
            return 0.0
        if result.marks is None or not math.isfinite(result.marks):
            self.say(f"not gradable: {result.reason}")
            return 0.0
        return min(max(float(result.marks), 0.0), float(result.max_marks))

    def _marked(self, variant: Variant) -> SheetResult:
        family = variant.family
        return mark_sheet(family.tasks, family.misconceptions, variant.case, self.answers)

    def _task(self, task_id: str) -> Task | None:
        if self.family is None:
            self.say(NO_CASE)
            return None
        names = [task.id for task in self.family.tasks]
        if task_id not in names:
            self.say(f"There is no task {task_id!r} in this case; its tasks are: {', '.join(names)}.")
            return None
        return self.family.task(task_id)

    def _more_cases(self) -> list[Path]:
        folders = self.environment.get(MORE_CASES, "")
        return [Path(folder) for folder in folders.split(os.pathsep) if folder]


def _number(words: list[str]) -> int:
    if words and not (words[0].isascii() and words[0].isdigit()):
        raise VariantError(f"{words[0]!r} is not a whole number of at least 1")
    return int(words[0]) if words else 1


def _practice_words(result: TaskResult) -> str:
    if result.state is State.CORRECT:
        return result.feedback
    if result.read_value is None:
        return f"{IN_WORDS[result.state]} {result.reason}"
    return f"{IN_WORDS[result.state]} {result.feedback} Page to revisit: {result.page}."


def load_ipython_extension(ipython: Any) -> None:
    """Register ``%case``, ``%%answer``, ``%solution`` and ``check``.

    Parameters
    ----------
    ipython : IPython.core.interactiveshell.InteractiveShell
        The notebook's shell.
    """
    sheet = Sheet(os.environ, Path.cwd())
    ipython.register_magic_function(sheet.open, "line", "case")
    ipython.register_magic_function(sheet.answer, "cell", "answer")
    ipython.register_magic_function(sheet.solution, "line", "solution")
    ipython.push({"check": sheet.check})
