import subprocess
import sys

import pytest
from click.testing import CliRunner

from pedalwright_app.filling import fill
from pedalwright_app.main import main

CASE = "crank-drill"


def invoke(*arguments):
    return CliRunner().invoke(main, [str(argument) for argument in arguments])


@pytest.fixture
def own_cases(cohort):
    return cohort.settings.case_folders[0]


def test_a_cohort_goes_from_roster_to_report_by_commands_alone(tmp_path, own_cases):
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\nwren,Wren\nheron,Heron\n")
    root = tmp_path / "spring"
    made = invoke("cohort", "make", root, "--roster", roster, "--case-folder", own_cases, "--case", CASE)
    assert made.exit_code == 0, made.output
    assert f"pedalwright cohort hand-out {root}" in made.output
    assert invoke("cohort", "hand-out", root).exit_code == 0
    notebook = (root / "release" / "wren" / CASE / f"{CASE}.ipynb").read_bytes()
    (root / "inbox" / f"wren__{CASE}.ipynb").write_bytes(fill(notebook, {"torque": "30 N m"}))
    for step in ("collect", "mark", "report", "status"):
        done = invoke("cohort", step, root)
        assert done.exit_code == 0, done.output
        assert "Next" in done.output
    assert (root / "report" / "index.html").is_file()
    assert "1 of 2" in done.output


def test_dry_runs_write_nothing(cohort):
    before = sorted((p, p.stat().st_mtime_ns) for p in cohort.root.rglob("*") if p.is_file())
    roster = cohort.root.parent / "more.csv"
    roster.write_text("id,name\nsnipe,Snipe\n")
    for arguments in (
        ("make", cohort.root, "--roster", roster),
        ("hand-out", cohort.root),
        ("collect", cohort.root),
        ("mark", cohort.root),
        ("report", cohort.root),
    ):
        done = invoke("cohort", *arguments, "--dry-run")
        assert done.exit_code == 0, done.output
        assert "Would be" in done.output
    assert sorted((p, p.stat().st_mtime_ns) for p in cohort.root.rglob("*") if p.is_file()) == before


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("cohort", "make"), 2, "Missing"),
        (("cohort", "nonsense"), 2, "No such command"),
        (("cohort", "mark", "nowhere"), 1, "there is no cohort in nowhere"),
        (("cohort", "make", "new", "--roster", "missing.csv"), 1, "there is no roster"),
    ],
)
def test_an_error_is_one_line_with_its_exit_code(tmp_path, arguments, code, words):
    done = subprocess.run(
        [sys.executable, "-m", "pedalwright_app", *arguments], cwd=tmp_path, capture_output=True, text=True
    )
    assert done.returncode == code
    assert words in done.stderr
    assert "Traceback" not in done.stderr
    if code == 1:
        assert len(done.stderr.strip().splitlines()) == 1


def test_an_unexpected_failure_is_told_without_a_traceback(cohort, monkeypatch):
    from autograde.cohort import handout

    def fail(*_args, **_kwargs):
        raise RuntimeError("something \x1b[31mred")

    monkeypatch.setattr(handout, "hand_out", fail)
    done = invoke("cohort", "hand-out", cohort.root)
    assert done.exit_code == 1
    assert "the program itself failed (RuntimeError" in done.output
    assert "\x1b" not in done.output


def test_every_command_teaches(tmp_path):
    assert "pedalwright demo" in invoke("--help").output
    order = invoke("cohort", "--help").output
    places = [order.index(f"\n  {name} ") for name in ("make", "hand-out", "collect", "mark", "report", "status")]
    assert places == sorted(places)
    for name in ("make", "hand-out", "collect", "mark", "report", "status"):
        text = invoke("cohort", name, "--help").output
        assert len(text.splitlines()) > 6
        assert "nbgrader autograde" not in text


def test_help_comes_without_waiting_for_the_gradebook():
    code = "import sys, pedalwright_app.main; sys.exit(not {'nbgrader', 'matplotlib'}.isdisjoint(sys.modules))"
    assert subprocess.run([sys.executable, "-c", code]).returncode == 0


def test_a_path_with_spaces_is_quoted_in_what_to_do_next(tmp_path, own_cases):
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\nwren,Wren\n")
    done = invoke("cohort", "make", tmp_path / "my cohort", "--roster", roster, "--case-folder", own_cases)
    assert f"hand-out '{tmp_path}/my cohort'" in done.output
