"""Write what each bird typed: ``python -m pedalwright_app.demo_generator``.

The model. Each bird has an ability and, for every misconception, a proneness. A task has a difficulty. The chance
to reason rightly is the logistic function of ability minus difficulty. Who does not reason rightly follows a
misconception with a chance in proportion to proneness, now and then is simply off, or leaves the task empty.
Every later answer is reckoned from the bird's own earlier ones. One misconception, `PLANTED`, has a proneness that
is several times that of the others, so that it must come out as the most frequent one.

Nothing here is data about people: abilities, difficulties and chances are invented. The stream of chance is
Python's own, which is the same in every version.
"""

from __future__ import annotations

import json
import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from autograde.cases import Family, load_family, trainee_variant
from autograde.marking import Choice, Misconception, Quantity, Task, Words
from autograde.marking.solving import predict, solve_task
from pedalwright_app.demo_birds import BIRDS, CASE, DEMO_SECRET, PLANTED, Bird

__all__ = ["TYPED", "generate", "main", "model_of", "typed_by"]

TYPED = Path(__file__).with_name("demo_typed")
STREAM = "Fenwick Quay, autumn"
DIFFICULTY = {
    "torque": 0.3,
    "sector": -0.4,
    "sector-work": 0.4,
    "mean-torque": 0.2,
    "power": 0.2,
    "effectiveness": 0.6,
    "opposite-torque": 0.5,
    "opposite-leg": 0.0,
}
PLANTED_PRONENESS = 7.0
JUST_OFF, LEFT_EMPTY = 0.7, 0.25
UNIT_FORGOTTEN = 0.02
TEXTS = (
    "I would move the saddle forward a little, because the push comes late. Then ride again.",
    "The record looks normal to me, so I would change nothing. If the rider is happy, leave it.",
    "One record of one leg is not much. I would zero the pedal, record both legs again at the same effort, and ask "
    "whether anything hurts before touching the saddle.",
    "No reason to change by itself. The shape is that of everyday riders. I would check the zero of the pedal and the "
    "crank length entered, record the left leg too, and ask about pain, numbness and old injuries. With pain or "
    "numbness I would stop and refer to a physician or physiotherapist.",
    "I would not chase the index of effectiveness: it rises with power, and nobody has shown that coaching it up "
    "helps. First a second record at the same cadence, with the zero noted this time. If the knee or the foot hurts, "
    "the fitting waits and I refer.",
    "The left leg holds back a bit on the way up, which is ordinary: a leg is heavy. I would tell the rider so, check "
    "both pedals, and look at the position only if a second record and the rider's complaint point the same way.",
)


@dataclass(frozen=True)
class Model:
    """What is declared about one bird: an ability, and a proneness to each misconception."""

    ability: float
    prone: Mapping[str, float]


@dataclass
class _Pen:
    """Writes one bird's answers."""

    family: Family
    case: Any
    model: Model
    chance: random.Random
    mishap: str
    own: dict[str, Any] = field(default_factory=dict)

    def write(self, task: Task) -> str | None:
        """Write one answer, and remember its value for the tasks that build on it."""
        if isinstance(task.kind, Words):
            return TEXTS[min(len(TEXTS) - 1, int(self.chance.random() * 3) + 3 * (self.model.ability > 0.5))]
        right = solve_task(task, self.case, self.own)
        thinks = self._thinks(task, right)
        self.own[task.id] = right if thinks is None else thinks
        return None if thinks is None else self._words(task, thinks)

    def _thinks(self, task: Task, right: Any) -> Any:
        reasons_rightly = 1 / (1 + math.exp(DIFFICULTY[task.id] - self.model.ability))
        if self.chance.random() < reasons_rightly:
            return right
        ways: list[tuple[float, Any]] = [(JUST_OFF, self._off(task, right)), (LEFT_EMPTY, None)]
        for item in self.family.misconceptions:
            leads_to = predict(item, task, self.case, self.own) if item.task == task.id else None
            if leads_to is not None:
                ways.append((self.model.prone[item.id], leads_to))
        pick = self.chance.random() * sum(weight for weight, _ in ways)
        for weight, thought in ways:
            pick -= weight
            if pick <= 0:
                return thought
        return ways[-1][1]

    def _off(self, task: Task, right: Any) -> Any:
        if isinstance(task.kind, Choice):
            keys = [option.key for option in task.kind.options if option.key != right]
            return keys[int(self.chance.random() * len(keys))]
        return right * (1.15 + 0.2 * self.chance.random())

    def _words(self, task: Task, value: Any) -> str:
        style = self.chance.random()
        forgets = self.chance.random() < UNIT_FORGOTTEN
        if isinstance(task.kind, Choice):
            label = next(label for label, option in task.kind.labelled() if option.key == value)
            return f"sector {label}" if task.kind.numbered and style < 0.2 else label
        if not isinstance(task.kind, Quantity):
            raise TypeError(f"the demonstration cannot answer a task of type {type(task.kind).__name__}")
        if self.mishap == "other units":
            return _in_other_units(task.kind.unit, float(value))
        number = f"{value:.1f}" if abs(value) >= 10 else f"{value:.2f}"
        if self.mishap == "decimal comma":
            number = number.replace(".", ",")
        elif task.id == "power" and style < 0.2:
            number = f"2 * {value / 2:.1f}"
        return number if forgets else f"{number} {_spelling(task.kind.unit, style)}"


