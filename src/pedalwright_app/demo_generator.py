"""What the invented trainees typed.

`demo_model` declares abilities, difficulties and proneness, `demo_pen` lets a bird answer a case by them, and
`demo_spelling` writes the answers down. Here mishaps are dealt out, and everything goes into one small file a bird.
All case families that come with the program take part; a new one needs no more than another run.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path

from autograde.cases import Family, discover_families
from autograde.marking import Quantity
from pedalwright_app.demo_birds import BIRDS, DEMO_SECRET, Bird
from pedalwright_app.demo_model import stream
from pedalwright_app.demo_pen import Answer, Pen

__all__ = ["generate", "mishaps", "write_files"]

EMPTY = ("empty sheet", "not handed in")
HEAD = """\
# What {name} typed, and what happened to the files. Invented; rewritten by: python -m pedalwright_app.demo_renew
habit = {habit}
"""


@lru_cache(maxsize=1)
def mishaps() -> Mapping[str, str]:
    """Deal the mishaps of one case each out over the cases, so that they hit as many cases as can be.

    Returns
    -------
    mapping
        Name of the case by the bird's id.
    """
    cases = sorted(discover_families())
    for last in range(len(cases) - 1, 0, -1):
        other = int((last + 1) * stream("mishaps", str(last)).random())
        cases[last], cases[other] = cases[other], cases[last]
    hit = [bird.id for bird in BIRDS if bird.mishap]
    return {bird: cases[number % len(cases)] for number, bird in enumerate(hit)}


def generate() -> dict[str, str]:
    """Write the typed answers of all birds.

    Returns
    -------
    dict
        Text of each file by its name.
    """
    return {f"{bird.id}.toml": "\n".join(_lines(bird)) + "\n" for bird in BIRDS}


def _lines(bird: Bird) -> Iterator[str]:
    yield HEAD.format(name=bird.name, habit=json.dumps(bird.habit)).rstrip()
    for family in discover_families().values():
        pen = Pen(bird, family, DEMO_SECRET)
        answers, mishap = pen.sheet(), bird.mishap if mishaps().get(bird.id) == family.name else ""
        if bird.habit == "hands in nothing" or mishap in EMPTY:
            answers = {}
        chance = stream(bird.id, "mishap")
        yield f"\n[{family.name}]"
        if mishap:
            yield f"mishap = {json.dumps(_exactly(mishap, family, chance))}"
        yield from _typed(family, answers, mishap, chance)


def _exactly(mishap: str, family: Family, chance: random.Random) -> str:
    """Name the task as well, where a mishap concerns one."""
    return f"{mishap}: {_some_number(family, chance)}" if mishap == "deleted answer cell" else mishap


def _typed(family: Family, answers: Mapping[str, Answer], mishap: str, chance: random.Random) -> Iterator[str]:
    kept = dict(answers)
    if mishap == "half filled":
        kept = dict(list(answers.items())[: len(answers) // 2])
    elif mishap in ("nan", "text for a number"):
        kept[_some_number(family, chance)] = Answer("nan" if mishap == "nan" else "quite a lot, about as usual")
    for task in family.tasks:
        answer = kept.get(task.id)
        if answer and answer.text:
            yield f"{task.id} = {{text = {answer.text}, then = {json.dumps(answer.then)}}}"
        elif answer:
            yield f"{task.id} = {json.dumps(answer.typed, ensure_ascii=False)}"


def _some_number(family: Family, chance: random.Random) -> str:
    numbers = [task.id for task in family.tasks if isinstance(task.kind, Quantity)]
    return numbers[int(len(numbers) * chance.random())]


def write_files(folder: Path) -> int:
    """Rewrite the shipped files; gives how many there are."""
    folder.mkdir(exist_ok=True)
    files = generate()
    for old in folder.glob("*.toml"):
        if old.name not in files:
            old.unlink()
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    return len(files)
