"""One bird at one case: what it thinks, task by task, and what it writes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from autograde.cases import Family, trainee_variant
from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, Task, Words
from autograde.marking.solving import SolveError, predict, solve_task
from pedalwright_app import demo_model as model
from pedalwright_app.demo_birds import Bird
from pedalwright_app.demo_spelling import rounded, written
from pedalwright_app.demo_texts import EMERGENCY, GO_ON, REFER, texts_of

__all__ = ["Answer", "Pen"]

DECISIONS = {"stop": REFER, "refer": REFER, "emergency": EMERGENCY}
"""What options of safety questions stand for; all others go on."""
TEXT_NOISE_SD, TEXT_STEP = 0.7, 0.9
"""How much a text falls out better or worse than its writer, and how much ability one text has over the one before."""


@dataclass(frozen=True)
class Answer:
    """What was written: words typed into the sheet, or one of the shipped texts by its number from 1."""

    typed: str = ""
    text: int = 0
    then: str = ""

    def __bool__(self) -> bool:
        """Whether anything was written."""
        return bool(self.typed or self.text)


@dataclass
class Pen:
    """Writes one bird's answers to one case.

    Parameters
    ----------
    bird : Bird
        Who.
    family : Family
        The case.
    secret : bytes
        From which the bird's variant is drawn.
    """

    bird: Bird
    family: Family
    secret: bytes
    case: Any = None
    own: dict[str, Any] = field(default_factory=dict)

    def sheet(self) -> Mapping[str, Answer]:
        """Answer all tasks in order; every later answer is reckoned from the bird's own earlier ones."""
        self.case = trainee_variant(self.family, self.secret, self.bird.id).case
        return {task.id: self._answer(task) for task in self.family.tasks}

    def decided_rightly(self) -> bool:
        """Whether the bird's answers to all safety questions are right; after `sheet`."""
        return all(
            self.own.get(task.id) == solve_task(task, self.case, self.own) for task in self.family.tasks if task.safety
        )

    def _answer(self, task: Task) -> Answer:
        chance = model.stream(self.bird.id, self.family.name, task.id)
        if isinstance(task.kind, Words):
            return self._text(task, chance)
        right = solve_task(task, self.case, self.own)
        thought = self._thinks(task, right, chance)
        if isinstance(task.kind, Quantity | DirectedChange) and thought is not None:
            thought = rounded(task.kind, thought)[0]
        self.own[task.id] = right if thought is None else thought
        if thought is None:
            return Answer()
        return Answer(written(task, thought, self.bird.habit, model.forgets_units(self.bird), chance))

    def _thinks(self, task: Task, right: Any, chance: Any) -> Any:
        ideas = {item.id: self._leads_to(item, task) for item in self.family.misconceptions if item.task == task.id}
        ideas = {name: thought for name, thought in ideas.items() if thought is not None}
        for name, thought in ideas.items():
            if model.believes(self.bird, self.family.name, name):
                return thought
        able = model.ability(self.bird, task.competency)
        if chance.random() < model.chance_right(able, model.difficulty(self.family.name, task)):
            return right
        ways: list[tuple[float, Any]] = [(model.JUST_OFF, self._off(task, right, chance)), (model.LEFT_EMPTY, None)]
        ways += [(model.proneness(self.bird, name), thought) for name, thought in ideas.items()]
        pick = chance.random() * sum(weight for weight, _ in ways)
        for weight, thought in ways:
            pick -= weight
            if pick <= 0:
                return thought
        return ways[-1][1]

    def _leads_to(self, item: Any, task: Task) -> Any:
        try:
            return predict(item, task, self.case, self.own)
        except SolveError:
            return None

    def _off(self, task: Task, right: Any, chance: Any) -> Any:
        """Be wrong in no particular way: some tolerances away, another option, a letter more or less."""
        kind = task.kind
        match kind:
            case Quantity() | DirectedChange():
                away = (3 + 9 * chance.random()) * kind.tolerance.half_width(right)
                low, high = kind.plausible
                up = chance.random() < 0.5 if low < right - away and right + away < high else right - away <= low
                return right + away if up else right - away
            case Choice():
                keys = [option.key for option in kind.options]
                beside = keys.index(right)
                others = keys[max(0, beside - 1) : beside] + keys[beside + 1 : beside + 2] if kind.numbered else keys
                others = [key for key in others if key != right]
                return others[int(len(others) * chance.random())]
            case ChoiceSet():
                key = kind.options[int(len(kind.options) * chance.random())].key
                return frozenset(right) ^ {key}
            case Ordering():
                order = list(right)
                at = int((len(order) - 1) * chance.random())
                order[at], order[at + 1] = order[at + 1], order[at]
                return tuple(order)
        raise TypeError(f"the demonstration cannot be wrong about {task.id}")

    def _text(self, task: Task, chance: Any) -> Answer:
        texts = texts_of(self.family.name)
        able = model.ability(self.bird, task.competency) - model.difficulty(self.family.name, task)
        level = (able + model.normal(chance, 0.0, TEXT_NOISE_SD)) / TEXT_STEP + len(texts) / 2
        if level < -1:
            return Answer()
        return Answer(text=min(len(texts), max(1, 1 + int(level))), then=self._then())

    def _then(self) -> str:
        decided = [self.own[task.id] for task in self.family.tasks if task.safety]
        return DECISIONS.get(decided[0], GO_ON) if decided else ""
