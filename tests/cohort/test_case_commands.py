"""The commands on case studies: what is written passes its own check, and every mark is explained."""

import json
import math
import subprocess
import sys

import pytest
from click.testing import CliRunner
from IPython.core.interactiveshell import InteractiveShell

from autograde.cases import discover_families, load_family, practice_variant, trainee_variant
from autograde.cases.writing import as_typed
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.folder import open_cohort
from autograde.cohort.read import read_sheet
from autograde.marking.solving import key_values, predict
from autograde.sheet import MARKING
from pedalwright_app.case_explain import SEALED
from pedalwright_app.case_template import FILES
from pedalwright_app.filling import fill, without_answer_cell
from pedalwright_app.main import main

CASE = "crank-drill"


def invoke(*arguments, **more):
    return CliRunner().invoke(main, [str(argument) for argument in arguments], **more)


def told_apart(result):
    """Standard error, which is told apart from standard output since click 8.2."""
    return getattr(result, "stderr", "") or result.output


@pytest.fixture
def cases(tmp_path):
    made = invoke("case", "new", "pedal-way", "--folder", tmp_path / "cases")
    assert made.exit_code == 0, made.output
    return tmp_path / "cases"


def test_a_new_case_passes_its_check_and_can_be_handed_out(cases, tmp_path):
    assert sorted(file.name for file in (cases / "pedal-way").iterdir()) == sorted(FILES)
    checked = invoke("case", "check", cases / "pedal-way", "--seeds", "12")
    assert checked.exit_code == 0, checked.output
    assert "each slip is recognised as itself" in checked.output
    assert "practice pedal-way --case-folder" in checked.output
    (tmp_path / "roster.csv").write_text("id,name\nwren,Wren\n")
    root = tmp_path / "spring"
    roster = ("--roster", tmp_path / "roster.csv", "--case-folder", cases, "--case", "pedal-way")
    assert invoke("cohort", "make", root, *roster).exit_code == 0
    assert invoke("cohort", "hand-out", root).exit_code == 0
    released = (root / "release" / "wren" / "pedal-way" / "pedal-way.ipynb").read_text()
    assert "CHANGE" not in released
    assert "{{" not in released
    assert "{#" not in released


def test_a_new_case_is_in_the_style_of_the_project(cases):
    """Formatted and without a fault that the linter knows, so that an author begins with clean files."""
    for step in (["format", "--check"], ["check", "--ignore", "D"]):
        linter = [sys.executable, "-m", "ruff", *step, "--line-length", "120", str(cases / "pedal-way")]
        run = subprocess.run([*linter, "--no-cache"], capture_output=True, text=True)
        assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize(
    ("name", "says"),
    [("Pedal Way", "use lower case"), ("../way", "use lower case"), ("saddle-height", "choose another name")],
)
def test_names_that_cannot_be_are_refused(tmp_path, name, says):
    made = invoke("case", "new", name, "--folder", tmp_path)
    assert made.exit_code == 1
    assert says in told_apart(made)
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_overwritten(cases):
    file = cases / "pedal-way" / "case.py"
    file.write_text("mine")
    again = invoke("case", "new", "pedal-way", "--folder", cases)
    assert again.exit_code == 1
    assert "nothing is overwritten" in told_apart(again)
    assert file.read_text() == "mine"


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("way_m(case) / 2,", "way_m(case) / 2.0001,", None),
        ("case.crank_mm / 1000\n", "case.crank / 1000\n", "case.py, line "),
        ("import math\n", "import maths\n", "case.py, line 7: running it failed"),
        ('"way": f"2', '"wya": f"2', "`worked` has a solution for 'wya'"),
    ],
)
def test_a_fault_ends_with_code_1_the_file_and_no_traceback(cases, old, new, says):
    file = cases / "pedal-way" / "case.py"
    assert old in file.read_text()
    file.write_text(file.read_text().replace(old, new, 1))
    checked = invoke("case", "check", "pedal-way", "--case-folder", cases, "--seeds", "6")
    assert checked.exit_code == (1 if says else 0), checked.output
    if says:
        assert says in told_apart(checked)
        assert str(cases / "pedal-way") in told_apart(checked)
    assert "Traceback" not in checked.output


def test_a_folder_and_a_case_folder_are_not_named_together(cases):
    checked = invoke("case", "check", cases / "pedal-way", "--case-folder", cases)
    assert checked.exit_code == 1
    assert "leave --case-folder out" in told_apart(checked)


def test_the_list_names_every_case_with_what_it_shows(cases):
    listed = invoke("case", "list", "--case-folder", cases)
    assert listed.exit_code == 0, listed.output
    for name, family in discover_families([cases]).items():
        assert name in listed.output
        assert "; ".join(family.competencies) in listed.output


