"""What the invented instructors gave.

**Marks for texts.** Every text has a true worth on each point of the rubric (`demo_texts`). A reader sees it with a
leaning and some noise, in shares of the point's marks, and gives half points. Flint reads all texts first. Slate reads
those that are drawn for a second reading, and is a little stricter. Where the two lie apart they read again together
and agree on the true worth. Flint also looks at what could not be marked: an empty or unreadable answer in a sheet that
is otherwise filled earns nothing. What is missing because a file was damaged or not handed in stays open.

**The panel.** Slate, Marl and Basalt rate every task: what share of its marks would somebody earn who is only just
competent? The model is that of the birds (`demo_model`): such a person has the ability `JUST_COMPETENT`. Each rater
leans a little to one side and is not sure about a single task. In a second round, after talking, both are half as
large. Shares are rounded to whole steps of five.

Nothing here is data about people: marks, shares and leanings are invented.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from autograde.cases import Family, discover_families
from autograde.marking import Task, Words, read_answer
from pedalwright_app.demo_birds import BIRDS, DEMO_SECRET, Bird
from pedalwright_app.demo_generator import mishaps
from pedalwright_app.demo_model import JUST_COMPETENT, chance_right, difficulty, normal, stream
from pedalwright_app.demo_pen import Pen
from pedalwright_app.demo_sheets import sheet_of
from pedalwright_app.demo_texts import texts_of, worth

__all__ = [
    "FIRST",
    "MARKS_FILE",
    "RATINGS_FILE",
    "SECOND",
    "Judged",
    "judged",
    "marks_text",
    "ratings_for",
    "ratings_text",
]

MARKS_FILE = Path(__file__).with_name("demo_judged.csv")
RATINGS_FILE = Path(__file__).with_name("demo_ratings.csv")
COLUMNS = ("trainee", "case", "task", "first", "second", "agreed", "comment")

FIRST, SECOND = "Flint", "Slate"
READER_LEANING = {FIRST: 0.0, SECOND: -0.15}
READER_NOISE_SD = 0.25
RATER_LEANING_PCT = {"slate": -8.0, "marl": 0.0, "basalt": 8.0}
RATER_NOISE_PCT = 10.0


@dataclass(frozen=True)
class Judged:
    """What people gave for one answer.

    Parameters
    ----------
    first : float
        Flint's marks.
    second : tuple of float
        What Slate gives on each point of the rubric if the text is drawn; empty for an answer that is no text.
    agreed : float
        What both agree on when they lie apart.
    comment : str
        Flint's.
    """

    first: float
    second: tuple[float, ...]
    agreed: float
    comment: str


def marks_text() -> str:
    """Write the marks of Flint and Slate from the shipped sheets.

    Returns
    -------
    str
        CSV with one line an answer; points of a rubric are parted by blanks.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for bird in BIRDS:
        for family in discover_families().values():
            for task, one in _marks(bird, family):
                points = " ".join(f"{point:g}" for point in one.second)
                writer.writerow([bird.id, family.name, task, f"{one.first:g}", points, f"{one.agreed:g}", one.comment])
    return out.getvalue()


def _marks(bird: Bird, family: Family) -> Iterator[tuple[str, Judged]]:
    sheet = sheet_of(bird.id, family.name)
    damaged = bird.mishap if mishaps().get(bird.id) == family.name else ""
    if not sheet.typed or damaged == "cut off":
        return
    pen = Pen(bird, family, DEMO_SECRET)
    pen.sheet()
    for task in family.tasks:
        number = sheet.texts.get(task.id, 0)
        if isinstance(task.kind, Words) and number:
            true = worth(texts_of(family.name)[number - 1], task.kind, pen.decided_rightly())
            yield task.id, _text_judged(bird, family, task.id, task.kind, true)
        elif sheet.deleted != task.id and read_answer(task.kind, sheet.typed.get(task.id, "")).value is None:
            why = "This cannot be read as an answer." if task.id in sheet.typed else "Nothing is written here."
            nothing = (0.0,) * len(task.kind.rubric) if isinstance(task.kind, Words) else ()
            yield task.id, Judged(0.0, nothing, 0.0, why)


def _text_judged(bird: Bird, family: Family, task: str, kind: Words, true: tuple[float, ...]) -> Judged:
    first, second = (_points(reader, bird, family, task, kind, true) for reader in (FIRST, SECOND))
    least = min(range(len(first)), key=lambda at: first[at] / kind.rubric[at].marks)
    full = first[least] == kind.rubric[least].marks
    comment = "Well argued." if full else f"Missing or thin: {kind.rubric[least].text}"
    return Judged(sum(first), second, sum(true), comment)


def _points(
    reader: str, bird: Bird, family: Family, task: str, kind: Words, true: tuple[float, ...]
) -> tuple[float, ...]:
    chance = stream(reader, bird.id, family.name, task)
    seen = (
        worth_of_it / criterion.marks + normal(chance, READER_LEANING[reader], READER_NOISE_SD)
        for worth_of_it, criterion in zip(true, kind.rubric, strict=True)
    )
    return tuple(
        criterion.marks * min(2, max(0, round(2 * share))) / 2
        for share, criterion in zip(seen, kind.rubric, strict=True)
    )


def ratings_text() -> str:
    """Write the panel's ratings.

    Returns
    -------
    str
        CSV as `autograde.award.ratings.read_ratings` reads it.
    """
    lines = ["round,rater,case,task,share_pct"]
    for number, part in ((1, 1.0), (2, 0.5)):
        for rater, leaning in RATER_LEANING_PCT.items():
            for family in discover_families().values():
                for task in family.tasks:
                    noise = normal(stream(rater, family.name, task.id), 0.0, RATER_NOISE_PCT)
                    share = _share_pct(family, task) + part * (leaning + noise)
                    lines.append(f"{number},{rater},{family.name},{task.id},{5 * min(20, max(0, round(share / 5)))}")
    return "\n".join(lines) + "\n"


def _share_pct(family: Family, task: Task) -> float:
    return 100 * chance_right(JUST_COMPETENT, difficulty(family.name, task))


def ratings_for(cases: Collection[str]) -> str:
    """Give the shipped ratings of some cases, as CSV."""
    head, *lines = RATINGS_FILE.read_text(encoding="utf-8").splitlines(keepends=True)
    return head + "".join(line for line in lines if line.split(",")[2] in cases)


@lru_cache(maxsize=1)
def judged() -> dict[tuple[str, str, str], Judged]:
    """Read the shipped marks.

    Returns
    -------
    dict
        By trainee, case and task.
    """
    with MARKS_FILE.open(encoding="utf-8", newline="") as lines:
        return {
            (row["trainee"], row["case"], row["task"]): Judged(
                float(row["first"]),
                tuple(float(point) for point in row["second"].split()),
                float(row["agreed"]),
                row["comment"],
            )
            for row in csv.DictReader(lines)
        }


def write_files() -> None:
    """Rewrite the shipped files of marks and ratings."""
    MARKS_FILE.write_text(marks_text(), encoding="utf-8")
    RATINGS_FILE.write_text(ratings_text(), encoding="utf-8")
    judged.cache_clear()
