"""Marking of filled answer sheets; knows no notebook and no database."""

from autograde.marking.answers import Reading, cell_text, read_answer
from autograde.marking.mark import mark_sheet
from autograde.marking.misconceptions import Misconception
from autograde.marking.result import SheetResult, State, TaskResult
from autograde.marking.tasks import (
    Choice,
    ChoiceSet,
    Criterion,
    DirectedChange,
    Option,
    Ordering,
    Quantity,
    Task,
    Words,
)
from autograde.marking.tolerance import Tolerance
from autograde.marking.trace import Trace

__all__ = [
    "Choice",
    "ChoiceSet",
    "Criterion",
    "DirectedChange",
    "Misconception",
    "Option",
    "Ordering",
    "Quantity",
    "Reading",
    "SheetResult",
    "State",
    "Task",
    "TaskResult",
    "Tolerance",
    "Trace",
    "Words",
    "cell_text",
    "mark_sheet",
    "read_answer",
]
