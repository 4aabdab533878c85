"""The five states, follow-through, and that marking fails closed."""

import math

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
    Words,
    mark_sheet,
)

# A small case worked in the head: a wall 3 m by 4 m, its area, paint of 0.25 litre a square metre (as a ratio), and
# whether one can of 2 litres is enough.
CASE = {"length": 3.0, "height": 4.0}


def metres(low, high, **more):
    return Quantity("m", (low, high), Tolerance(0.01), **more)


TASKS = (
    Task("long", "?", metres(0.5, 20, asks="length"), 1, "c", "p", solve=lambda case, _: case["length"]),
    Task(
        "around",
        "?",
        metres(1, 80, asks="way round"),
        2,
        "c",
        "p",
        solve=lambda case, earlier: 2 * (earlier["long"] + case["height"]),
        uses=("long",),
    ),
    Task(
        "times",
        "?",
        Quantity("", (0, 100), Tolerance(0.05), asks="ratio"),
        4,
        "c",
        "p",
        solve=lambda case, earlier: earlier["around"] / case["height"],
        uses=("around",),
    ),
    Task(
        "enough",
        "?",
        Choice((Option("yes", "It is enough"), Option("no", "It is too little"))),
        1,
        "c",
        "p",
        solve=lambda _, earlier: "yes" if earlier["times"] <= 4 else "no",
        uses=("times",),
    ),
    Task("why", "?", Words((Criterion("a reason", 3),)), 3, "c", "p"),
)
SLIPS = (
    Misconception("half", "long", "gave half of it", lambda case, _: case["length"] / 2, "You gave half.", "q"),
    Misconception(
        "one-of-each",
        "around",
        "added each side once",
        lambda case, earlier: earlier["long"] + case["height"],
        "You added each side once.",
        "q",
        credit=0.5,
    ),
    Misconception(
        "upside-down",
        "times",
        "turned the ratio",
        lambda case, earlier: case["height"] / earlier["around"],
        "Your ratio is upside down.",
        "q",
        credit=0.25,
    ),
)
RIGHT = {"long": "3 m", "around": "14 m", "times": "3.5", "enough": "A", "why": "Because."}


def mark(changes=(), tasks=TASKS, slips=SLIPS, case=CASE):
    return mark_sheet(tasks, slips, case, {**RIGHT, **dict(changes)})


def states(result):
    return {each.task: each.state for each in result.results if not each.by_hand}


def test_a_right_sheet_earns_full_marks_but_for_the_text():
    result = mark()
    assert set(states(result).values()) == {State.CORRECT}
    assert (result.marks, result.max_marks) == (8.0, 11.0)
    assert [each.task for each in result.for_a_person] == ["why"]
    assert result.not_gradable == ()


def test_other_units_earn_full_marks():
    assert mark({"long": "300 cm", "around": "14 000 mm", "times": "350 %"}).marks == 8.0


@pytest.mark.parametrize(
    "empty", [{}, dict.fromkeys(RIGHT, None), dict.fromkeys(RIGHT, ""), dict.fromkeys(RIGHT, " \n")]
)
def test_an_empty_sheet_is_for_a_person_and_earns_nothing(empty):
    result = mark_sheet(TASKS, SLIPS, CASE, empty)
    assert result.marks == 0.0
    for each in result.results:
        assert each.state is State.NOT_GRADABLE
        assert each.marks is None, "undecided is not nought"
        assert "nothing was written" in each.reason.casefold() or "no answer" in each.reason
        assert each.feedback


def test_a_half_filled_sheet_marks_what_is_there():
    result = mark({"around": None, "why": None})
    assert states(result) == {
        "long": State.CORRECT,
        "around": State.NOT_GRADABLE,
        "times": State.CORRECT,
        "enough": State.CORRECT,
    }
    assert result.marks == 6.0


@pytest.mark.parametrize(
    "text", ["plenty", "nan m", "inf m", "1e999 m", "3 kg", "<b>3 m</b>", "=HYPERLINK(3)", "3 m\n4 m"]
)
def test_text_where_a_number_belongs_is_not_gradable_with_a_reason(text):
    result = mark({"long": text})
    assert result["long"].state is State.NOT_GRADABLE
    assert result["long"].marks is None
    assert result["long"].reason
    assert result.marks == 7.0


