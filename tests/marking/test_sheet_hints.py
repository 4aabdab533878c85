"""The form of an answer from its hint: for every task of every case as good as from the case itself."""

import pytest

from autograde.cases import (
    Choice,
    ChoiceSet,
    DirectedChange,
    Option,
    Ordering,
    Quantity,
    Tolerance,
    discover_families,
    practice_variant,
)
from autograde.marking import read_answer
from autograde.marking.answers import how_to_write
from autograde.marking.solving import key_values
from autograde.sheet_hints import NOTED, kind_of, words_on

FAMILIES = discover_families()
OPTIONS = tuple(Option(f"key-{number}", f"Words {number}") for number in range(4))
BAND = Tolerance(1)


@pytest.mark.parametrize("name", FAMILIES)
def test_every_hint_of_every_case_is_understood(name, write):
    family = FAMILIES[name]
    key = key_values(family.tasks, practice_variant(family).case)
    for task in family.tasks:
        if task.by_hand:
            continue
        kind, text = kind_of([how_to_write(task.kind)]), write(task, key[task.id])
        assert type(kind) is type(task.kind)
        assert read_answer(kind, text).read_as == read_answer(task.kind, text).read_as, (task.id, text)
        assert read_answer(kind, "").value is None


@pytest.mark.parametrize(
    ("kind", "text", "read_as"),
    [
        (Quantity("N m", (0, 9), BAND, "torque", "24 N m"), "2350 N cm", "23.5 N m"),
        (Quantity("", (0, 9), BAND, "index", "0.4"), "1/4", "0.25"),
        (Quantity("%", (0, 99), BAND, "share", "52 %"), "0.25", "25 %"),
        (Quantity("rpm", (0, 99), BAND, "cadence", "1/2 rpm"), "90 /min", "90 rpm"),
        (Quantity("°", (-9, 9), BAND, "angle", "-3 °"), "pi deg", ""),
        (DirectedChange("mm", (-9, 9), BAND), "8 mm up", "raise 8 mm"),
        (DirectedChange("mm", (-9, 9), BAND, ("forward",), ("back",)), "back 0.8 cm", "back 8 mm"),
        (Choice(OPTIONS), "d", "D"),
        (Choice(OPTIONS), "E", ""),
        (Choice(OPTIONS, numbered=True), "4", "4"),
        (ChoiceSet(OPTIONS), "D and A", "A, D"),
        (ChoiceSet(OPTIONS), "none", "none"),
        (Ordering(OPTIONS), "D, A, C, B", "D, A, C, B"),
        (Ordering(OPTIONS), "D, A", ""),
    ],
)
def test_each_kind_is_read_from_its_hint(kind, text, read_as):
    assert read_answer(kind_of([how_to_write(kind)]), text).read_as == read_as


@pytest.mark.parametrize(
    ("hint", "text", "says"),
    [
        ("Write the letter of one option: A to C", "b", "Read as: B."),
        (
            "Write the letter of one option: A to C",
            "it is inside",
            "cannot tell whether that can be read. Write the letter",
        ),
        (
            "Write a direction and a number with its unit, for example: in 4 mm or out 4 mm",
            "outwards 3 mm",
            "cannot tell",
        ),
        ("Write a torque as one number with its unit, for example: 24 N m", "lots", "This cannot be read. “lots”"),
        ("Write the letter of one option: A to C", "", "This cannot be read. Nothing was written"),
        ("my own note", "23 N m", NOTED),
        ("Write the letter of one option: A to", "b", NOTED),
        ("Write the letter of one option: A to ²", "b", NOTED),
        ("Write the letter of one option: A to ß", "b", NOTED),
        ("Write a torque as one number with its unit, for example: ?", "b", NOTED),
    ],
)
def test_what_can_be_said_is_said(hint, text, says):
    assert says in words_on(f"# {hint}\n\n{text}\n", text)
