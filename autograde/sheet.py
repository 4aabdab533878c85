"""The answer sheet in a notebook, as an IPython extension.

The first cell of a case's notebook is::

    %load_ext autograde.sheet
    %case pedal-force-record

An answer cell begins with ``%%answer torque``; running it says how the answer is read. ``check("torque")``
says so again. Nothing here knows a right value: the variant's seed needs the cohort's secret.

``%case pedal-force-record practice 3`` is the third public practice variant, drawn from an open seed that
certification never uses: there an answer gets full feedback at once, and after an attempt ``%solution torque``
shows a worked solution.

``%sheet`` shows the same tasks as a form, where the notebook can show one; the cells do without.

When the environment variable PEDALWRIGHT_MARKING names a cohort folder, ``check`` marks and returns the
points as a finite number. That is for nbgrader's own autograding of notebooks whose code is trusted: it
runs in the same process as the notebook's code, which could call anything. The cohort's own marking reads
the sheet and runs nothing.
"""

from __future__ import annotations

import math
import os
import re
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
from autograde.cases.calling import worked_of
from autograde.cases.course import course_page
from autograde.cases.discover import family_folders
from autograde.marking import State, Task, TaskResult, cell_text, mark_sheet
from autograde.marking.form import check_form
from autograde.marking.result import SheetResult
from autograde.sheet_hints import words_on

MARKING = "PEDALWRIGHT_MARKING"
ATTEMPT = "PEDALWRIGHT_ATTEMPT"
MORE_CASES = "PEDALWRIGHT_CASES"
"""More folders of cases, parted like PATH."""

NO_CASE = "Run the first cell of this notebook once: it begins with %load_ext autograde.sheet."
SEALED = (
    "If your instructor keeps this case private, that is as it should be: type your answers all the same and hand the "
    "notebook in. They are marked then; here only their form can be looked at."
)
UNCHECKED = "Noted, and not checked: the case is not on this computer. Save the notebook and hand it in."
TRY_FIRST = "Try first: write an answer that can be read and run its cell. The worked solution is for after an attempt."
PRACTICE_ONLY = "There is a worked solution in practice only: %case NAME practice 1."
IN_WORDS = {
    State.IN_CONSEQUENCE: "Right in consequence.",
    State.MISCONCEPTION: "A known slip.",
    State.OUT_OF_TOLERANCE: "Not right yet.",
    State.NOT_GRADABLE: "Not read.",
}
_ANSWER_LINE = re.compile(r"\s*%%answer\b")


