"""The form of an answer from the hint in its cell, for cases that an instructor keeps private.

Such a case is not on the trainee's computer, but the hint says what kind of answer is read: that is enough to tell a
missing unit or a slip of the keyboard before the notebook is handed in. It says nothing about right values.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from autograde.cases import Choice, ChoiceSet, DirectedChange, Option, Ordering, Quantity, Tolerance
from autograde.marking.answers import how_to_write, read_answer

ANY_NUMBER = (-1e12, 1e12)
ANY_BAND = Tolerance(1.0)
NOTED = "Noted. The case itself is not on this computer, so only the form was looked at, not whether it is right."
UNSURE = "Noted. This computer cannot tell whether that can be read. {safest}."
Readable = Quantity | DirectedChange | Choice | ChoiceSet | Ordering

_QUANTITY = re.compile(r"Write an? (?P<asks>.+) as one number(?: with its unit)?, for example: (?P<example>.+)")
_EXAMPLE = re.compile(r"[-−+\d.,\s/*()]*(?<=[\d)])\s*(?P<unit>[^\d\s].*)?")
_CHANGE = re.compile(r"Write a direction .*, for example: (?P<up>\S+) 4 (?P<unit>.+) or (?P<down>\S+) 4 (?P=unit)")
_CHOICE = re.compile(r"Write the (?P<word>letter|number) of one option: \S+ to (?P<last>[A-Z]|[0-9]{1,2})")
_SET = re.compile(r"Write the letters of all that apply, for example: \w+, (?P<last>[A-Z]|[0-9]{1,2}); or: none")
_ORDER = re.compile(r"Write all letters in order, for example: (?P<last>[A-Z]|[0-9]{1,2}),.*")
_UP, _DOWN = "raise", "lower"


def words_on(body: str, text: str) -> str:
    """Say what can be said of an answer to a private case.

    Parameters
    ----------
    body : str
        The answer cell, with its hint.
    text : str
        What was typed, without hint.

    Returns
    -------
    str
        How it is read, what is missing, or that it cannot be told here.

    Examples
    --------
    >>> words_on("# Write a torque as one number with its unit, for example: 24 N m", "23,5")[:40]
    'Read as: 23.5 N m. There is no unit: it '
    """
    kind = kind_of(line.strip().lstrip("#").strip() for line in body.splitlines() if line.lstrip().startswith("#"))
    if kind is None:
        return NOTED
    reading = read_answer(kind, text)
    if reading.value is None and (isinstance(kind, Quantity) or not text.strip()):
        return f"This cannot be read. {reading.reason}"
    if reading.value is None:
        return UNSURE.format(safest=how_to_write(kind))
    unit = kind.unit if isinstance(kind, Quantity | DirectedChange) else ""
    missing = f" There is no unit: it is taken in {unit}, and that costs marks." if reading.unit_missing else ""
    return f"Read as: {reading.read_as}.{missing} {NOTED}"


def kind_of(hints: Iterable[str]) -> Readable | None:
    """Read the kind of answer from a hint; None when no line is one.

    Examples
    --------
    >>> kind_of(["Write the letter of one option: A to C"]).labelled()[-1][0]
    'C'
    """
    for hint in hints:
        if found := _QUANTITY.fullmatch(hint):
            example = _EXAMPLE.fullmatch(found["example"])
            if example:
                return Quantity(example["unit"] or "", ANY_NUMBER, ANY_BAND, found["asks"], found["example"])
        if found := _CHANGE.fullmatch(hint):
            if (found["up"], found["down"]) == (_UP, _DOWN):
                return DirectedChange(found["unit"], ANY_NUMBER, ANY_BAND)
            return DirectedChange(found["unit"], ANY_NUMBER, ANY_BAND, (found["up"],), (found["down"],))
        if found := _CHOICE.fullmatch(hint):
            return Choice(_options(found["last"]), found["word"] == "number")
        if found := _SET.fullmatch(hint):
            return ChoiceSet(_options(found["last"]), found["last"].isdigit())
        if found := _ORDER.fullmatch(hint):
            return Ordering(_options(found["last"]), found["last"].isdigit())
    return None


def _options(last: str) -> tuple[Option, ...]:
    count = int(last) if last.isdigit() else ord(last) - ord("A") + 1
    return tuple(Option(f"option {number}", f"option {number}") for number in range(1, max(count, 2) + 1))