def practice(cases, name, *options):
    written = invoke("case", "practice", name, "--to", cases.parent / "nb", *options)
    assert written.exit_code == 0, written.output
    return cases.parent / "nb" / f"{name}-practice-1.ipynb"


def test_a_practice_notebook_marks_itself_and_cannot_be_handed_in(cases, monkeypatch, capsys):
    """Its code cells run in a shell as in Jupyter: feedback at once, a worked solution after an attempt."""
    monkeypatch.delenv(MARKING, raising=False)
    monkeypatch.setattr("IPython.display.display", lambda data, raw: print(data["text/plain"]))
    file = practice(cases, "saddle-height")
    notebook = json.loads(file.read_bytes())
    family = load_family("saddle-height")
    key = key_values(family.tasks, practice_variant(family, 1).case)
    cells = {cell["id"]: cell for cell in notebook["cells"]}
    assert all("nbgrader" not in cell["metadata"] for cell in notebook["cells"])
    shell = InteractiveShell()
    shell.run_cell(cells["switch-on"]["source"])
    shell.run_cell(cells["solution-flexion"]["source"])
    assert "Try first" in capsys.readouterr().out
    shell.run_cell(cells["answer-flexion"]["source"] + f"{key['flexion']:.4g} deg\n")
    assert "Right. 2 of 2 marks" in capsys.readouterr().out
    shell.run_cell(cells["solution-flexion"]["source"])
    assert "180 −" in capsys.readouterr().out
    sheet = read_sheet(file.read_bytes(), family.tasks, "wren", "saddle-height")
    assert "handed out to somebody else" in sheet.trouble
    again = invoke("case", "practice", "saddle-height", "--to", file.parent)
    assert again.exit_code == 1
    assert "is there already" in told_apart(again)


def test_a_practice_notebook_of_an_own_case_says_how_to_open_it(cases):
    written = invoke("case", "practice", "pedal-way", "--case-folder", cases, "--to", cases.parent / "nb")
    assert f"export PEDALWRIGHT_CASES={cases}" in written.output


def test_a_case_without_worked_solutions_is_not_for_practice(cohort):
    refused = invoke("case", "practice", CASE, "--case-folder", cohort.settings.case_folders[0])
    assert refused.exit_code == 1
    assert "for certification only" in told_apart(refused)


@pytest.fixture
def handed_in(cohort):
    """A wren that left the crank in centimetres, reckoned on from there, and lost an answer cell."""
    family = load_case(CASE, cohort.settings.case_folders)
    case = trainee_variant(family, cohort.secret, "wren").case
    torque = case.force_n * case.crank_mm / 10
    power = torque * case.cadence_rpm * 2 * math.pi / 60
    typed = {
        "torque": f"{case.force_n:g} * {case.crank_mm:g} / 10 Nm",
        "power": f"{power / 1000:.4f} kW",
        "advice": "\x1b[31mGo to a physician.",
    }
    notebook = fill(cohort.notebook("release", "wren", CASE).read_bytes(), typed)
    (cohort.inbox / f"wren__{CASE}.ipynb").write_bytes(without_answer_cell(notebook, "other-leg"))
    collect(cohort)
    invoke("cohort", "mark", cohort.root)
    return open_cohort(cohort.root), case, torque, power


def test_every_mark_is_explained_by_what_led_to_it(handed_in):
    cohort, case, torque, power = handed_in
    told = json.loads(invoke("case", "explain", cohort.root, "wren", "--json").output)
    assert told["note"] == SEALED
    assert told["record"] == "the same as on record"
    by_task = {entry["task"]: entry for entry in told["tasks"]}
    first = by_task["torque"]
    assert first["written"] == {
        "number": f"{case.force_n:g} * {case.crank_mm:g} / 10",
        "comes_to": pytest.approx(torque),
        "unit": "Nm",
    }
    assert first["right"] == pytest.approx(case.force_n * case.crank_mm / 1000)
    assert first["tolerance"] == {
        "half_width": pytest.approx(0.02 * case.force_n * case.crank_mm / 1000),
        "absolute": 0.0,
        "relative": 0.02,
        "because": "the pedal repeats to 2 %",
    }
    right, _, slip = first["compared"]
    # a hundred times too large: 99 times the value away, in bands of 2 % of it
    assert (right["against"], right["fits"], right["bands"]) == ("right value", False, pytest.approx(99 / 0.02))
    assert (slip["slip"], slip["fits"]) == ("metres-forgotten", True)
    assert (first["state"], first["marks"], first["page"]) == ("recognised misconception", 0.0, "conventions")
    assert first["rule"].startswith("a recognised misconception earns the share it states, here 0 %")
    second = by_task["power"]
    (used,) = second["builds_on"]
    assert (used["task"], used["value"], used["right"]) == ("torque", pytest.approx(torque), False)
    assert second["follows"] == pytest.approx(power)
    assert (second["state"], second["marks"]) == ("correct in consequence", 3.0)
    lost = by_task["other-leg"]
    assert (lost["state"], lost["marks"], lost["typed"]) == ("not gradable", None, None)
    assert "its answer cell was deleted" in lost["reason"]
    assert by_task["advice"]["stands"]["state"] == "for a person to mark"


