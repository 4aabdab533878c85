"""The answer sheet as a form: what its fields say in practice and in certification, and the file it writes."""

import json
import sys
from pathlib import Path

import ipywidgets as widgets
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from autograde.cases import load_family, practice_variant, trainee_variant
from autograde.cohort.handout import HandOutJob, release_notebook
from autograde.cohort.read import read_sheet
from autograde.marking import Choice
from autograde.marking.form import check_form
from autograde.sheet import MARKING, PRACTICE_ONLY, TRY_FIRST, Sheet
from autograde.sheet_form import SheetForm

SECRET = bytes(range(32))
NAME = "saddle-height"


def opened(line, here="/elsewhere"):
    sheet = Sheet({}, Path(here), lambda _: None)
    sheet.open(line)
    return SheetForm(sheet, sheet.family)


@pytest.fixture(scope="module")
def handed_out():
    family = load_family(NAME)
    job = HandOutJob("wren", "Wren", NAME, 1, Path(), SECRET, ())
    return family, trainee_variant(family, SECRET, "wren"), release_notebook(job)[0]


@pytest.fixture
def notebook(handed_out, tmp_path):
    file = tmp_path / f"{NAME}.ipynb"
    file.write_bytes(handed_out[2])
    return file


def test_every_task_has_a_labelled_field_a_hint_and_a_button():
    form = opened(NAME)
    assert list(form.lines) == [task.id for task in form.family.tasks]
    for number, (task, line) in enumerate(zip(form.family.tasks, form.lines.values(), strict=True), 1):
        assert line.field.description == f"{number} {task.title}"
        kind = widgets.Textarea if task.by_hand else widgets.Dropdown if isinstance(task.kind, Choice) else widgets.Text
        assert type(line.field) is kind
        assert line.check.description == "Check"
        assert f"task {number}" in line.check.tooltip
    assert form.lines["flexion"].field.placeholder == "11 deg"
    assert form.lines["change"].field.placeholder == "raise 4 mm"
    assert "with its unit" in form.lines["flexion"].box.children[1].value


def test_certification_says_how_an_answer_is_read_and_nothing_more(handed_out):
    form, flexion = opened(NAME), handed_out[1]
    assert all(PRACTICE_ONLY not in line.told.value for line in form.lines.values())
    line = form.lines["flexion"]
    told = set()
    for text in ("12.5 deg", "137 deg"):
        line.field.value = text
        read = line.told.value.replace(text, "")
        line.check.click()
        assert line.told.value.replace(text, "") == read
        told.add(read)
        assert [button.description for button in line.box.children[2].children] == ["Check"]
    assert "Only the form was checked" in told.pop()
    line.field.value = "plenty"
    assert "cannot be read" in line.told.value
    assert str(flexion.case.included_deg[0]) not in line.told.value


def test_practice_gives_feedback_on_the_button_and_the_solution_after_an_attempt():
    form = opened(f"{NAME} practice 1")
    case = practice_variant(form.family, 1).case
    line = form.lines["flexion"]
    assert line.solution.disabled
    line.field.value = f"{sum(case.included_deg) / 3:.4f} deg"
    assert "Only the form was checked" in line.told.value, "leaving the field is no attempt yet"
    assert line.solution.disabled
    line.solution.click()
    assert line.told.value == f'<div role="status">{TRY_FIRST}</div>'
    line.check.click()
    assert "A known slip. You gave the angle included between thigh and shank" in line.told.value
    assert not line.solution.disabled
    line.solution.click()
    assert "<b>" in line.told.value
    assert "180 −" in line.told.value
    assert not form.lines["judgement"].solution.disabled
    assert len(form.box.children) == len(form.lines), "practice has no file to hand in"


def test_what_is_typed_is_shown_harmless():
    form = opened(f"{NAME} practice 1")
    form.lines["flexion"].field.value = "<img src=x onerror=alert(1)> 12 deg"
    form.lines["flexion"].check.click()
    assert "<img" not in form.lines["flexion"].told.value


def test_answers_of_cells_stand_in_the_form_and_those_of_the_form_count_in_cells():
    sheet = Sheet({}, Path("/elsewhere"), lambda _: None)
    sheet.open(f"{NAME} practice 1")
    sheet.answer("flexion", "43 deg")
    sheet.answer("window", "b")
    sheet.answer("today", "A")
    form = SheetForm(sheet, sheet.family)
    assert form.lines["flexion"].field.value == "43 deg"
    assert form.lines["today"].field.value == "A"
    form.lines["per-10-mm"].field.value = "4 deg"
    assert sheet.answers["per-10-mm"] == "4 deg"


def test_no_form_where_points_are_given():
    sheet = Sheet({MARKING: "/nowhere"}, Path("/nowhere/autograded/wren/saddle-height"), lambda _: None)
    sheet.open(NAME)
    assert sheet.form() is None


def test_the_form_writes_a_file_that_is_collected_and_read(handed_out, notebook):
    family, _, content = handed_out
    form = opened(NAME, notebook.parent)
    typed = {"flexion": "12,5 deg", "window": "C", "judgement": "Slowly.\n\nThen look again."}
    for task, text in typed.items():
        form.lines[task].field.value = text
    form.button.click()
    assert "Written: wren__saddle-height.ipynb, with 3 of 8 answers" in form.told.value
    assert notebook.read_bytes() == content, "the notebook itself is left alone"
    read = read_sheet((notebook.parent / "wren__saddle-height.ipynb").read_bytes(), family.tasks, "wren", NAME)
    assert (read.trouble, dict(read.problems), read.notices) == ("", {}, ())
    assert {task: text for task, text in read.answers.items() if text} == typed


