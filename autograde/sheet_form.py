"""The answer sheet as a form of native fields, for notebooks that can show one.

Every field has its own label and can be reached and worked by keyboard. In certification a field says how the
answer is read and nothing more; in practice a button gives full feedback, and another the worked solution.
What is typed here reaches an instructor by `autograde.sheet_file`: a file to hand in, beside the notebook.
"""

from __future__ import annotations

import html
import re
from typing import Any

import ipywidgets as widgets

from autograde.cases import Choice, DirectedChange, Family, FamilyError, Quantity, Task, Words
from autograde.marking.answers import how_to_write
from autograde.sheet import PRACTICE_ONLY, TRY_FIRST, Sheet
from autograde.sheet_file import save_for_hand_in

WIDE = widgets.Layout(width="98%", max_width="44rem")
NOT_CHOSEN = "not chosen yet"
LONGEST_OPTION = 90
HAND_IN = "Write the file to hand in"


class SheetForm:
    """The form of one opened case.

    Parameters
    ----------
    sheet : autograde.sheet.Sheet
        Takes the answers and says what may be said.
    family : Family
        The opened case.
    """

    def __init__(self, sheet: Sheet, family: Family) -> None:
        self.sheet, self.family = sheet, family
        self.lines = {task.id: TaskLine(sheet, task, number) for number, task in enumerate(family.tasks, 1)}
        parts: list[Any] = [line.box for line in self.lines.values()]
        self.told = widgets.HTML()
        self.button = widgets.Button(description=HAND_IN, layout=widgets.Layout(width="auto"))
        self.button.on_click(lambda _: self.save())
        if sheet.practice is None:
            parts += [widgets.HBox([self.button]), self.told]
        self.box = widgets.VBox(parts, layout=widgets.Layout(max_width="46rem"))

    def save(self) -> None:
        """Write what was typed into a copy of the notebook, for handing in."""
        typed = {task: line.typed for task, line in self.lines.items() if line.typed.strip()}
        try:
            file, kept = save_for_hand_in(self.sheet.here, self.family.name, typed)
        except FamilyError as problem:
            self.told.value = _status(f"Nothing was written: {problem}.")
            return
        words = (
            f"Written: {file.name}, with {len(typed)} of {len(self.lines)} answers from this form. Hand that file in."
        )
        if kept:
            words += f" From the saved cells of the notebook it took: {', '.join(kept)}."
        self.told.value = _status(words)


class TaskLine:
    """Field, buttons and words of one task.

    Parameters
    ----------
    sheet : autograde.sheet.Sheet
        Takes the answer.
    task : Task
        Which.
    number : int
        Its number, from 1.
    """

    def __init__(self, sheet: Sheet, task: Task, number: int) -> None:
        self.sheet, self.task = sheet, task
        self.field = _field(task, f"{number} {task.title}", sheet.answers.get(task.id, ""))
        self.told = widgets.HTML()
        self.check = _button("Check", f"Check the answer to task {number}: {task.title}")
        self.check.on_click(lambda _: self.say(full=True))
        self.solution = _button("Worked solution", f"Worked solution of task {number}: {task.title}")
        self.solution.on_click(lambda _: self.show_solution())
        self.solution.disabled = not task.by_hand
        self.field.observe(lambda _: self.say(full=False), names="value")
        worked = sheet.practice is not None and sheet.practice.family.worked is not None
        buttons = [self.check, self.solution] if worked else [self.check]
        hint = widgets.HTML(f"<small>{html.escape(how_to_write(task.kind))}</small>")
        self.box = widgets.VBox(
            [self.field, hint, widgets.HBox(buttons), self.told], layout=widgets.Layout(margin="0 0 1rem 0")
        )

    @property
    def typed(self) -> str:
        """What stands in the field; empty for no choice."""
        return str(self.field.value or "")

    def say(self, *, full: bool) -> None:
        """Take what was typed and say what may be said."""
        self.told.value = _status(self.sheet.take(self.task, self.typed, full=full))
        self.solution.disabled = not (self.task.by_hand or self.task.id in self.sheet.tried)

    def show_solution(self) -> None:
        """Show the worked solution below the field."""
        words = self.sheet.solution_of(self.task)
        self.told.value = _status(words if words in {TRY_FIRST, PRACTICE_ONLY} else f"Worked solution: {words}")


def _field(task: Task, label: str, value: str) -> Any:
    look = {"description": label, "layout": WIDE, "style": {"description_width": "initial"}}
    if isinstance(task.kind, Words):
        return widgets.Textarea(value=value, rows=6, continuous_update=False, **look)
    if isinstance(task.kind, Choice) and not task.kind.numbered:
        options = [(NOT_CHOSEN, "")]
        options += [(f"{shown}: {_short(option.text)}", shown) for shown, option in task.kind.labelled()]
        given = value.strip() if value.strip() in {shown for _, shown in options} else ""
        return widgets.Dropdown(options=options, value=given, **look)
    hint = task.kind.example if isinstance(task.kind, Quantity) else ""
    if isinstance(task.kind, DirectedChange):
        hint = f"{task.kind.positive[0]} 4 {task.kind.unit}"
    return widgets.Text(value=value, placeholder=hint, continuous_update=False, **look)


def _button(words: str, tooltip: str) -> Any:
    return widgets.Button(description=words, tooltip=tooltip, layout=widgets.Layout(width="auto"))


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_OPTION else text[: LONGEST_OPTION - 1] + "…"


def _status(text: str) -> str:
    """Words as harmless HTML that a screen reader reads out; bold, italics and code of Markdown are kept."""
    shown = html.escape(text).replace("\n", "<br>")
    shown = re.sub(r"\*\*(.+?)\*\*", r"<b>\1</b>", shown)
    shown = re.sub(r"(?<!\*)\*([^*<]+)\*(?!\*)", r"<i>\1</i>", shown)
    shown = re.sub(r"`([^`]+)`", r"<code>\1</code>", shown)
    return f'<div role="status">{shown}</div>'
