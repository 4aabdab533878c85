"""From the text a trainee typed to a value."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from autograde.marking.arithmetic import evaluate
from autograde.marking.reading import UnreadableError, clean, quote, show_number, with_article
from autograde.marking.tasks import Choice, ChoiceSet, DirectedChange, Kind, Ordering, Quantity, Value, Words
from autograde.marking.units import convert, kind_of_unit, read_unit
from autograde.marking.wordings import read_choice, read_choice_set, read_ordering

MAX_LENGTH = 500
LARGEST_SHARE = 2.0
MAX_WORDS_LENGTH = 20_000
NOTHING_WRITTEN = "nothing was written (lines that begin with # are not read)"

_ABOUT = re.compile(r"^(?:[≈~=]|about|approximately|approx\.?|circa|ca\.?|roughly|around)\s*", re.IGNORECASE)
_NUMBER_PART = re.compile(r"(?:[\d.,'’+\-*/^()\s×·÷−–—‐‑⋅∕]|[eE](?=[+-]?\d)|(?<=[\d)\s])x(?=\s*[\d(]))*")
_PER = re.compile(r"(?<![\d.,])(?:1\s*)?/\s*\Z")
_NO_CHANGE = {"no change", "leave", "leave it", "leave as it is", "keep", "keep it", "none", "unchanged"}
_FILLER = {"by", "the", "saddle", "cleat", "it", "move", "shift", "go", "further", "about", "change"}
_ANSWER_LINE = re.compile(r"\s*%%answer\b[ \t]*(\S*)[ \t]*(.*)")


@dataclass(frozen=True)
class Written:
    """The parts of a number as it was written: a number or a sum, what that comes to, and the unit after it."""

    number: str
    result: float
    unit: str


@dataclass(frozen=True)
class Reading:
    """What was understood: a value and its words, or None and a reason.

    Parameters
    ----------
    value : float, str, frozenset, tuple or None
        The value in the task's unit; None when it cannot be read.
    read_as : str
        The value in words: "41.2 N m", "B".
    reason : str
        Why it cannot be read: what was received, what is allowed, an example.
    unit_missing : bool
        A number without a unit, taken in the task's unit.
    written : Written or None
        The parts of a number, before it is converted.
    """

    value: Value | None
    read_as: str
    reason: str = ""
    unit_missing: bool = False
    written: Written | None = None


def read_answer(kind: Kind, text: str | None) -> Reading:
    """Read an answer.

    Parameters
    ----------
    kind : Quantity, Choice, ChoiceSet, Ordering, DirectedChange or Words
        What the task asks for.
    text : str or None
        What the trainee typed; None when the answer is missing.

    Returns
    -------
    Reading
        Never raises for what the text holds.

    Examples
    --------
    >>> from autograde.marking import Quantity, Tolerance
    >>> torque = Quantity("N m", (-50, 150), Tolerance(0.5), asks="torque")
    >>> read_answer(torque, "0.1725 * 231 Nm").read_as
    '39.85 N m'
    >>> read_answer(torque, "plenty").reason
    '“plenty” is not a number with a unit. Write a torque as one number with its unit, for example: 24 N m'
    """
    try:
        return _read(kind, text)
    except UnreadableError as problem:
        return Reading(None, "", f"{_sentence(str(problem))} {how_to_write(kind)}")


def how_to_write(kind: Kind) -> str:
    """Say what is allowed, with an example."""
    match kind:
        case Quantity():
            unit = "" if not kind.unit else " with its unit"
            return f"Write {with_article(kind.asks)} as one number{unit}, for example: {kind.example}"
        case Choice():
            labels = [label for label, _ in kind.labelled()]
            word = "number" if kind.numbered else "letter"
            return f"Write the {word} of one option: {labels[0]} to {labels[-1]}"
        case ChoiceSet():
            labels = [label for label, _ in kind.labelled()]
            return f"Write the letters of all that apply, for example: {labels[0]}, {labels[-1]}; or: none"
        case Ordering():
            labels = [label for label, _ in kind.labelled()]
            return f"Write all letters in order, for example: {', '.join(reversed(labels))}"
        case DirectedChange():
            up, down = kind.positive[0], kind.negative[0]
            return (
                f"Write a direction and a number with its unit, for example: {up} 4 {kind.unit} or {down} 4 {kind.unit}"
            )
        case Words():
            return "Write a few sentences in your own words."


def cell_text(source: str) -> tuple[str | None, str]:
    r"""Split an answer cell into the task of its ``%%answer`` line and the trainee's text.

    Parameters
    ----------
    source : str
        Source of the cell.

    Returns
    -------
    task : str or None
        What follows ``%%answer``; None when there is no such line.
    text : str
        All other lines but those that begin with ``#``.

    Examples
    --------
    >>> cell_text("%%answer torque\n# a number with its unit\n\n41.2 N m\n")
    ('torque', '41.2 N m')
    """
    task: str | None = None
    kept: list[str] = []
    for line in source.splitlines():
        first = _ANSWER_LINE.match(line) if task is None and not kept else None
        if first:
            task = first[1]
            line = first[2]
        if line.strip() and not line.lstrip().startswith("#"):
            kept.append(line.strip())
    return task, "\n".join(kept)


def _read(kind: Kind, text: str | None) -> Reading:
    if text is None:
        raise UnreadableError("there is no answer to this task")
    if not isinstance(text, str):
        raise UnreadableError("the answer is not a text")
    limit = MAX_WORDS_LENGTH if isinstance(kind, Words) else MAX_LENGTH
    if len(text) > limit:
        raise UnreadableError(f"the answer has {len(text)} characters; up to {limit} are read")
    if not text.strip():
        raise UnreadableError(NOTHING_WRITTEN)
    if isinstance(kind, Words):
        return Reading(text.strip(), "a text")
    if isinstance(kind, Quantity | DirectedChange) and len(text.strip().splitlines()) > 1:
        raise UnreadableError(f"“{quote(text)}” has more than one line; write one value on one line")
    match kind:
        case Quantity():
            return _read_quantity(kind, clean(text))
        case DirectedChange():
            return _read_change(kind, clean(text))
        case Choice():
            key = read_choice(kind, clean(text))
            return Reading(key, _label(kind, key))
        case ChoiceSet():
            keys = read_choice_set(kind, text)
            return Reading(keys, ", ".join(sorted(_label(kind, key) for key in keys)) or "none")
        case Ordering():
            order = read_ordering(kind, text)
            return Reading(order, ", ".join(_label(kind, key) for key in order))


def _read_quantity(kind: Quantity, text: str) -> Reading:
    pieces = [piece.strip() for piece in text.split("=")]
    value, unit_missing, written = _number_with_unit(kind.unit, pieces[-1], kind.asks)
    for piece in pieces[:-1]:
        _refuse_second_value(kind, piece, value, text)
    return Reading(value, f"{show_number(value)} {kind.unit}".strip(), unit_missing=unit_missing, written=written)


def _refuse_second_value(kind: Quantity, piece: str, value: float, text: str) -> None:
    """Refuse "41 N m = 45 N m"; working such as "0.17 * 240 = 40.8 N m" is welcome."""
    try:
        other, bare, _ = _number_with_unit(kind.unit, piece, kind.asks)
    except UnreadableError:
        return
    if not bare and not math.isclose(other, value, rel_tol=0.02, abs_tol=1e-9):
        raise UnreadableError(f"“{quote(text)}” holds two different values")


def _number_with_unit(wanted_text: str, text: str, asks: str) -> tuple[float, bool, Written]:
    """Value in the wanted unit, whether a unit was missing, and the parts as written."""
    stripped = _ABOUT.sub("", text).strip().rstrip(".;,").strip()
    number, unit_text = _split(stripped)
    if not re.search(r"\d", number):
        raise UnreadableError(f"“{quote(text)}” is not a number with a unit")
    if re.search(r"(?<![A-Za-z^\d*/-])\d", unit_text) or re.search(r"[*/]\s*\d{2,}", unit_text):
        raise UnreadableError(f"“{quote(text)}” has numbers after a unit; write the unit once, at the end")
    value, wanted = evaluate(number), read_unit(wanted_text)
    written = Written(number, value, unit_text)
    if not unit_text:
        return _finite(_bare(value, wanted_text), text), bool(wanted.dimension != read_unit("").dimension), written
    given = read_unit(unit_text)
    converted = convert(value, given, wanted)
    if converted is None:
        is_kind = kind_of_unit(given) or "another kind"
        raise UnreadableError(
            f"“{quote(text)}” has a unit of {is_kind}, and the task asks for {with_article(asks)} in {wanted_text}"
        )
    return _finite(converted, text), False, written


def _split(text: str) -> tuple[str, str]:
    """Part the number or sum from the unit after it."""
    match = _NUMBER_PART.match(text)
    number = match[0] if match else ""
    unit = text[len(number) :]
    per = _PER.search(number) or re.search(r"\s(?:1\s*)?/\s*\Z", number) or re.search(r"/\s*\Z", number)
    if unit and per:
        number, unit = number[: per.start()], "/" + unit
    return number.rstrip(" ·⋅×*"), unit.strip()


def _bare(value: float, wanted_text: str) -> float:
    """Take a number without unit: in a percent task a small one is a share (0.52 is 52 %, 1.2 is 120 %)."""
    return 100.0 * value if wanted_text == "%" and abs(value) <= LARGEST_SHARE else value


def _finite(value: float, text: str) -> float:
    if not math.isfinite(value):
        raise UnreadableError(f"“{quote(text)}” is too large a number")
    return value + 0.0


def _read_change(kind: DirectedChange, text: str) -> Reading:
    if " ".join(re.findall(r"[a-z]+", text.casefold())) in _NO_CHANGE:
        return Reading(0.0, "no change")
    words = text.split()
    up = [word for word in words if word.casefold().strip(".,") in kind.positive]
    down = [word for word in words if word.casefold().strip(".,") in kind.negative]
    rest = " ".join(
        word
        for word in words
        if word not in up and word not in down and not (word.casefold() in _FILLER and word != "in")
    )
    if up and down:
        raise UnreadableError(f"“{quote(text)}” names both directions")
    if not re.search(r"\d", rest):
        raise UnreadableError(f"“{quote(text)}” does not say how far")
    value, unit_missing, written = _number_with_unit(kind.unit, rest, kind.asks)
    signed = rest.lstrip()[:1] in {"+", "-", "−"}
    if (up or down) and value < 0:
        raise UnreadableError(f"“{quote(text)}” has a direction and a minus; write one of them")
    if value and not (up or down or signed):
        raise UnreadableError(f"“{quote(text)}” does not say in which direction")
    value = -value + 0.0 if down else value
    word = kind.positive[0] if value > 0 else kind.negative[0]
    shown = f"{word} {show_number(abs(value))} {kind.unit}" if value else "no change"
    return Reading(value, shown, unit_missing=unit_missing and value != 0, written=written)


def _label(kind: Choice | ChoiceSet | Ordering, key: str) -> str:
    return next(label for label, option in kind.labelled() if option.key == key)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + "."
