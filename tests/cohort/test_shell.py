"""What a shell sees: completion, exit codes, help that teaches, and dry runs that write nothing."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from desk_steps import CASE, ISSUER, PASSPHRASE, RATINGS, by_hand, files, hand_in, mark, run

from autograde.desk.decisions import decide_cohort
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from pedalwright_app.award_commands import PASSPHRASE as VARIABLE
from pedalwright_app.cohort_commands import cohort as cohort_commands
from pedalwright_app.main import main as whole

PROGRAM = "from pedalwright_app.main import main; main(prog_name='pedalwright')"


def every_command(group=cohort_commands, above=("cohort",)):
    for name, command in group.commands.items():
        if isinstance(command, click.Group):
            yield from every_command(command, (*above, name))
        else:
            yield (*above, name), command


COMMANDS = dict(every_command())


@pytest.mark.parametrize("path", COMMANDS, ids=" ".join)
def test_every_command_teaches_with_an_example_of_its_own(path):
    text = COMMANDS[path].help or ""
    examples = [line.strip() for line in text.splitlines() if line.strip().startswith("pedalwright ")]
    assert examples, f"{' '.join(path)} has no example"
    for example in examples:
        words = shlex.split(example)
        assert tuple(words[1 : 1 + len(path)]) == path
        known = {option for param in COMMANDS[path].params for option in (*param.opts, *param.secondary_opts)}
        assert {word.partition("=")[0] for word in words if word.startswith("--")} <= known
    assert len(COMMANDS[path].get_short_help_str(200)) > 20


READ_ONLY = {
    ("cohort", "status"),
    ("cohort", "moderate", "show"),
    ("cohort", "appeal", "show"),
    ("cohort", "keys", "show"),
}


def test_every_writing_command_has_a_dry_run():
    without = {
        path for path, command in COMMANDS.items() if "--dry-run" not in {o for p in command.params for o in p.opts}
    }
    assert without - {("cohort", "rerun")} == READ_ONLY


def shell(*arguments, **environment):
    return subprocess.run(
        [sys.executable, "-c", PROGRAM, *map(str, arguments)],
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
    )


def complete(line):
    words = line.split(" ")
    done = shell(_PEDALWRIGHT_COMPLETE="bash_complete", COMP_WORDS=line, COMP_CWORD=str(len(words) - 1))
    assert done.returncode == 0, done.stderr
    return {row.partition(",")[2] for row in done.stdout.split()}


def test_a_shell_completes_commands_and_options():
    assert {"cohort", "completion", "verify"} <= complete("pedalwright ")
    assert complete("pedalwright cohort mod") == {"moderate"}
    assert complete("pedalwright cohort moderate ") == {"draw", "enter", "agree", "show"}
    assert complete("pedalwright cohort hand-out autumn --next") == {"--next-attempt"}


@pytest.mark.parametrize("name", ["bash", "zsh", "fish"])
def test_the_text_for_the_shell_names_program_and_variable(name):
    done = shell("completion", name)
    assert done.returncode == 0, done.stderr
    assert "_PEDALWRIGHT_COMPLETE" in done.stdout
    assert "pedalwright" in done.stdout


def test_a_real_bash_takes_the_text_and_completes(tmp_path):
    """In a fresh bash the function that the text defines is called as the Tab key would call it."""
    program = tmp_path / "pedalwright"
    program.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -c {shlex.quote(PROGRAM)} "$@"\n')
    program.chmod(0o755)
    script = tmp_path / "completion.bash"
    script.write_text(shell("completion", "bash").stdout)
    function = re.search(r"complete -o nosort -F (\S+) pedalwright", script.read_text())[1]
    lines = [
        f"source {shlex.quote(str(script))}",
        "COMP_WORDS=(pedalwright cohort ap); COMP_CWORD=2",
        f"{function} pedalwright",
        'echo "${COMPREPLY[@]}"',
    ]
    environment = {**os.environ, "PATH": f"{tmp_path}:{os.environ['PATH']}"}
    done = subprocess.run(["bash", "-c", "\n".join(lines)], env=environment, capture_output=True, text=True)
    assert done.stdout.strip() == "appeal", done.stderr


def test_without_a_shell_it_says_where_the_text_goes():
    output = CliRunner().invoke(whole, ["completion"]).output
    assert "~/.bashrc" in output
    assert CliRunner().invoke(whole, ["completion", "csh"]).exit_code == 2


@pytest.fixture
def judged(cohort, monkeypatch):
    monkeypatch.setenv(VARIABLE, PASSPHRASE)
    for who, share in (("wren", 1.0), ("heron", 3.0), ("plover", 3.0)):
        hand_in(cohort, who, share)
    mark(cohort)
    write_first_plan(cohort)
    Places.of(cohort).ratings.write_text(RATINGS)
    for who, marks in (("wren", 2.0), ("heron", 2.0), ("plover", 1.0)):
        by_hand(cohort, who, marks)
    decide_cohort(cohort, sem_marks=0.5)
    return cohort


def test_dry_runs_of_all_later_steps_write_nothing(judged):
    run("cohort", "award", judged.root, *ISSUER)
    run("cohort", "moderate", "draw", judged.root, "--first", "Flint")
    run("cohort", "appeal", "open", judged.root, "plover", "--because", "My text was read as another's.")
    form = judged.root.parent / "form.csv"
    form.write_text("text,point,marks\nt1-01,1,1\nt1-01,2,1\n")
    agreed = judged.root.parent / "agreed.csv"
    agreed.write_text("text,agreed_marks,reason\nt1-01,,\n")
    before = files(judged, gradebook=True)
    words = ("--by", "Marl", "--because", "Long enough a reason.")
    for arguments in (
        ("hand-out", judged.root, "--next-attempt", "--below-standard"),
        ("feedback", judged.root),
        ("report", judged.root),
        ("decide", judged.root),
        ("award", judged.root),
        ("revoke", judged.root, "wren", *words),
        ("settle", judged.root, "heron", "--award", *words),
        ("moderate", "draw", judged.root, "--first", "Flint"),
        ("moderate", "enter", judged.root, form, "--by", "Slate"),
        ("moderate", "agree", judged.root, agreed, "--by", "Flint and Slate"),
        ("appeal", "open", judged.root, "heron", "--because", "Long enough a reason."),
        ("appeal", "close", judged.root, "plover", *words),
        ("keys", "renew", judged.root),
        ("keys", "passphrase", judged.root),
        ("back-up", judged.root, judged.root.parent / "x.zip"),
        ("forget", judged.root, "wren"),
    ):
        assert re.search("[Ww]ould be|Drawn before", run("cohort", *arguments, "--dry-run")), arguments
        assert files(judged, gradebook=True) == before, arguments
    assert not (judged.root.parent / "x.zip").exists()


def test_exit_codes_are_as_the_help_says(judged):
    """0 done; 1 refused or trouble, with one line on what to do; 2 not understood."""
    assert "Exit code" in run("cohort", "--help")
    run("cohort", "status", judged.root, code=0)
    for arguments in (
        ("status", "nowhere"),
        ("hand-out", judged.root, "--next-attempt", "--trainee", "puffin"),
        ("hand-out", judged.root, "--next-attempt", "--trainee", "curlew"),
        ("revoke", judged.root, "puffin", "--by", "Flint", "--because", "Long enough a reason."),
        ("settle", judged.root, "puffin", "--award", "--by", "Flint", "--because", "Long enough a reason."),
        ("appeal", "close", judged.root, "wren", "--by", "Marl", "--because", "Long enough a reason."),
        ("keys", "show", judged.root),
        ("restore", judged.root / "roster.csv", "elsewhere"),
        ("forget", judged.root, "puffin", "--yes"),
    ):
        assert run("cohort", *arguments, code=1).strip(), arguments
    for arguments in (
        ("hand-out", judged.root, "--nonsense"),
        ("moderate", "draw", judged.root),
        ("moderate", "draw", judged.root, "--first", "Flint", "--share", "101"),
        ("settle", judged.root, "heron"),
        ("appeal", "open", judged.root, "heron", "--because", "x", "--on", "yesterday"),
        ("back-up", judged.root),
        ("nonsense",),
    ):
        run("cohort", *arguments, code=2)


def test_two_commands_at_once_do_not_cross(judged):
    with judged.at_work():
        assert "another command is at work" in run("cohort", "decide", judged.root, code=1)


def test_a_question_left_unanswered_ends_in_one_line(judged):
    done = shell("cohort", "forget", judged.root, "wren")
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    assert (judged.root / "release" / "wren" / CASE).is_dir()


def test_long_steps_show_how_far_they_are(judged):
    from pedalwright_app import console

    shown = CliRunner().invoke(cohort_commands, ["report", str(judged.root)]).output
    assert re.search(r"Feedback.*3/3", shown)
    shown = CliRunner().invoke(cohort_commands, ["collect", str(judged.root)]).output
    assert re.search(r"Collecting.*3/3", shown)
    with console.progress("Nothing", 0) as tell:
        tell(0, 0)
    assert Path(judged.report / "index.html").exists()
