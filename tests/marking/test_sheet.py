"""The answer sheet in a notebook: form checks for trainees, practice, and marking in nbgrader's own run."""

import math
from pathlib import Path

import pytest
from IPython.core.interactiveshell import InteractiveShell

from autograde.cases import load_family, practice_variant, trainee_variant
from autograde.marking import Quantity, mark_sheet
from autograde.marking.form import check_form
from autograde.marking.solving import key_values
from autograde.sheet import (
    ATTEMPT,
    MARKING,
    MORE_CASES,
    NO_CASE,
    PRACTICE_ONLY,
    SEALED,
    TRY_FIRST,
    UNCHECKED,
    Sheet,
    answer_line_first,
)
from autograde.sheet_hints import NOTED

SECRET = bytes(range(32))
NAME = "pedal-force-record"


@pytest.fixture
def said():
    return []


@pytest.fixture
def cohort(tmp_path):
    (tmp_path / "secret.key").write_text(SECRET.hex())
    return tmp_path


def sheet(said, here="/elsewhere", **environment):
    return Sheet(environment, Path(here), said.append)


def right_answers(variant):
    key = key_values(variant.family.tasks, variant.case)
    return {
        task.id: f"{key[task.id]:.5g} {task.kind.unit}" if isinstance(task.kind, Quantity) else str(key[task.id])
        for task in variant.family.tasks
        if not task.by_hand
    }


def test_form_is_checked_and_nothing_else(said):
    mine = sheet(said)
    mine.open(NAME)
    assert "Pedal-force record: 9 tasks" in said[-1]
    mine.answer("torque", "# a number with its unit\n\n23,5 N m\n")
    assert said[-1] == "Read as: 23.5 N m. Only the form was checked, not whether it is right."
    mine.answer("torque", "23.5")
    assert "There is no unit" in said[-1]
    mine.answer("torque", "23500 N m")
    assert "not plausible" in said[-1]
    mine.answer("torque", "23.5 W")
    assert "cannot be read" in said[-1]
    mine.answer("torque", "# nothing yet")
    assert "Nothing was written" in said[-1]
    assert mine.check("torque") is None
    assert mine.check("sector") is None
    assert "no answer" in said[-1]


def test_slips_before_the_first_cell_or_in_names_are_told(said):
    mine = sheet(said)
    mine.answer("torque", "1 N m")
    assert said[-1] == NO_CASE
    mine.open("pedal-froce-record")
    assert "there are: " in said[-1]
    mine.open("")
    assert "write the name of a case" in said[-1]
    mine.open(f"{NAME} practice x")
    assert "whole number" in said[-1]
    mine.open(NAME)
    mine.answer("torqe", "1 N m")
    assert "There is no task 'torqe'" in said[-1]
    assert "torque" in said[-1]


def test_practice_gives_full_feedback_and_a_worked_solution_without_limit(said):
    mine = sheet(said)
    mine.open(f"{NAME} practice 2")
    variant = practice_variant(load_family(NAME), 2)
    for task, text in right_answers(variant).items():
        marks = variant.family.task(task).marks
        mine.answer(task, text)
        assert f" Right. {marks:g} of {marks:g} marks. A worked solution: %solution {task}" in said[-1]
        answered = said[-1]
        mine.check(task)
        assert said[-1] == answered
    mine.answer("torque", "1 N m")
    assert "Page to revisit: Lever tangency, with “Force arrows around the pedal circle” and " in said[-1]
    mine.solution("torque")
    assert "N m**" in said[-1]


def test_practice_names_the_slip_and_follows_through(said):
    """As in the brief of every case: later tasks are marked from the trainee's own values."""
    mine = sheet(said)
    mine.open(f"{NAME} practice 1")
    cadence_rpm = mine.practice.case.cadence_rpm
    mine.answer("mean-torque", "20 N m")
    assert "Not right yet" in said[-1]
    mine.answer("power", f"{2 * 20 * 2 * math.pi / 60 * cadence_rpm:.1f} W")
    assert "Right in consequence" in said[-1]
    assert "2 of 2 marks" in said[-1]


def test_the_worked_solution_waits_for_an_attempt_that_can_be_read(said):
    mine = sheet(said)
    mine.open(f"{NAME} practice 1")
    for text in ("", "# nothing yet", "plenty"):
        mine.answer("torque", text)
        assert "cannot be read" in said[-1]
        mine.solution("torque")
        assert said[-1] == TRY_FIRST
    mine.answer("torque", "12 N m")
    mine.solution("torque")
    assert said[-1] == mine.practice.family.worked(mine.practice.case)["torque"]
    mine.solution("judgement")
    assert said[-1] == mine.practice.family.worked(mine.practice.case)["judgement"]
    mine.open(f"{NAME} practice 1")
    mine.solution("torque")
    assert said[-1] == TRY_FIRST, "opening a case begins anew"


def test_certification_never_says_whether_an_answer_is_right(said):
    """The kernel of a trainee has the case and no secret: right and wrong answers are told the same."""
    mine = sheet(said)
    mine.open(NAME)
    variant = trainee_variant(load_family(NAME), SECRET, "wren")
    told = {}
    for task, text in right_answers(variant).items():
        mine.answer(task, text)
        mine.check(task)
        mine.solution(task)
        told[task] = said[-3:]
        assert told[task][0] == told[task][1] == check_form(variant.family.task(task), text).message
        assert told[task][2] == PRACTICE_ONLY
    assert mine.practice is None


