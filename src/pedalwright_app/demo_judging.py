"""Write what the invented instructors gave: ``python -m pedalwright_app.demo_judging``.

**Marks for texts.** Flint marks the recommendation of every bird whose file could be read, point by point on the
rubric of the task. The birds use six texts (`demo_generator.TEXTS`), so the marks are declared once a text, in
`JUDGED`, and equal texts get equal marks.

**The panel.** Slate, Marl and Basalt rate every task: what share of its marks would somebody earn who is only just
competent? The model is that of the birds: such a person has the ability `JUST_COMPETENT`, and a share is the logistic
function of ability minus difficulty; for the text it is `TEXT_SHARE_PCT`. Each rater leans a little to one side. In a
second round, after talking, they lean half as much. Shares are rounded to whole steps of five.

Nothing here is data about people: marks, shares and leanings are invented.
"""

from __future__ import annotations

import json
import math
import tomllib
from functools import lru_cache
from pathlib import Path

from autograde.cases import load_family
from pedalwright_app.demo_birds import BIRDS, CASE
from pedalwright_app.demo_generator import DIFFICULTY, TEXTS, TYPED

__all__ = ["MARKS_FILE", "RATINGS_FILE", "judged", "main", "marks_text", "ratings_text"]

MARKS_FILE = Path(__file__).with_name("demo_judged.toml")
RATINGS_FILE = Path(__file__).with_name("demo_ratings.csv")
TEXT_TASK = "judgement"
JUST_COMPETENT, TEXT_SHARE_PCT = 0.3, 55.0
LEANING_PCT = {"slate": -10.0, "marl": 0.0, "basalt": 10.0}

JUDGED: tuple[tuple[tuple[float, float, float, float], str], ...] = (
    ((0, 0, 0, 0), "You change the position on one record. First ask what this record cannot tell."),
    ((0.5, 0, 0, 0), "Leaving it is sound, but say why, what you would check, and what you would ask the rider."),
    ((1, 1, 0.5, 0), "Good order: check, record again, ask. Add when you would refer instead of fitting."),
    ((1, 1, 1, 0), "Clear, and safe. Say also how far a high index may be trusted."),
    ((0.5, 1, 0.5, 1), "Well weighed. Say that one leg at one effort is little, and ask about old injuries too."),
    ((1, 1, 0, 0.5), "Right about the left leg. Ask about pain and numbness before anything else."),
)
"""For each of the texts: marks on the four points of the rubric, and the comment."""


def marks_text() -> str:
    """Write Flint's marks.

    Returns
    -------
    str
        TOML with one block a bird.
    """
    lines = [
        "# What Flint, an invented instructor, gave for the texts. Invented; rewritten by:",
        "# python -m pedalwright_app.demo_judging",
    ]
    for bird in BIRDS:
        typed = tomllib.loads((TYPED / f"{bird.id}.toml").read_text(encoding="utf-8"))
        text = typed[CASE].get(TEXT_TASK)
        if text is None or bird.mishap in ("cut off", "not handed in"):
            continue
        points, comment = JUDGED[TEXTS.index(text)]
        lines += ["", f"[{bird.id}]", f"marks = {sum(points):g}", f"comment = {json.dumps(comment)}"]
    return "\n".join(lines) + "\n"


def ratings_text() -> str:
    """Write the panel's ratings.

    Returns
    -------
    str
        CSV as `autograde.award.ratings.read_ratings` reads it.
    """
    lines = ["round,rater,case,task,share_pct"]
    for number, lean in ((1, 1.0), (2, 0.5)):
        for rater, leaning in LEANING_PCT.items():
            for task in load_family(CASE).tasks:
                share = _share_pct(task.id) + lean * leaning
                lines.append(f"{number},{rater},{CASE},{task.id},{5 * round(share / 5)}")
    return "\n".join(lines) + "\n"


def _share_pct(task: str) -> float:
    if task == TEXT_TASK:
        return TEXT_SHARE_PCT
    return 100 / (1 + math.exp(DIFFICULTY[task] - JUST_COMPETENT))


@lru_cache
def judged() -> dict[tuple[str, str, str], tuple[float, str]]:
    """Read the shipped marks.

    Returns
    -------
    dict
        Marks and comment by trainee, case and task.
    """
    shipped = tomllib.loads(MARKS_FILE.read_text(encoding="utf-8"))
    return {(bird, CASE, TEXT_TASK): (float(one["marks"]), str(one["comment"])) for bird, one in shipped.items()}


def main() -> None:
    """Rewrite the shipped files."""
    MARKS_FILE.write_text(marks_text(), encoding="utf-8")
    RATINGS_FILE.write_text(ratings_text(), encoding="utf-8")
    print(f"{MARKS_FILE.name} and {RATINGS_FILE.name} written")


if __name__ == "__main__":
    main()
