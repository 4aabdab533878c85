"""The pages about running a cohort name only commands, options and figures that exist."""

import csv
import re
import shlex
from collections import defaultdict
from pathlib import Path

import click
import pytest

from autograde.award.outcome import Outcome
from autograde.cases import discover_families
from autograde.marking import State
from pedalwright_app.demo_judging import RATINGS_FILE
from pedalwright_app.main import main

BOOK = Path(__file__).parents[2] / "book"
PAGES = ["workshop", "certification"]


def commands() -> list[str]:
    blocks = [
        block
        for page in PAGES
        for block in re.findall(r"^```sh\n(.*?)^```", (BOOK / f"{page}.md").read_text(encoding="utf8"), re.M | re.S)
    ]
    return sorted(
        {
            line
            for block in blocks
            for line in re.sub(r"\\\n\s*", "", block).splitlines()
            if line.startswith("pedalwright ")
        }
    )


@pytest.mark.parametrize("line", commands())
def test_the_command_is_understood_as_written(line, tmp_path, monkeypatch):
    """Parsed by the command itself, not run; files it names are made first."""
    monkeypatch.chdir(tmp_path)
    command: click.Command = main
    context = click.Context(main)
    words = shlex.split(line)[1:]
    for word in words:
        if "." in word and "//" not in word and "/" not in word and " " not in word:
            Path(word).touch()
    while isinstance(command, click.Group):
        name = words.pop(0)
        found = command.get_command(context, name)
        assert found is not None, name
        command = found
    command.make_context(command.name, words)


def test_every_step_of_the_desk_is_shown():
    shown = {line.split()[2] for line in commands() if line.startswith("pedalwright cohort ")}
    group = main.commands["cohort"]
    assert isinstance(group, click.Group)
    assert shown == set(group.commands)


def test_states_and_outcomes_are_called_as_the_program_calls_them(site):
    states = {row.td.get_text() for row in site.pages["workshop.html"].select("#mark table tbody tr")}
    assert states == {str(state) for state in State}
    outcomes = {row.find_all("td")[1].get_text().split(",")[0].split(":")[0] for row in decision_rows(site)}
    assert outcomes == {"blocked", "outstanding", "not yet", "award", "borderline"}
    assert len(outcomes) == len(Outcome)


def decision_rows(site):
    return site.pages["certification.html"].select("#how-a-decision-is-made > div table tbody tr")


def test_the_cut_of_the_demo_is_the_sum_of_its_ratings(site):
    """By hand from the shipped ratings: share × marks, summed over tasks, mean over raters of the last round."""
    marks = {(name, task.id): task.marks for name, family in discover_families().items() for task in family.tasks}
    cuts: dict[str, float] = defaultdict(float)
    with RATINGS_FILE.open(encoding="utf8", newline="") as lines:
        for row in csv.DictReader(lines):
            if row["round"] == "2":
                cuts[row["rater"]] += marks[row["case"], row["task"]] * float(row["share_pct"]) / 100
    words = site.text("certification.html")
    assert len(cuts) == 3
    assert f"three raters, two rounds, {len(discover_families())} cases with {len(marks)} tasks" in words
    assert f"and {sum(marks.values()):g} marks. The cut is {sum(cuts.values()) / 3:.1f} marks" in words