def test_a_private_case_is_noted_though_it_cannot_be_checked(said):
    mine = sheet(said)
    mine.open("a-private-case")
    assert "there is no case 'a-private-case'" in said[-1]
    assert SEALED in said[-1]
    mine.answer("torque", "23 N m")
    assert said[-1] == NOTED
    mine.answer("torque", "# Write a torque as one number with its unit, for example: 24 N m\n\n23,5\n")
    assert said[-1] == f"Read as: 23.5 N m. There is no unit: it is taken in N m, and that costs marks. {NOTED}"
    mine.answer("torque", "# Write a torque as one number with its unit, for example: 24 N m\n\n23,5 W\n")
    assert "This cannot be read. “23,5 W” has a unit of a power, and the task asks for a torque in N m" in said[-1]
    assert mine.check("torque") is None
    assert mine.form() is None
    assert said[-1] == UNCHECKED


def test_an_editor_that_moves_hints_above_the_answer_line_does_no_harm(capsys, monkeypatch):
    monkeypatch.delenv(MARKING, raising=False)
    shell = InteractiveShell()
    assert shell.run_cell(f"%load_ext autograde.sheet\n%reload_ext autograde.sheet\n%case {NAME}").success
    moved = "\n# Write a torque as one number\n\n%%answer torque\n23.5 N m\n"
    assert shell.run_cell(moved).success
    assert "Read as: 23.5 N m." in capsys.readouterr().out
    assert shell.run_cell("# a comment\nx = 3\n").success
    assert shell.user_ns["x"] == 3
    assert shell.input_transformers_cleanup.count(answer_line_first) == 1


def test_a_worked_solution_is_markdown_where_it_can_be_shown(monkeypatch):
    shown = []
    monkeypatch.delenv(MARKING, raising=False)
    monkeypatch.setattr("IPython.display.display", lambda data, raw: shown.append((data, raw)))
    shell = InteractiveShell()
    shell.run_cell(f"%load_ext autograde.sheet\n%case {NAME} practice 1")
    shell.run_cell("%%answer torque\n12 N m\n")
    shell.run_cell("%solution torque")
    ((data, raw),) = shown
    assert raw
    assert data["text/markdown"] == data["text/plain"]
    assert "N m**" in data["text/markdown"]


def test_a_worked_solution_is_for_practice_only(said):
    mine = sheet(said)
    mine.open(NAME)
    mine.solution("torque")
    assert "in practice only" in said[-1]


def test_marking_gives_finite_points_from_the_folder_names(said, cohort):
    here = cohort / "autograded" / "wren" / NAME
    mine = sheet(said, here, **{MARKING: str(cohort)})
    variant = trainee_variant(load_family(NAME), SECRET, "wren")
    answers = right_answers(variant)
    mine.open("another-name-changed-by-the-trainee")
    for task, text in answers.items():
        mine.answer(task, text)
    points = [mine.check(task) for task in answers]
    assert points == [variant.family.task(task).marks for task in answers]
    assert all(type(each) is float for each in points)


def test_marking_follows_through_like_the_cohorts_own(said, cohort):
    mine = sheet(said, cohort / "autograded" / "wren" / NAME, **{MARKING: str(cohort)})
    variant = trainee_variant(load_family(NAME), SECRET, "wren")
    answers = {**right_answers(variant), "mean-torque": "20 N m", "torque": "23", "sector": "17", "power": ""}
    answers["power"] = f"{2 * 20 * 2 * math.pi / 60 * variant.case.cadence_rpm:.1f} W"
    mine.open(NAME)
    for task, text in answers.items():
        mine.answer(task, text)
    expected = mark_sheet(variant.family.tasks, variant.family.misconceptions, variant.case, answers)
    for task in answers:
        marks = expected[task].marks
        assert mine.check(task) == (0.0 if marks is None else marks), task
    assert expected["power"].marks == 2.0
    assert any("not gradable" in line for line in said)


def test_another_attempt_is_another_variant(said, cohort):
    mine = sheet(said, cohort / "autograded" / "wren" / NAME, **{MARKING: str(cohort), ATTEMPT: "2"})
    answers = right_answers(trainee_variant(load_family(NAME), SECRET, "wren", 2))
    mine.open(NAME)
    mine.answer("torque", answers["torque"])
    assert mine.check("torque") == 2.0


@pytest.mark.parametrize(
    ("where", "task", "environment"),
    [
        ("autograded/wren/no-such-case", "torque", {}),
        (f"autograded/a|b/{NAME}", "torque", {}),
        (f"autograded/wren/{NAME}", "no-such-task", {}),
        (f"autograded/wren/{NAME}", "torque", {ATTEMPT: "zwei"}),
        (f"autograded/wren/{NAME}", "torque", {MARKING: "/nowhere"}),
        (f"autograded/wren/{NAME}", "torque", {MORE_CASES: "/nowhere"}),
        (f"autograded/wren/{NAME}", "judgement", {}),
        (f"autograded/wren/{NAME}", "torque", {}),
    ],
)
def test_marking_that_goes_wrong_gives_nought_and_a_reason(said, cohort, where, task, environment):
    mine = sheet(said, cohort / where, **{MARKING: str(cohort), **environment})
    mine.open(NAME)
    assert mine.check(task) == 0.0
    assert "not gradable" in said[-1]


def test_marking_without_an_opened_case_gives_nought(said, cohort):
    mine = sheet(said, cohort / "autograded" / "wren" / NAME, **{MARKING: str(cohort)})
    assert mine.check("torque") == 0.0


def test_extension_works_in_a_shell(capsys, monkeypatch):
    monkeypatch.delenv(MARKING, raising=False)
    shell = InteractiveShell()
    assert shell.run_cell(f"%load_ext autograde.sheet\n%case {NAME}").success
    assert shell.run_cell("%%answer torque\n# a number with its unit\n\n23.5 N m\n").success
    assert shell.run_cell('check("torque")').result is None
    assert capsys.readouterr().out.count("Read as: 23.5 N m.") == 2
