"""Text as trainees write it, read into values, with a reason where it cannot be read."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from autograde.marking import (
    Choice,
    ChoiceSet,
    Criterion,
    DirectedChange,
    Option,
    Ordering,
    Quantity,
    Tolerance,
    Words,
    cell_text,
    read_answer,
)
from autograde.marking.units import SPELLINGS, convert, read_unit

TORQUE = Quantity("N m", (-50, 150), Tolerance(0.5), asks="torque", example="23 N m")
LENGTH = Quantity("mm", (0, 1200), Tolerance(1.0), asks="length", example="720 mm")
ANGLE = Quantity("deg", (0, 160), Tolerance(1.0), asks="angle", example="34 deg")
SHARE = Quantity("%", (-100, 100), Tolerance(1.5), asks="index", example="62 %")
CADENCE = Quantity("rpm", (20, 150), Tolerance(1.0), asks="cadence", example="90 rpm")
CHANGE = DirectedChange("mm", (-40, 40), Tolerance(1.0))
OPTIONS = (
    Option("drives", "It pushes usefully"),
    Option("holds", "It takes torque away"),
    Option("idle", "It does nothing", ("nothing happens",)),
)
CHOICE, SOME, ORDER = Choice(OPTIONS), ChoiceSet(OPTIONS), Ordering(OPTIONS)
SECTOR = Choice(
    tuple(Option(str(n), f"sector {n}", (f"{22.5 * (n - 1):g} to {22.5 * n:g}",)) for n in range(1, 17)), numbered=True
)
TEXT = Words((Criterion("gives a reason", 1),))
ALL_KINDS = (TORQUE, LENGTH, ANGLE, SHARE, CADENCE, CHANGE, CHOICE, SOME, ORDER, SECTOR, TEXT)


# Conversion factors: SI brochure, 9th edition (exact by definition); inch and kilogram-force likewise.
@pytest.mark.parametrize(
    ("given", "wanted", "factor"),
    [
        ("kN", "N", 1000),
        ("kgf", "N", 9.80665),
        ("N mm", "N m", 1e-3),
        ("N cm", "N m", 1e-2),
        ("inch", "mm", 25.4),
        ("cm", "mm", 10),
        ("°", "rad", math.pi / 180),
        ("turn", "deg", 360),
        ("rpm", "rad/s", 2 * math.pi / 60),
        ("kJ", "N m", 1000),
        ("kW", "J/s", 1000),
        ("bar", "kPa", 100),
        ("MPa", "N/mm^2", 1),
        ("%", "", 0.01),
        ("m/s", "km/h", 3.6),
    ],
)
def test_units_convert_by_their_definitions(given, wanted, factor):
    assert convert(1.0, read_unit(given), read_unit(wanted)) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize("spellings", SPELLINGS.values())
def test_spellings_of_one_unit_mean_the_same(spellings):
    first, *others = spellings.split()
    assert all(read_unit(other.upper()) == read_unit(first) for other in others)


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (TORQUE, "41.2 N m", 41.2),
        (TORQUE, "41.2Nm", 41.2),
        (TORQUE, "41,2 nm", 41.2),
        (TORQUE, "41.2 N·m", 41.2),
        (TORQUE, "41 N-m.", 41),
        (TORQUE, "41 newton metres", 41),
        (TORQUE, "  41 Newton Meters ", 41),
        (TORQUE, "4120 N cm", 41.2),
        (TORQUE, "10³ N mm", 1),
        (TORQUE, "−2.5 N m", -2.5),
        (TORQUE, "–2,5 N m", -2.5),
        (TORQUE, "＋４１ N m", 41),
        (TORQUE, "= 41 N m", 41),
        (TORQUE, "torque = 41 N m", 41),
        (TORQUE, "≈ 41 N m", 41),
        (TORQUE, "about 41 N m", 41),
        (TORQUE, "0.1725 * 231 N m", 39.8475),
        (TORQUE, "0,1725 × 231 Nm", 39.8475),
        (TORQUE, "0.17 · 240 N m", 40.8),
        (TORQUE, "0.17 x 240 N m", 40.8),
        (TORQUE, "0.17*240 = 40.8 N m", 40.8),
        (TORQUE, "(3^2 + 4^2)^0.5 N m", 5),
        (TORQUE, "3 1/4 N m", 3.25),
        (TORQUE, "- 3 1/4 N m", -3.25),
        (TORQUE, "3½ N m", 3.5),
        (TORQUE, "½ N m", 0.5),
        (TORQUE, "82 - 5 N m", 77),
        (TORQUE, "82-5 N m", 77),
        (TORQUE, "40 - 52 N m", -12),
        (TORQUE, "40 − 52 N m", -12),
        (TORQUE, "1.2e1 N m", 12),
        (LENGTH, "3.4 cm", 34),
        (LENGTH, "0.883 * 82 cm", 724.06),
        (LENGTH, "1 1/2 in", 38.1),
        (LENGTH, "1 020 mm", 1020),
        (LENGTH, "1.020,5 mm", 1020.5),
        (LENGTH, "1,020.5 mm", 1020.5),
        (LENGTH, "1'020.5 mm", 1020.5),
        (LENGTH, "0,720 m", 720),
        (LENGTH, "0.72 m", 720),
        (ANGLE, "34°", 34),
        (ANGLE, "34 degrees", 34),
        (ANGLE, "0.5 rad", math.degrees(0.5)),
        (ANGLE, "1/4 turn", 90),
        (SHARE, "52 %", 52),
        (SHARE, "52 per cent", 52),
        (SHARE, "0.52", 52),
        (SHARE, "52", 52),
        (SHARE, "1/2", 50),
        (SHARE, "-38.1%", -38.1),
        (CADENCE, "90 rpm", 90),
        (CADENCE, "90 turns per minute", 90),
        (CADENCE, "90 1/min", 90),
        (CADENCE, "90/min", 90),
        (CADENCE, "9.42478 rad/s", 90.0),
        (CHANGE, "raise 8 mm", 8),
        (CHANGE, "8 mm up", 8),
        (CHANGE, "Raise the saddle by 8 mm", 8),
        (CHANGE, "lower by 0.5 cm", -5),
        (CHANGE, "+8 mm", 8),
        (CHANGE, "−8 mm", -8),
        (CHANGE, "no change", 0),
        (CHANGE, "0 mm", 0),
        (CHOICE, "b", "holds"),
        (CHOICE, "B)", "holds"),
        (CHOICE, "option b", "holds"),
        (CHOICE, "It takes torque AWAY.", "holds"),
        (CHOICE, "B: it takes torque away", "holds"),
        (CHOICE, "B because the leg is heavy", "holds"),
        (CHOICE, "nothing happens", "idle"),
        (SECTOR, "5", "5"),
        (SECTOR, "sector 5", "5"),
        (SECTOR, "Sector 5 (90° to 112.5°)", "5"),
        (SECTOR, "90° to 112.5°", "5"),
        (SECTOR, "16", "16"),
        (SOME, "A, C", frozenset({"drives", "idle"})),
        (SOME, "a and c", frozenset({"drives", "idle"})),
        (SOME, "AC", frozenset({"drives", "idle"})),
        (SOME, "A\nC", frozenset({"drives", "idle"})),
        (SOME, "none", frozenset()),
        (SOME, "It does nothing; it pushes usefully", frozenset({"drives", "idle"})),
        (ORDER, "B, A, C", ("holds", "drives", "idle")),
        (ORDER, "B > A > C", ("holds", "drives", "idle")),
        (ORDER, "C < A < B", ("holds", "drives", "idle")),
        (ORDER, "bac", ("holds", "drives", "idle")),
        (ORDER, "B → A → C", ("holds", "drives", "idle")),
        (TEXT, "  Because it hurts.\n", "Because it hurts."),
    ],
)
def test_reads_what_trainees_write(kind, text, value):
    reading = read_answer(kind, text)
    assert reading.reason == ""
    assert reading.value == (pytest.approx(value, rel=1e-5) if isinstance(value, int | float) else value)
    assert not reading.unit_missing


@pytest.mark.parametrize(
    ("kind", "text", "says"),
    [
        (TORQUE, None, "no answer"),
        (TORQUE, "", "nothing was written"),
        (TORQUE, " \n ", "nothing was written"),
        (TORQUE, "plenty", "not a number"),
        (TORQUE, "nan", "not a number"),
        (TORQUE, "nan N m", "not a number"),
        (TORQUE, "inf N m", "not a number"),
        (TORQUE, "-∞ N m", "not a number"),
        (TORQUE, "1e999 N m", "too large"),
        (TORQUE, "1e308 * 10 N m", "too large"),
        (TORQUE, "1e308 kN m * m", "not"),
        (TORQUE, "1/0 N m", "divides by zero"),
        (TORQUE, "0x29 N m", "programmer"),
        (TORQUE, "9**9**9 N m", "power above"),
        (TORQUE, "(-2)^0.5 N m", "no real value"),
        (TORQUE, "((((((((((1)))))))))) N m", "brackets"),
        (TORQUE, "1+" * 70 + "1 N m", "characters"),
        (TORQUE, "9" * 501, "characters"),
        (TORQUE, "1,234 N m", "can mean 1234 or 1.234"),
        (TORQUE, "1,2,3 N m", "more than one"),
        (TORQUE, "40-42 N m", "range"),
        (TORQUE, "40,5-42 N m", "range"),
        (TORQUE, "40 – 42 N m", "range"),
        (TORQUE, "40 to 42 N m", "numbers after a unit"),
        (TORQUE, "41 ± 2 N m", "numbers after a unit"),
        (TORQUE, "240 N * 0.17 m", "write the unit once"),
        (TORQUE, "41 N m = 45 N m", "two different values"),
        (TORQUE, "41\n42", "more than one line"),
        (TORQUE, "41 N", "unit of a force"),
        (TORQUE, "41 deg", "unit of an angle"),
        (TORQUE, "41 parsec", "not a unit on the list"),
        (TORQUE, "41 m**99999999", "numbers after a unit"),
        (TORQUE, "__import__('os').system('ls')", "not a number"),
        (TORQUE, "(1).__class__ N m", "not"),
        (TORQUE, "<script>alert(1)</script>", "not a number"),
        (TORQUE, "True", "not a number"),
        (SHARE, "52 deg", "unit of an angle"),
        (CHANGE, "8 mm", "in which direction"),
        (CHANGE, "up", "how far"),
        (CHANGE, "raise and lower 8 mm", "both directions"),
        (CHANGE, "lower -8 mm", "write one of them"),
        (CHANGE, "raise to 720 mm", "not a number"),
        (CHOICE, "D", "none of the options"),
        (CHOICE, "A and B", "more than one option"),
        (CHOICE, "A, D", "none of the options"),
        (CHOICE, "B: it pushes usefully", "another by its words"),
        (CHOICE, "A little", "none of the options"),
        (SECTOR, "17", "none of the options"),
        (SECTOR, "0", "none of the options"),
        (SECTOR, "4.5", "none of the options"),
        (SECTOR, "4 and 5", "more than one option"),
        (SOME, "A, D", "none of the options"),
        (ORDER, "B, A", "needs all"),
        (ORDER, "B, B, A", "twice"),
        (ORDER, "B < A > C", "both directions"),
        (TEXT, "x" * 20_001, "characters"),
    ],
)
def test_says_why_it_cannot_read(kind, text, says):
    reading = read_answer(kind, text)
    assert reading.value is None
    assert says in reading.reason.casefold() or says in reading.reason
    assert "Write " in reading.reason, "a reason ends with what is allowed"
    assert not set("<>`[]{}$|\\") & set(reading.reason), "nothing a page or a table could act on"


def test_unreadable_number_shows_an_example():
    assert "for example: 23 N m" in read_answer(TORQUE, "plenty").reason


@pytest.mark.parametrize(("kind", "text", "value"), [(TORQUE, "41.2", 41.2), (ANGLE, "34", 34), (CHANGE, "raise 8", 8)])
def test_a_number_without_unit_is_taken_in_the_tasks_unit_and_noted(kind, text, value):
    reading = read_answer(kind, text)
    assert (reading.value, reading.unit_missing) == (value, True)


def test_an_answer_that_is_no_text_is_not_read():
    assert read_answer(TORQUE, 41.2).value is None
    assert read_answer(TORQUE, ["41.2 N m"]).value is None


@pytest.mark.parametrize(
    ("source", "task", "text"),
    [
        ("%%answer torque\n# a number\n\n41 N m\n", "torque", "41 N m"),
        ("\n  %%answer torque\n41 N m", "torque", "41 N m"),
        ("%%answer torque 41 N m", "torque", "41 N m"),
        ("%%answer\n41 N m", "", "41 N m"),
        ("%%answer torque\n# only remarks\n", "torque", ""),
        ("41 N m", None, "41 N m"),
        ("", None, ""),
        ("%%answer torque\r\n41 N m\r\n", "torque", "41 N m"),
        ("41 N m\n%%answer torque\n", None, "41 N m\n%%answer torque"),
    ],
)
def test_answer_cell_is_split_into_task_and_text(source, task, text):
    assert cell_text(source) == (task, text)


@settings(max_examples=400, deadline=None)
@given(text=st.text(max_size=600), kind=st.sampled_from(ALL_KINDS))
def test_any_text_gives_a_finite_value_or_a_reason(text, kind):
    check_reading(kind, text)


WORDS = ["1", "2.5", "0,5", "1e308", "e5", "**", "deg", "kN", "nan", "raise", "up", "lower", "by", "mm", "and", "none"]
PIECES = st.sampled_from([*"-−+*/^()=×½ .,'x%°<>\nNmABC", *WORDS, "N m"])


@settings(max_examples=1500, deadline=None)
@given(text=st.lists(PIECES, max_size=24).map("".join), kind=st.sampled_from(ALL_KINDS))
def test_jumbles_of_answer_pieces_give_a_finite_value_or_a_reason(text, kind):
    check_reading(kind, text)


@settings(max_examples=300, deadline=None)
@given(value=st.floats(-1e6, 1e6), unit=st.sampled_from(["N m", "Nm", "N·m", "newton metres"]), comma=st.booleans())
def test_written_numbers_are_read_back(value, unit, comma):
    text = f"{value:.4f} {unit}"
    read = read_answer(TORQUE, text.replace(".", ",", 1) if comma else text).value
    assert read == pytest.approx(float(f"{value:.4f}"), abs=1e-9)


@settings(max_examples=300, deadline=None)
@given(
    first=st.floats(0.1, 999).map(lambda x: round(x, 2)),
    second=st.floats(0.1, 999).map(lambda x: round(x, 2)),
    third=st.floats(0.1, 999).map(lambda x: round(x, 2)),
)
def test_sums_follow_the_rules_of_arithmetic(first, second, third):
    read = read_answer(TORQUE, f"{first} + {second} × ({third} − 1) / 2 N m").value
    assert read == pytest.approx(first + second * (third - 1) / 2, rel=1e-12)


def check_reading(kind, text):
    reading = read_answer(kind, text)
    if reading.value is None:
        assert reading.reason
        assert len(reading.reason) < 500
    elif isinstance(reading.value, float):
        assert math.isfinite(reading.value)
    else:
        assert isinstance(reading.value, str | frozenset | tuple)