def _spelling(unit: str, style: float) -> str:
    if unit == "N m":
        return "Nm" if style < 0.5 else "N m" if style < 0.85 else "N*m"
    return unit


def _in_other_units(unit: str, value: float) -> str:
    scale, other = {"N m": (100.0, "N cm"), "J": (0.001, "kJ"), "W": (0.001, "kW"), "%": (0.01, "")}[unit]
    return f"{value * scale:.4g} {other}".strip()


def model_of(bird: Bird, misconceptions: tuple[Misconception, ...]) -> Model:
    """Declare a bird's ability and its proneness to every misconception.

    Parameters
    ----------
    bird : Bird
        Who.
    misconceptions : tuple of Misconception
        Of the case.

    Returns
    -------
    Model
        The ability is spread evenly from -0.9 to 2.1; a proneness from a third to three times its base, which is 1,
        and `PLANTED_PRONENESS` for the planted misconception.
    """
    chance = random.Random(f"{STREAM}/{bird.id}/model")
    ability = -0.9 + 3.0 * chance.random()
    base = {item.id: PLANTED_PRONENESS if item.id == PLANTED else 1.0 for item in misconceptions}
    return Model(ability, {key: weight * 3 ** (2 * chance.random() - 1) for key, weight in sorted(base.items())})


def generate() -> dict[str, str]:
    """Write the typed answers of all birds.

    Returns
    -------
    dict
        Text of each file by its name.
    """
    return {f"{bird.id}.toml": _file(bird, typed_by(bird, DEMO_SECRET)) for bird in BIRDS}


def typed_by(bird: Bird, secret: bytes) -> dict[str, str]:
    """Let one bird answer its own variant.

    Parameters
    ----------
    bird : Bird
        Who.
    secret : bytes
        The secret from which the bird's variant is drawn.

    Returns
    -------
    dict
        What is typed, by task id.
    """
    family = load_family(CASE)
    if bird.mishap in ("empty sheet", "not handed in"):
        return {}
    pen = _Pen(
        family,
        trainee_variant(family, secret, bird.id).case,
        model_of(bird, family.misconceptions),
        random.Random(f"{STREAM}/{bird.id}/answers"),
        bird.mishap,
    )
    answers = {task.id: pen.write(task) for task in family.tasks}
    typed = {task: text for task, text in answers.items() if text is not None}
    if bird.mishap == "half filled":
        typed = dict(list(typed.items())[: len(family.tasks) // 2])
    elif bird.mishap == "text for a number":
        typed["torque"] = "quite a lot, about as usual"
    elif bird.mishap == "nan":
        typed["effectiveness"] = "nan"
    return typed


def _file(bird: Bird, typed: Mapping[str, str]) -> str:
    lines = [
        f"# What {bird.name} typed, and what happened to the file. Invented; rewritten by:",
        "# python -m pedalwright_app.demo_generator",
        f"mishap = {json.dumps(bird.mishap)}",
        "",
        f"[{CASE}]",
        *(f"{task} = {json.dumps(text, ensure_ascii=False)}" for task, text in typed.items()),
    ]
    return "\n".join(lines) + "\n"


def main() -> None:
    """Rewrite the shipped files."""
    TYPED.mkdir(exist_ok=True)
    files = generate()
    for old in TYPED.glob("*.toml"):
        if old.name not in files:
            old.unlink()
    for name, text in files.items():
        (TYPED / name).write_text(text, encoding="utf-8")
    print(f"{len(files)} files written to {TYPED}")


if __name__ == "__main__":
    main()