def test_a_known_slip_is_recognised_with_its_feedback_page_and_credit():
    result = mark({"around": "7 m", "times": "3.5", "enough": "A"})["around"]
    assert (result.state, result.misconception, result.marks) == (State.MISCONCEPTION, "one-of-each", 1.0)
    assert (result.feedback, result.page) == ("You added each side once.", "q")


def test_an_unknown_number_is_out_of_tolerance():
    result = mark({"around": "12.3 m"})["around"]
    assert (result.state, result.marks, result.misconception) == (State.OUT_OF_TOLERANCE, 0.0, None)


@pytest.mark.parametrize(
    ("text", "state"),
    [("14.009 m", State.CORRECT), ("13.991 m", State.CORRECT), ("14.02 m", State.OUT_OF_TOLERANCE)],
)
def test_the_band_is_as_wide_as_it_says(text, state):
    assert mark({"around": text})["around"].state is state


def test_an_early_slip_costs_only_once():
    # half of 3 m is 1.5 m; round: 2 (1.5 + 4) = 11 m; 11 / 4 = 2.75; not above 4, so enough
    result = mark({"long": "1.5 m", "around": "11 m", "times": "2.75", "enough": "A"})
    assert states(result) == {
        "long": State.MISCONCEPTION,
        "around": State.IN_CONSEQUENCE,
        "times": State.IN_CONSEQUENCE,
        "enough": State.CORRECT,
    }
    assert result.marks == 7.0
    assert "“Long”" in result["around"].feedback


def test_an_own_value_out_of_tolerance_is_followed_too():
    # 9 m is wrong without a known reason; round: 2 (9 + 4) = 26 m; 26 / 4 = 6.5; above 4, so too little
    result = mark({"long": "9 m", "around": "26 m", "times": "6.5", "enough": "B"})
    assert [each.state for each in result.results[:4]] == [
        State.OUT_OF_TOLERANCE,
        State.IN_CONSEQUENCE,
        State.IN_CONSEQUENCE,
        State.IN_CONSEQUENCE,
    ]
    assert result.marks == 7.0


def test_right_later_answers_stay_right_after_an_early_slip():
    result = mark({"long": "1.5 m"})
    assert result["around"].state is State.CORRECT
    assert result["times"].state is State.CORRECT


def test_a_slip_on_top_of_a_slip_is_recognised():
    # from own 1.5 m each side once is 5.5 m; from the right 3 m it would be 7 m
    result = mark({"long": "1.5 m", "around": "5.5 m"})["around"]
    assert (result.state, result.misconception) == (State.MISCONCEPTION, "one-of-each")
    assert "your own answer to “Long”" in result.feedback


def test_a_missing_link_is_bridged_from_the_values_before_it():
    # long 9 m, around left out: 26 m follows; 26 / 4 = 6.5
    result = mark({"long": "9 m", "around": None, "times": "6.5", "enough": "B"})
    assert result["times"].state is State.IN_CONSEQUENCE
    assert "“Around”" in result["times"].feedback


def test_an_impossible_value_carries_nothing_into_later_tasks():
    # 0 m is outside the plausible 0.5 to 20 m: 2 (0 + 4) = 8 m must not earn marks
    result = mark({"long": "0 m", "around": "8 m"})
    assert result["long"].state is State.OUT_OF_TOLERANCE
    assert "cannot occur" in result["long"].feedback
    assert result["around"].state is State.OUT_OF_TOLERANCE


def test_rounding_an_early_answer_is_no_slip():
    # 3.009 m is within the band; round: 14.018 m is outside that of 14 m, but follows
    result = mark({"long": "3.009 m", "around": "14.018 m"})["around"]
    assert result.state is State.CORRECT
    assert result.marks == 2.0


def test_a_forgotten_unit_costs_half():
    result = mark({"around": "14"})["around"]
    assert (result.state, result.misconception, result.marks) == (State.MISCONCEPTION, "unit-missing", 1.0)
    assert "without its unit" in result.feedback
    both = mark({"around": "7"})["around"]
    assert (both.misconception, both.marks) == ("one-of-each", 0.5)
    assert mark({"times": "3.5"})["times"].state is State.CORRECT, "a plain ratio has no unit"


