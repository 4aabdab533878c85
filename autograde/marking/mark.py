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
from autograde.marking.trace import Against, Comparison, Earning, Origin, TaskTrace, Trace, Used


def mark_sheet(
    tasks: Sequence[Task],
    misconceptions: Sequence[Misconception],
    case: Any,
    sheet: Mapping[str, str | None],
    trace: Trace | None = None,
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
    trace : Trace, optional
        Is told how each mark came about; it holds right values, so it is for instructors only.

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
    key = key_values(tasks, case)
    marker = _Marker(case, tuple(misconceptions), {task.id: task for task in tasks}, key, trace)
    return SheetResult(tuple(marker.mark(task, sheet.get(task.id)) for task in tasks))


@dataclass
class _Marker:
    case: Any
    misconceptions: tuple[Misconception, ...]
    tasks: dict[str, Task]
    key: dict[str, Value | SolveError]
    trace: Trace | None = None
    own: dict[str, Value | SolveError] = field(default_factory=dict)
    slipped: set[str] = field(default_factory=set)
    origins: dict[str, Origin] = field(default_factory=dict)
    compared: list[Comparison] = field(default_factory=list)
    earning: Earning | None = None

    def mark(self, task: Task, text: str | None) -> TaskResult:
        """Mark one task and remember what later tasks are re-solved from."""
        reading = Reading(None, "", "The answer could not be read.")
        follows = self._follow(task)
        self.compared, self.earning = [], None
        try:
            reading = read_answer(task.kind, text)
            result = (
                self._for_a_person(task, reading, by_hand=True) if task.by_hand else self._judge(task, reading, follows)
            )
        except Exception as problem:
            result = self._for_a_person(task, reading, problem)
        if self.trace is not None:
            self.trace.tasks.append(self._told(task, text, reading, follows, result))
        if not task.by_hand:
            self._carry(task, result, follows)
        return result

    def _judge(self, task: Task, reading: Reading, follows: Value | SolveError) -> TaskResult:
        answer, key = reading.value, self.key[task.id]
        if answer is None:
            return self._for_a_person(task, reading)
        if isinstance(key, SolveError):
            raise key
        if self._away(task, answer, key, Against.RIGHT) <= 1.0 + EDGE:
            return self._right(task, reading, State.CORRECT, ())
        slips = self._slips(task)
        if not isinstance(follows, SolveError) and self._away(task, answer, follows, Against.OWN) <= 1.0 + EDGE:
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
            marks=self._earned(task, Earning(State.OUT_OF_TOLERANCE)),
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
            against = Against.SLIP_FROM_OWN if origin else Against.SLIP
            for misconception in self.misconceptions:
                if misconception.task != task.id:
                    continue
                try:
                    leads_to = predict(misconception, task, self.case, earlier)
                except SolveError as problem:
                    failed = problem
                    self._note(Comparison(against, None, None, False, misconception, str(problem)))
                    continue
                away = self._away(task, answer, leads_to, against, misconception)
                if away <= 1.0 + EDGE and (best is None or away < best[0]):
                    best = (away, misconception, origin)
        if best is None and failed is not None:
            raise failed
        return None if best is None else best[1:]

    def _away(
        self, task: Task, answer: Value, target: Value | None, against: Against, slip: Misconception | None = None
    ) -> float:
        """Distance of an answer from a value, in half widths of its band; infinite without a value."""
        if target is None:
            self._note(Comparison(against, None, None, False, slip))
            return float("inf")
        away = distance(task.kind, answer, target)
        if self.trace is not None:
            self._note(Comparison(against, target, away, away <= 1.0 + EDGE, slip))
        return away

    def _note(self, comparison: Comparison) -> None:
        if self.trace is not None:
            self.compared.append(comparison)

    def _earned(self, task: Task, earning: Earning) -> float | None:
        self.earning = earning
        return policy.earned(earning.state, task.marks, credit=earning.credit, unit_missing=earning.unit_missing)

    def _told(
        self, task: Task, text: str | None, reading: Reading, follows: Value | SolveError, result: TaskResult
    ) -> TaskTrace:
        """How this mark came about, for the trace."""
        used = tuple(
            Used(name, _known(self.own.get(name)), self.origins.get(name, Origin.NONE), name not in self.slipped)
            for name in task.uses
        )
        return TaskTrace(
            task=task,
            typed=text if isinstance(text, str) else None,
            reading=reading,
            right=_known(self.key.get(task.id)),
            used=used,
            follows=_known(follows),
            compared=tuple(self.compared),
            earning=self.earning,
            result=result,
        )

    def _right(self, task: Task, reading: Reading, state: State, slips: tuple[Task, ...]) -> TaskResult:
        because = "within tolerance" if not slips else f"follows from own {', '.join(slip.id for slip in slips)}"
        words = feedback.in_consequence(slips) if slips else feedback.correct()
        missing = reading.unit_missing
        return TaskResult(
            task=task.id,
            state=State.MISCONCEPTION if missing else state,
            marks=self._earned(task, Earning(state, unit_missing=missing)),
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
            marks=self._earned(task, Earning(State.MISCONCEPTION, found.credit, reading.unit_missing)),
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
        carried, origin = follows, Origin.WORKED_OUT
        if value is not None and (result.misconception is not None or is_possible(task, value)):
            carried, origin = value, Origin.ANSWER
        self.origins[task.id] = Origin.NONE if isinstance(carried, SolveError) else origin
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


def _known(value: Value | SolveError | None) -> Value | None:
    return None if isinstance(value, SolveError) else value


def _join(*sentences: str) -> str:
    return " ".join(sentence for sentence in sentences if sentence)


def _plain(problem: Exception) -> str:
    return str(problem) if isinstance(problem, SolveError) else type(problem).__name__
