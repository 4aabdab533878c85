"""How each mark came about, as the marker itself writes it down."""

import pytest

from autograde.marking import (
    Choice,
    Criterion,
    Misconception,
    Option,
    Quantity,
    State,
    Task,
    Tolerance,
    Trace,
    Words,
    mark_sheet,
)
from autograde.marking.trace import Against, Origin

# Worked in the head: a wall 3 m by 4 m, the way round it, and whether 13 m of string go round.
CASE = {"length": 3.0, "height": 4.0}
TASKS = (
    Task("long", "?", Quantity("m", (0.5, 20), Tolerance(0.1), "length"), 1, "c", "p", lambda case, _: case["length"]),
    Task(
        "around",
        "?",
        Quantity("m", (1, 80), Tolerance(0.2, because="the tape repeats to 5 cm"), "way round"),
        2,
        "c",
        "p",
        lambda case, earlier: 2 * (earlier["long"] + case["height"]),
        ("long",),
    ),
    Task(
        "enough",
        "?",
        Choice((Option("yes", "It is"), Option("no", "It is not"))),
        1,
        "c",
        "p",
        lambda _, earlier: "yes" if earlier["around"] <= 13 else "no",
        ("around",),
    ),
    Task("why", "?", Words((Criterion("a reason", 3),)), 3, "c", "p"),
)
SLIPS = (
    Misconception("half", "long", "gave half of it", lambda case, _: case["length"] / 2, "You gave half.", "q"),
    Misconception(
        "one-of-each", "around", "added once", lambda case, e: e["long"] + case["height"], "Each side once.", "q", 0.5
    ),
    Misconception("never", "around", "does not apply", lambda case, e: None, "No.", "q"),
)


def traced(**typed):
    trace = Trace()
    result = mark_sheet(TASKS, SLIPS, CASE, typed, trace)
    assert result == mark_sheet(TASKS, SLIPS, CASE, typed), "telling changes nothing"
    assert [each.result for each in trace.tasks] == list(result.results)
    return {each.task.id: each for each in trace.tasks}


def test_a_right_answer_is_compared_with_the_right_value_only():
    told = traced(long="295 cm")["long"]
    (only,) = told.compared
    assert (only.against, only.value, only.fits) == (Against.RIGHT, 3.0, True)
    assert only.bands == pytest.approx(0.5), "5 cm in a band of 10 cm"
    assert (told.reading.written.number, told.reading.written.result, told.reading.written.unit) == ("295", 295.0, "cm")
    assert told.earning.state is State.CORRECT


def test_arithmetic_is_told_as_written_and_as_evaluated():
    written = traced(around="2 * (3 + 4) m")["around"].reading.written
    assert (written.number, written.result, written.unit) == ("2 * (3 + 4)", 14.0, "m")


def test_follow_through_names_the_own_value_and_what_follows_from_it():
    told = traced(long="1.5 m", around="11 m")
    assert told["long"].compared[-1].slip.id == "half"
    assert told["long"].earning.credit == 0.0
    around = told["around"]
    (used,) = around.used
    assert (used.task, used.value, used.origin, used.right) == ("long", 1.5, Origin.ANSWER, False)
    assert around.follows == 11.0
    assert [(each.against, each.fits) for each in around.compared] == [(Against.RIGHT, False), (Against.OWN, True)]
    assert around.compared[0].bands == pytest.approx(15.0), "3 m in a band of 0.2 m"
    assert around.earning.state is State.IN_CONSEQUENCE


def test_slips_are_compared_from_right_and_from_own_values():
    around = traced(long="1.5 m", around="5.5 m")["around"]
    slips = [(each.against, each.slip.id, each.value, each.fits) for each in around.compared[2:]]
    assert slips == [
        (Against.SLIP, "one-of-each", 7.0, False),
        (Against.SLIP, "never", None, False),
        (Against.SLIP_FROM_OWN, "one-of-each", 5.5, True),
        (Against.SLIP_FROM_OWN, "never", None, False),
    ]
    assert (around.earning.credit, around.result.marks) == (0.5, 1.0)


def test_values_that_are_missing_or_cannot_occur_are_worked_out():
    for text in ("", "300 m", "plenty"):
        (used,) = traced(long=text, around="14 m")["around"].used
        assert (used.value, used.origin, used.right) == (3.0, Origin.WORKED_OUT, True)


def test_a_missing_unit_and_a_text_are_told():
    told = traced(long="3", why="Because.")
    assert told["long"].earning.unit_missing
    assert told["long"].reading.written.unit == ""
    assert (told["why"].typed, told["why"].right, told["why"].earning) == ("Because.", None, None)


def test_a_failing_slip_is_told_with_its_problem():
    broken = Misconception("broken", "long", "b", lambda case, _: 1 / 0, "b", "q")
    trace = Trace()
    result = mark_sheet(TASKS, (broken,), CASE, {"long": "9 m"}, trace)
    assert result["long"].state is State.NOT_GRADABLE
    assert "ZeroDivisionError" in trace.tasks[0].compared[-1].problem
    assert trace.tasks[0].earning is None