def test_the_reasons_are_plain_text_and_always_the_same(handed_in):
    cohort, _, torque, _ = handed_in
    shown = invoke("case", "explain", cohort.root, "wren", CASE)
    assert shown.exit_code == 0, shown.output
    assert shown.output.startswith(SEALED)
    assert shown.output == invoke("case", "explain", cohort.root, "wren", CASE).output
    for words in ("Compared with", "builds on", "the trainee's own answer", "because the pedal repeats to 2 %", "fits"):
        assert words in shown.output
    assert f"{torque:.4g}" in shown.output
    assert "\x1b[31m" not in shown.output
    only = invoke("case", "explain", cohort.root, "wren", CASE, "--task", "power").output
    assert "(power)" in only
    assert "(advice)" not in only


def test_explaining_writes_nothing(handed_in):
    cohort = handed_in[0]
    before = sorted((p, p.stat().st_mtime_ns) for p in cohort.root.rglob("*") if p.is_file())
    invoke("case", "explain", cohort.root, "wren")
    assert sorted((p, p.stat().st_mtime_ns) for p in cohort.root.rglob("*") if p.is_file()) == before


def test_a_sheet_that_cannot_be_read_is_explained_too(cohort):
    (cohort.inbox / f"heron__{CASE}.ipynb").write_bytes(cohort.notebook("release", "heron", CASE).read_bytes()[:900])
    collect(cohort)
    shown = invoke("case", "explain", cohort.root, "heron")
    assert shown.exit_code == 0, shown.output
    assert "not marked yet" in shown.output
    assert "not a complete notebook" in shown.output
    assert shown.output.count("not gradable") == 4


@pytest.fixture(scope="module")
def slipping(tmp_path_factory):
    """A wren that makes in every task of every case the first slip that applies, reckoned from right values."""
    root = tmp_path_factory.mktemp("all") / "spring"
    (root.parent / "roster.csv").write_text("id,name\nwren,Wren\n")
    assert invoke("cohort", "make", root, "--roster", root.parent / "roster.csv").exit_code == 0
    assert invoke("cohort", "hand-out", root).exit_code == 0
    cohort, slips = open_cohort(root), {}
    for name, family in discover_families().items():
        case = trainee_variant(family, cohort.secret, "wren").case
        key, typed = key_values(family.tasks, case), {}
        for slip in family.misconceptions:
            task = family.task(slip.task)
            value = predict(slip, task, case, key)
            if slip.task not in typed and value is not None:
                typed[slip.task] = as_typed(task, value)
                slips[name, slip.task] = slip.id
        notebook = fill(cohort.notebook("release", "wren", name).read_bytes(), typed)
        (cohort.inbox / f"wren__{name}.ipynb").write_bytes(notebook)
    collect(cohort)
    return cohort, slips


@pytest.mark.parametrize("name", discover_families())
def test_every_kind_of_answer_of_every_case_is_explained(slipping, name):
    cohort, slips = slipping
    shown = invoke("case", "explain", cohort.root, "wren", name)
    assert shown.exit_code == 0, shown.output
    told = json.loads(invoke("case", "explain", cohort.root, "wren", name, "--json").output)
    for entry in told["tasks"]:
        if entry["by_hand"] or (name, entry["task"]) not in slips:  # no slip leads anywhere here for this rider
            continue
        fits = [each for each in entry["compared"] if each["fits"]]
        assert slips[name, entry["task"]] in {each["slip"] for each in fits} or fits[0]["against"] in {
            "right value",
            "follows from own earlier answers",
        }, entry["task"]
        assert entry["state"] != "out of tolerance"
        assert entry["shown"]["right"]
        assert f"({entry['task']})" in shown.output
        assert entry["feedback"].split()[0] in shown.output


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("snipe",), "there is no trainee 'snipe'"),
        (("heron",), "nothing was collected from heron"),
        (("wren", "saddle-height"), "is no case of this cohort; its cases: crank-drill"),
        (("wren", CASE, "--task", "torqe"), "its tasks are: torque, power"),
    ],
)
def test_what_cannot_be_explained_is_told(handed_in, arguments, says):
    refused = invoke("case", "explain", handed_in[0].root, *arguments)
    assert refused.exit_code == 1
    assert says in told_apart(refused)