@dataclass
class Sheet:
    """The answers given so far and what may be said about them."""

    environment: Mapping[str, str]
    here: Path
    say: Callable[[str], None] = print
    show: Callable[[str], None] | None = None
    family: Family | None = None
    practice: Variant | None = None
    answers: dict[str, str] = field(default_factory=dict)
    tried: set[str] = field(default_factory=set)
    unknown: str = ""

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
        self.family = self.practice = None
        self.unknown = ""
        self.answers.clear()
        self.tried.clear()
        try:
            if not words or len(words) > 3 or (len(words) > 1 and words[1] != "practice"):
                raise FamilyError("write the name of a case: %case pedal-force-record")
            folders = self._more_cases()
            self.unknown = "" if words[0] in family_folders(folders) else words[0]
            family = load_family(words[0], folders)
            self.practice = practice_variant(family, _number(words[2:])) if len(words) > 1 else None
            self.family = family
        except (FamilyError, VariantError) as problem:
            self.say(f"The case cannot be opened: {problem}." + (f" {SEALED}" if self.unknown else ""))
            return
        self.say(
            f"{family.title}: {len(family.tasks)} tasks. Write each answer under its %%answer line and run the cell; "
            + ("you get feedback at once." if self.practice else "it tells you how your answer is read.")
            + " Or fill in a form: write %sheet into a new cell and run it."
        )

    def answer(self, line: str, body: str) -> None:
        """Take an answer; say how it is read, or in practice what it is worth."""
        task_id, text = cell_text(f"%%answer {line}\n{body}")
        if self.family is None and self.unknown:
            self.say(words_on(body, text))
            return
        task = self._task(task_id or "")
        if task is not None:
            self.say(self._with_pointer(task, self.take(task, text, full=True)))

    def take(self, task: Task, text: str, *, full: bool) -> str:
        """Take an answer and give back what to say about it.

        Parameters
        ----------
        task : Task
            Of the opened case.
        text : str
            What was typed, without the ``%%answer`` line.
        full : bool
            Whether practice says all, or only how the answer is read.

        Returns
        -------
        str
            Words for the trainee; in certification never more than how the answer is read.
        """
        _, text = cell_text(f"%%answer {task.id}\n{text}")
        self.answers[task.id] = text
        form = check_form(task, text)
        if self.practice is None or self.marking or not full:
            return form.message
        if form.readable and text:
            self.tried.add(task.id)
        if task.by_hand:
            return "A person reads this answer. Compare yours with a worked one."
        return self._feedback(self.practice, task, form.message)

    def check(self, task_id: str) -> float | None:
        """Say how an answer is read, practise or mark, as the notebook is opened."""
        if self.marking:
            return self._points(self.marking, task_id)
        task = self._task(task_id)
        if task is not None and task.id in self.answers:
            self.say(self._with_pointer(task, self.take(task, self.answers[task.id], full=True)))
        elif task is not None:
            self.say(check_form(task, None).message)
        return None

    def solution(self, line: str) -> None:
        """Show the worked solution of a practice task, after an attempt."""
        task = self._task(line.strip())
        if task is not None:
            (self.show or self.say)(self.solution_of(task))

    def solution_of(self, task: Task) -> str:
        """Give the worked solution of a task (Markdown), or say why there is none to see."""
        if self.practice is None or self.practice.family.worked is None:
            return PRACTICE_ONLY
        if task.id not in self.tried and not task.by_hand:
            return TRY_FIRST
        try:
            worked = worked_of(self.practice.family, self.practice.case)
        except FamilyError as problem:
            return f"The worked solution cannot be shown: {problem}."
        return worked.get(task.id, "This task has no worked solution.")

    def form(self, _line: str = "") -> Any:
        """Show the tasks as a form; where that cannot be, say that the cells do without."""
        if self.marking:
            return None
        if self.family is None:
            self.say(UNCHECKED if self.unknown else NO_CASE)
            return None
        try:
            from autograde.sheet_form import SheetForm
        except ImportError:
            self.say("This notebook cannot show a form. Type your answers into the cells: that is all that is needed.")
            return None
        self.say("If no form appears below, this program cannot show one: type your answers into the cells instead.")
        return SheetForm(self, self.family).box

    def _with_pointer(self, task: Task, words: str) -> str:
        """Say where the worked solution is, once there has been an attempt."""
        worked = self.practice is not None and self.practice.family.worked is not None and not self.marking
        return f"{words} A worked solution: %solution {task.id}" if worked and task.id in self.tried else words

    def _feedback(self, practice: Variant, task: Task, form_message: str) -> str:
        try:
            result = self._marked(practice)[task.id]
        except Exception as problem:
            return f"This could not be marked ({type(problem).__name__}). Go on; it is not your doing."
        if result.read_value is None:
            return form_message
        shown = f"Read as {result.read_as}. {_practice_words(result)}"
        marks = "" if result.marks is None else f" {result.marks:g} of {result.max_marks:g} marks."
        return shown + marks

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
            self.say(UNCHECKED if self.unknown else NO_CASE)
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
    page = course_page(result.page)
    benches = f", with {' and '.join(f'“{title}”' for title in page.benches.values())}" if page.benches else ""
    return f"{IN_WORDS[result.state]} {result.feedback} Page to revisit: {page.title}{benches}."


def answer_line_first(lines: list[str]) -> list[str]:
    r"""Drop blank lines and comments above an ``%%answer`` line, where some editors move them.

    Examples
    --------
    >>> answer_line_first(["# a number with its unit\n", "%%answer torque\n", "23 N m\n"])
    ['%%answer torque\n', '23 N m\n']
    """
    for number, line in enumerate(lines):
        if _ANSWER_LINE.match(line):
            return lines[number:]
        if line.strip() and not line.lstrip().startswith("#"):
            break
    return lines


def load_ipython_extension(ipython: Any) -> None:
    """Register ``%case``, ``%%answer``, ``%solution``, ``%sheet`` and ``check``.

    Parameters
    ----------
    ipython : IPython.core.interactiveshell.InteractiveShell
        The notebook's shell.
    """
    sheet = Sheet(os.environ, Path.cwd(), show=_show_markdown)
    ipython.register_magic_function(sheet.open, "line", "case")
    ipython.register_magic_function(sheet.answer, "cell", "answer")
    ipython.register_magic_function(sheet.solution, "line", "solution")
    ipython.register_magic_function(sheet.form, "line", "sheet")
    ipython.push({"check": sheet.check})
    if answer_line_first not in ipython.input_transformers_cleanup:
        ipython.input_transformers_cleanup.append(answer_line_first)


def _show_markdown(text: str) -> None:
    from IPython.display import display

    display({"text/markdown": text, "text/plain": text}, raw=True)