def test_saved_cells_are_kept_where_the_form_is_empty(notebook, handed_out):
    content = json.loads(notebook.read_bytes())
    for cell in content["cells"]:
        if cell["id"] in {"answer-flexion", "answer-change"}:
            cell["source"] = [line + "\n" for line in [*cell["source"].splitlines(), "raise 8 mm"]]
    notebook.write_text(json.dumps(content))
    form = opened(NAME, notebook.parent)
    form.lines["flexion"].field.value = "43 deg"
    form.button.click()
    assert "From the saved cells of the notebook it took: change." in form.told.value
    read = read_sheet((notebook.parent / "wren__saddle-height.ipynb").read_bytes(), handed_out[0].tasks, "wren", NAME)
    assert (read.answers["flexion"], read.answers["change"]) == ("43 deg", "raise 8 mm")


def spoil(content, how):
    notebook = json.loads(content)
    label = notebook["metadata"]["pedalwright"]
    if how == "no label":
        del notebook["metadata"]["pedalwright"]
    elif how == "another case":
        label["case"] = "joint-action"
    elif how == "a name that leaves the folder":
        label["trainee"] = "../wren"
    elif how == "no cells":
        notebook["cells"] = "none"
    elif how == "an answer cell lost":
        notebook["cells"] = [cell for cell in notebook["cells"] if cell["id"] != "answer-flexion"]
    return json.dumps(notebook)


@pytest.mark.parametrize(
    "how", ["no label", "another case", "a name that leaves the folder", "no cells", "an answer cell lost"]
)
def test_a_notebook_that_is_not_as_handed_out_is_told(how, notebook):
    notebook.write_text(spoil(notebook.read_bytes(), how))
    form = opened(NAME, notebook.parent)
    form.lines["flexion"].field.value = "43 deg"
    form.button.click()
    assert "Nothing was written" in form.told.value
    assert "type your answers into the cells" in form.told.value
    assert [file.name for file in notebook.parent.iterdir()] == [notebook.name]


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff\xfe", b"{" * 3000])
def test_a_broken_or_missing_notebook_is_told(content, tmp_path):
    form = opened(NAME, tmp_path)
    form.button.click()
    assert "cannot be read" in form.told.value
    (tmp_path / f"{NAME}.ipynb").write_bytes(content)
    form.button.click()
    assert "not the notebook as it was handed out" in form.told.value


def test_a_notebook_whose_cells_lost_their_labels_is_filled_by_the_answer_line(notebook, handed_out):
    content = json.loads(notebook.read_bytes())
    for cell in content["cells"]:
        cell["metadata"] = {}
    notebook.write_text(json.dumps(content))
    form = opened(NAME, notebook.parent)
    form.lines["flexion"].field.value = "43 deg"
    form.button.click()
    read = read_sheet((notebook.parent / f"wren__{NAME}.ipynb").read_bytes(), handed_out[0].tasks, "wren", NAME)
    assert read.answers["flexion"] == "43 deg"


def test_the_folder_may_be_write_protected(notebook, monkeypatch):
    def refuse(*_args, **_more):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("tempfile.NamedTemporaryFile", refuse)
    form = opened(NAME, notebook.parent)
    form.lines["flexion"].field.value = "43 deg"
    form.button.click()
    assert "cannot be written (Permission denied)" in form.told.value


def test_writing_again_replaces_the_file(notebook, handed_out):
    form = opened(NAME, notebook.parent)
    for text in ("43 deg", "44 deg"):
        form.lines["flexion"].field.value = text
        form.button.click()
    read = read_sheet((notebook.parent / f"wren__{NAME}.ipynb").read_bytes(), handed_out[0].tasks, "wren", NAME)
    assert read.answers["flexion"] == "44 deg"
    assert len(list(notebook.parent.iterdir())) == 2


@given(text=st.text(max_size=200), task=st.sampled_from(["flexion", "change", "window", "judgement"]))
@settings(max_examples=150, deadline=None)
def test_whatever_is_typed_certification_says_no_more_than_how_it_is_read(text, task):
    """Any text in field or cell: no error, no verdict, and the same words that the form check gives."""
    sheet = CERTIFICATION
    asked = sheet.family.task(task)
    said = sheet.take(asked, text, full=True)
    assert said == check_form(asked, sheet.answers[task]).message
    assert "Right." not in said
    assert sheet.solution_of(asked) == PRACTICE_ONLY


@given(text=st.text(max_size=200), task=st.sampled_from(["flexion", "change", "window", "today"]))
@settings(max_examples=150, deadline=None)
def test_whatever_is_typed_practice_answers_without_an_error(text, task):
    asked = PRACTICE.family.task(task)
    said = PRACTICE.take(asked, text, full=True)
    read = check_form(asked, PRACTICE.answers[task]).readable
    assert ("marks." in said) == read
    assert "could not be marked" not in said


def quiet(line):
    sheet = Sheet({}, Path("/elsewhere"), lambda _: None)
    sheet.open(line)
    return sheet


CERTIFICATION, PRACTICE = quiet(NAME), quiet(f"{NAME} practice 1")


def test_without_the_library_of_forms_the_cells_do(monkeypatch):
    monkeypatch.setitem(sys.modules, "autograde.sheet_form", None)
    said = []
    sheet = Sheet({}, Path("/elsewhere"), said.append)
    assert sheet.form() is None
    sheet.open(NAME)
    assert sheet.form() is None
    assert "Type your answers into the cells" in said[-1]


def test_the_magic_shows_the_form():
    said = []
    sheet = Sheet({}, Path("/elsewhere"), said.append)
    sheet.open(NAME)
    assert isinstance(sheet.form(), widgets.VBox)
    assert "type your answers into the cells instead" in said[-1]