@pytest.mark.parametrize(
    "broken",
    [
        lambda case, earlier: 1 / 0,
        lambda case, earlier: math.nan,
        lambda case, earlier: math.inf,
        lambda case, earlier: "14 m",
        lambda case, earlier: None,
        lambda case, earlier: case["no such thing"],
        lambda case, earlier: True,
    ],
)
def test_a_key_that_cannot_be_worked_out_leaves_the_task_to_a_person(broken):
    tasks = list(TASKS)
    tasks[1] = Task("around", "?", metres(1, 80), 2, "c", "p", solve=broken, uses=("long",))
    result = mark(tasks=tasks)
    for task in ("around", "times", "enough"):
        assert result[task].state is State.NOT_GRADABLE, task
        assert result[task].marks is None
        assert "failed" in result[task].reason or "no value" in result[task].reason or "gave" in result[task].reason
    assert result["long"].state is State.CORRECT


def test_a_slip_that_cannot_be_worked_out_leaves_only_other_answers_to_a_person():
    slips = (*SLIPS, Misconception("broken", "around", "breaks", lambda case, _: 1 / 0, "No.", "q"))
    assert mark(slips=slips)["around"].state is State.CORRECT
    assert mark({"around": "7 m"}, slips=slips)["around"].misconception == "one-of-each"
    assert mark({"around": "12 m"}, slips=slips)["around"].state is State.NOT_GRADABLE


def test_a_follow_through_that_fails_is_for_a_person_unless_the_answer_is_right():
    def solve(case, earlier):
        if earlier["long"] != 3.0:
            raise RuntimeError("only for the key")
        return 14.0

    tasks = list(TASKS)
    tasks[1] = Task("around", "?", metres(1, 80), 2, "c", "p", solve=solve, uses=("long",))
    assert mark({"long": "9 m"}, tasks=tasks)["around"].state is State.CORRECT
    broken = mark({"long": "9 m", "around": "26 m"}, tasks=tasks)["around"]
    assert broken.state is State.NOT_GRADABLE
    assert "only for the key" not in broken.reason, "the text of an error could hold the key"


@pytest.mark.parametrize("value", [3.0, 3, b"3 m", ["3 m"], {"a": 1}, object()])
def test_a_sheet_with_other_things_than_text_does_not_raise(value):
    result = mark({"long": value})
    assert result["long"].state is State.NOT_GRADABLE
    assert result["long"].marks is None


def test_unknown_entries_of_a_sheet_are_ignored():
    assert mark({"bonus": "100 marks", "%%answer": "x"}).marks == 8.0


def test_marking_twice_gives_the_same():
    changes = {"long": "1.5 m", "around": "5.5 m", "times": "0.7", "enough": "??"}
    assert mark(changes) == mark(changes)


def test_marks_are_plain_finite_numbers_in_range():
    for changes in ({}, {"long": "1.5 m"}, {"around": "7"}, {"times": "0.286"}, {"enough": "B"}):
        for each in mark(changes).results:
            if each.marks is not None:
                assert type(each.marks) is float
                assert 0.0 <= each.marks <= each.max_marks


@pytest.mark.parametrize(
    ("tolerance", "unit", "sentence"),
    [
        (Tolerance(0.5, 0.02, "the pedal repeats to 2 %"), "N m", "within 2 %, and always within 0.5 N m: the pedal"),
        (Tolerance(relative=0.02), "W", "within 2 %."),
        (Tolerance(2.0), "deg", "within 2 deg."),
        (Tolerance(1.5), "%", "within 1.5 percentage points."),
    ],
)
def test_the_trainee_is_told_how_close_is_close_enough(tolerance, unit, sentence):
    assert sentence in tolerance.sentence(unit)


@pytest.mark.parametrize("numbers", [(0.0, 0.0), (-1.0, 0.0), (math.nan, 0.0), (0.0, 0.9)])
def test_a_tolerance_of_nothing_or_nonsense_is_refused(numbers):
    with pytest.raises(ValueError, match="give"):
        Tolerance(*numbers)
