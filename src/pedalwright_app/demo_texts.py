"""The short texts of the invented birds, and what they are truly worth.

A file in demo_texts/ belongs to a case and holds texts from weak to strong. For each text it says what it is worth on
every point of the rubric. Where a text goes on or refers, it does so as the bird decided in the safety question; if
that decision was wrong, the point named by `then` is worth nothing.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from autograde.marking import Words

__all__ = ["EMERGENCY", "GO_ON", "REFER", "Text", "texts_of", "worth"]

FOLDER = Path(__file__).with_name("demo_texts")
FOR_ANY_CASE = "any-case"
REFER, EMERGENCY, GO_ON = "refer", "emergency", "go on"
SENTENCES = {
    REFER: "Because of what the rider told me I change nothing today and refer to a physician, and say why.",
    EMERGENCY: "Because of what the rider told me I stop, call the emergency number and stay with the rider.",
    GO_ON: "Nothing the rider told me stops the fit, so I would try one small step, ask how it feels, note it, and "
    "look again after some rides.",
    "": "Then I would ask the rider again after some rides.",
}


@dataclass(frozen=True)
class Text:
    """One text.

    Parameters
    ----------
    words : str
        With ``{then}`` where the bird's own decision stands.
    points : tuple of float
        Share of the marks it is worth on each point of the rubric; one number for all of them in a text for any case.
    then : int
        The point, from 1, that hangs on the decision; 0 for none.
    """

    words: str
    points: tuple[float, ...]
    then: int = 0

    def said(self, then: str) -> str:
        """Give the text with the bird's own decision: `REFER`, `EMERGENCY`, `GO_ON` or empty."""
        return self.words.replace("{then}", SENTENCES[then])


@lru_cache
def texts_of(case: str) -> tuple[Text, ...]:
    """Read the texts for a case, or those for any case.

    Parameters
    ----------
    case : str
        Its name.

    Returns
    -------
    tuple of Text
        From weak to strong.
    """
    file = FOLDER / f"{case}.toml"
    found = tomllib.loads((file if file.exists() else FOLDER / f"{FOR_ANY_CASE}.toml").read_text(encoding="utf-8"))
    return tuple(
        Text(one["words"], tuple(float(point) for point in one.get("points", [one.get("share")])), one.get("then", 0))
        for one in found["text"]
    )


def worth(text: Text, kind: Words, decided_rightly: bool) -> tuple[float, ...]:
    """Tell what a text is truly worth.

    Parameters
    ----------
    text : Text
        The text.
    kind : Words
        Of the task, with its rubric.
    decided_rightly : bool
        Whether the bird's decision in the safety question was right.

    Returns
    -------
    tuple of float
        Marks for each point of the rubric.

    Raises
    ------
    ValueError
        If the file of texts does not fit the rubric.
    """
    points = text.points * len(kind.rubric) if len(text.points) == 1 else text.points
    if len(points) != len(kind.rubric) or text.then > len(points):
        raise ValueError(f"a text is worth something on {len(points)} points, and the rubric has {len(kind.rubric)}")
    return tuple(
        0.0 if number == text.then and not decided_rightly else point * criterion.marks
        for number, (point, criterion) in enumerate(zip(points, kind.rubric, strict=True), start=1)
    )
