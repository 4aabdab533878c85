"""Mark one filled sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from autograde.marking import feedback, policy
from autograde.marking.answers import Reading, read_answer
from autograde.marking.compare import EDGE, distance, fits
from autograde.marking.misconceptions import Misconception
from autograde.marking.result import SheetResult, State, TaskResult
from autograde.marking.solving import SolveError, key_values, predict, solve_task
from autograde.marking.tasks import DirectedChange, Quantity, Task, Value


def mark_sheet(
    tasks: Sequence[Task],
    misconceptions: Sequence[Misconception],
    case: Any,
    sheet: Mapping[str, str | None],
) -> SheetResult:
    """Mark every task of a sheet.

    Parameters
    ----------
    tasks : sequence of Task
        In order; a task may use the values of tasks before it.
    misconceptions : sequence of Misconception
        Wrong ways to recognise.
    case : object
        The drawn case, handed to the tasks' `solve` and the misconceptions' `predict`.
    sheet : mapping
        Raw text by task id; None or no entry for a missing answer.

    Returns
    -------
    SheetResult
        One result a task, in order. Nothing a sheet holds raises; what cannot be marked is
        `State.NOT_GRADABLE` with marks None.

    Notes
    -----
    An answer is compared with, in this order: the right value; the value that follows from the trainee's
    own earlier answers; where each misconception leads from the right earlier values and from the
    trainee's own. What each state earns is in `autograde.marking.policy`.
    """
    marker = _Marker(case, tuple(misconceptions), {task.id: task for task in tasks}, key_values(tasks, case))
    return SheetResult(tuple(marker.mark(task, sheet.get(task.id)) for task in tasks))


@dataclass
class _Marker:
    case: Any
    misconceptions: tuple[Misconception, ...]
    tasks: dict[str, Task]
    key: dict[str, Value | SolveError]
    own: dict[str, Value | SolveError] = field(default_factory=dict)
    slipped: set[str] = field(default_factory=set)

    def mark(self, task: Task, text: str | None) -> TaskResult:
        """Mark one task and remember what later tasks are re-solved from."""
        reading = Reading(None, "", "The answer could not be read.")
        follows = self._follow(task)
        try:
            reading = read_answer(task.kind, text)
            if task.by_hand:
                return self._for_a_person(task, reading, by_hand=True)
            result = self._judge(task, reading, follows)
        except Exception as problem:
            result = self._for_a_person(task, reading, problem)
        self._carry(task, result, follows)
        return result

    def _judge(self, task: Task, reading: Reading, follows: Value | SolveError) -> TaskResult:
        answer, key = reading.value, self.key[task.id]
        if answer is None:
            return self._for_a_person(task, reading)
        if isinstance(key, SolveError):
            raise key
        if fits(task.kind, answer, key):
            return self._right(task, reading, State.CORRECT, ())
        slips = self._slips(task)
        if not isinstance(follows, SolveError) and fits(task.kind, answer, follows):
            return self._right(task, reading, State.IN_CONSEQUENCE if slips else State.CORRECT, slips)
        found = self._recognise(task, answer)
        if found:
            return self._wrong_way(task, reading, *found)
        if isinstance(follows, SolveError):
            raise follows
        possible = is_possible(task, answer)
        note = feedback.unit_missing(task) if reading.unit_missing else ""
        return TaskResult(
            task=task.id,
            state=State.OUT_OF_TOLERANCE,
            marks=policy.earned(State.OUT_OF_TOLERANCE, task.marks),
            max_marks=task.marks,
            reason=f"Read as {reading.read_as}; fits neither the right value nor a known misconception"
            + ("." if possible else ", and is outside the plausible range."),
            misconception=None,
            feedback=_join(feedback.out_of_tolerance(task, possible=possible), note),
            page=task.page,
            read_value=answer,
            read_as=reading.read_as,
        )

    def _recognise(self, task: Task, answer: Value) -> tuple[Misconception, tuple[Task, ...]] | None:
        """Find the misconception nearest to an answer, from right or from own earlier values."""
        best: tuple[float, Misconception, tuple[Task, ...]] | None = None
        failed: SolveError | None = None
        slips = self._slips(task)
        for earlier, origin in ((self.key, ()), (self.own, slips)) if slips else ((self.key, ()),):
            for misconception in self.misconceptions:
                if misconception.task != task.id:
                    continue
                try:
                    leads_to = predict(misconception, task, self.case, earlier)
                except SolveError as problem:
                    failed = problem
                    continue
                away = float("inf") if leads_to is None else distance(task.kind, answer, leads_to)
                if away <= 1.0 + EDGE and (best is None or away < best[0]):
                    best = (away, misconception, origin)
        if best is None and failed is not None:
            raise failed
        return None if best is None else best[1:]

    def _right(self, task: Task, reading: Reading, state: State, slips: tuple[Task, ...]) -> TaskResult:
        because = "within tolerance" if not slips else f"follows from own {', '.join(slip.id for slip in slips)}"
        words = feedback.in_consequence(slips) if slips else feedback.correct()
        missing = reading.unit_missing
        return TaskResult(
            task=task.id,
            state=State.MISCONCEPTION if missing else state,
            marks=policy.earned(state, task.marks, unit_missing=missing),
            max_marks=task.marks,
            reason=f"Read as {reading.read_as}; {because}" + (", but without a unit." if missing else "."),
            misconception=policy.UNIT_MISSING if missing else None,
            feedback=_join("The number is right." if missing and not slips else words, self._unit_note(task, reading)),
            page=task.page,
            read_value=reading.value,
            read_as=reading.read_as,
        )

    def _wrong_way(self, task: Task, reading: Reading, found: Misconception, slips: tuple[Task, ...]) -> TaskResult:
        origin = f", reckoned from own {', '.join(slip.id for slip in slips)}" if slips else ""
        return TaskResult(
            task=task.id,
            state=State.MISCONCEPTION,
            marks=policy.earned(
                State.MISCONCEPTION, task.marks, credit=found.credit, unit_missing=reading.unit_missing
            ),
            max_marks=task.marks,
            reason=f"Read as {reading.read_as}; {found.label}{origin}.",
            misconception=found.id,
            feedback=_join(feedback.misconception(found, slips), self._unit_note(task, reading)),
            page=found.page,
            read_value=reading.value,
            read_as=reading.read_as,
        )

    def _for_a_person(
        self, task: Task, reading: Reading, problem: Exception | None = None, *, by_hand: bool = False
    ) -> TaskResult:
        if problem is not None:
            reason, words = f"Marking failed: {_plain(problem)}.", feedback.not_workable()
        elif reading.value is None:
            reason, words = reading.reason, feedback.not_readable(reading)
        else:
            reason, words = "A text, marked by a person on the rubric.", feedback.by_hand()
        return TaskResult(
            task=task.id,
            state=State.NOT_GRADABLE,
            marks=None,
            max_marks=task.marks,
            reason=reason,
            misconception=None,
            feedback=words,
            page=task.page,
            read_value=reading.value,
            read_as=reading.read_as,
            by_hand=by_hand,
        )

    def _follow(self, task: Task) -> Value | SolveError:
        """Re-solve a task from the trainee's own earlier values."""
        try:
            return solve_task(task, self.case, self.own)
        except SolveError as problem:
            return problem

    def _carry(self, task: Task, result: TaskResult, follows: Value | SolveError) -> None:
        """Choose the value later tasks are re-solved from."""
        value, key = result.read_value, self.key.get(task.id)
        carried = follows
        if value is not None and (result.misconception is not None or is_possible(task, value)):
            carried = value
        self.own[task.id] = carried
        if not (key is None or isinstance(carried, SolveError) or isinstance(key, SolveError)):
            self.slipped |= set() if fits(task.kind, carried, key) else {task.id}

    def _slips(self, task: Task) -> tuple[Task, ...]:
        """Earlier tasks this one builds on whose own value is not the right one."""
        return tuple(self.tasks[name] for name in task.uses if name in self.slipped)

    @staticmethod
    def _unit_note(task: Task, reading: Reading) -> str:
        return feedback.unit_missing(task) if reading.unit_missing else ""


def is_possible(task: Task, value: Value) -> bool:
    """Whether a value lies in the task's plausible range."""
    if isinstance(task.kind, Quantity | DirectedChange) and isinstance(value, float | int):
        low, high = task.kind.plausible
        return low <= value <= high
    return True


def _join(*sentences: str) -> str:
    return " ".join(sentence for sentence in sentences if sentence)


def _plain(problem: Exception) -> str:
    return str(problem) if isinstance(problem, SolveError) else type(problem).__name__
