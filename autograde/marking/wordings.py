"""Reading answers that are wordings: choices, sets and orderings."""

from __future__ import annotations

import re

from autograde.marking.reading import UnreadableError, quote
from autograde.marking.tasks import Choice, ChoiceSet, Ordering

NOTHING = {"none", "nothing", "no option", "none of them", "none of these"}
_LEAD = r"(?:(?:option|answer|choice|sector|number|no|nr)\b[\s.:#]*)?"
_ALONE = re.compile(rf"{_LEAD}\(?\s*(?P<label>[a-z]|\d{{1,2}})(?:st|nd|rd|th)?\s*[).:]*\Z", re.IGNORECASE)
_WITH_WORDS = re.compile(
    rf"{_LEAD}\(?(?P<label>[a-z]|\d{{1,2}})\s*(?:[).:,;(\-–—]|\bbecause\b)\s*(?P<rest>.+)\Z", re.IGNORECASE
)
_SEPARATORS = re.compile(r"\s*(?:[,;&+\n|/]|\band\b)\s*", re.IGNORECASE)
_ORDER_SEPARATORS = re.compile(r"\s*(?:->|=>|[→,;>\n|]|\bthen\b|\bbefore\b)\s*", re.IGNORECASE)

Wording = Choice | ChoiceSet | Ordering


def fold(text: str) -> str:
    """Reduce a wording to its words.

    Examples
    --------
    >>> fold("It pushes  USEFULLY. ")
    'it pushes usefully'
    """
    return " ".join(re.findall(r"[^\W_]+", text.casefold()))


def read_choice(kind: Choice, text: str) -> str:
    """Read one option; gives its key."""
    key = _option(kind, text)
    if key is not None:
        return key
    several = [_option(kind, piece) for piece in _SEPARATORS.split(text)]
    if len(several) > 1 and all(several) and len(set(several)) > 1:
        raise UnreadableError(f"“{quote(text)}” names more than one option")
    raise UnreadableError(f"“{quote(text)}” is none of the options")


def read_choice_set(kind: ChoiceSet, text: str) -> frozenset[str]:
    """Read any number of options; gives their keys."""
    if text.casefold().strip(" .") in NOTHING:
        return frozenset()
    return frozenset(_several(kind, text, _SEPARATORS))


def read_ordering(kind: Ordering, text: str) -> tuple[str, ...]:
    """Read all options in an order; gives their keys, first to last."""
    rising = "<" in text
    if rising and re.search(r"[>→]", text):
        raise UnreadableError(f"“{quote(text)}” holds signs of both directions")
    keys = _several(kind, text.replace("<", ">"), _ORDER_SEPARATORS)
    if rising:
        keys.reverse()
    wanted = {option.key for option in kind.options}
    if len(keys) != len(set(keys)):
        raise UnreadableError(f"“{quote(text)}” names an option twice")
    if set(keys) != wanted:
        raise UnreadableError(f"“{quote(text)}” names {len(keys)} of {len(wanted)} options; an order needs all")
    return tuple(keys)


def _several(kind: Wording, text: str, separators: re.Pattern[str]) -> list[str]:
    whole = _option(kind, text)
    if whole is not None:
        return [whole]
    pieces = [piece for piece in separators.split(text.strip(" .,;")) if piece]
    keys = [_option(kind, piece) for piece in pieces]
    if len(pieces) == 1 or None in keys:
        pieces = _run_of_labels(kind, text) or pieces
        keys = [_option(kind, piece) for piece in pieces]
    for piece, key in zip(pieces, keys, strict=True):
        if key is None:
            raise UnreadableError(f"“{quote(piece)}” is none of the options")
    return [key for key in keys if key is not None]


def _run_of_labels(kind: Wording, text: str) -> list[str]:
    """Labels written one after the other: "B A C" or "BAC"."""
    labels = {label.casefold() for label, _ in kind.labelled()}
    pieces = re.findall(r"\w+", text.casefold())
    if len(pieces) == 1 and not kind.numbered:
        pieces = list(pieces[0])
    return pieces if all(piece in labels for piece in pieces) else []


def _option(kind: Wording, text: str) -> str | None:
    """Key of the option a text names by label, by words, or by both."""
    by_words = _by_words(kind, text)
    if by_words is not None:
        return by_words
    alone = _ALONE.match(text.strip())
    if alone:
        return _by_label(kind, alone["label"])
    both = _WITH_WORDS.match(text.strip())
    if not both:
        return None
    key = _by_label(kind, both["label"])
    named = None if _only_labels(both["rest"]) else _by_words(kind, both["rest"])
    if key is not None and named is not None and named != key:
        raise UnreadableError(f"“{quote(text)}” names one option by its label and another by its words")
    return None if named is None and _only_labels(both["rest"]) else key


def _only_labels(rest: str) -> bool:
    """Whether what follows a label looks like more labels, so that several options are named."""
    words = [word for word in re.findall(r"\w+", rest.casefold()) if word != "and"]
    return all(len(word) == 1 or word.isdigit() for word in words)


def _by_label(kind: Wording, label: str) -> str | None:
    return next((option.key for shown, option in kind.labelled() if shown.casefold() == label.casefold()), None)


def _by_words(kind: Wording, text: str) -> str | None:
    words = fold(text)
    for option in kind.options:
        if words and words in {fold(wording) for wording in (option.key, option.text, *option.also)}:
            return option.key
    return None
