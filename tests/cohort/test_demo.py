"""The demonstration comes out as declared, and the same every time."""

import json
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from autograde.award.outcome import Outcome
from autograde.award.record_check import check_record
from autograde.cohort.folder import open_cohort
from autograde.cohort.marking import marked
from autograde.cohort.standing import standing
from autograde.cohort.statistics import misconception_counts
from autograde.desk.decisions import decide_cohort
from autograde.marking import State
from pedalwright_app.demo_birds import BIRDS, CASE, PLANTED
from pedalwright_app.demo_generator import TYPED, generate
from pedalwright_app.demo_judging import MARKS_FILE, RATINGS_FILE, marks_text, ratings_text


def run(where: Path, *arguments: str) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "pedalwright_app", *arguments],
        cwd=where,
        env={**os.environ, "COLUMNS": "100"},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "Traceback" not in done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    where = tmp_path_factory.mktemp("anywhere")
    return where, run(where, "demo")


def results_of(cohort):
    return {bird: {item["task"]: item for item in record["results"]} for (bird, _), record in marked(cohort).items()}


def test_the_shipped_answers_are_those_of_the_declared_model():
    shipped = {path.name: path.read_text(encoding="utf-8") for path in TYPED.glob("*.toml")}
    assert shipped == generate(), "run: python -m pedalwright_app.demo_generator"


def test_the_shipped_marks_and_ratings_are_those_of_the_declared_instructors():
    shipped = MARKS_FILE.read_text(encoding="utf-8"), RATINGS_FILE.read_text(encoding="utf-8")
    assert shipped == (marks_text(), ratings_text()), "run: python -m pedalwright_app.demo_judging"


def test_the_demonstration_ends_in_an_award_that_verifies(demo):
    where, output = demo
    command = re.search(r"pedalwright (verify .*)", output)[1].split()
    assert re.search(r"an award +(\S+certificate\.pdf)", output)[1] == command[1]
    said = run(where, *command)
    assert "Verified" in said
    assert "An invented demonstration" in said
    assert check_record(where / "demo" / "records" / "decisions.jsonl").whole


def test_the_demonstrations_decisions_follow_from_marks_and_standard(demo):
    """The cut, worked by hand: the raters' sums in the second round are 9.35, 10.35 and 11.35 marks; mean 10.35."""
    where, _ = demo
    decisions = decide_cohort(open_cohort(where / "demo"), dry_run=True)
    assert decisions.standard.standard.cut_marks == 10.35
    low, high = decisions.standard.standard.band_marks
    for one in decisions.all:
        decision = one.decision
        assert one.entry is not None
        if decision.outstanding:
            assert decision.outcome is Outcome.OUTSTANDING
        elif decision.outcome is Outcome.AWARD:
            assert decision.total_marks >= high
        elif decision.outcome is Outcome.BORDERLINE:
            assert low <= decision.total_marks < high
        else:
            assert decision.total_marks < low or any(part.met is False for part in decision.competencies)
    assert {Outcome.AWARD, Outcome.BORDERLINE, Outcome.NOT_YET, Outcome.OUTSTANDING} == set(outcomes_of(decisions))


def outcomes_of(decisions):
    return [one.decision.outcome for one in decisions.all]


def test_the_demonstration_ends_in_paths_that_exist(demo):
    where, output = demo
    assert "demo/report/index.html" in output
    for name in ("report/index.html", "report/marks.csv", f"feedback/wren/{CASE}/{CASE}.html"):
        assert (where / "demo" / name).is_file()


def test_the_planted_misconception_is_named_as_the_most_frequent(demo):
    where, output = demo
    cohort = open_cohort(where / "demo")
    counts = misconception_counts(standing(cohort))
    assert counts[0].id == PLANTED
    assert len(counts[0].trainees) > len(counts[1].trainees)
    page = BeautifulSoup((cohort.report / "index.html").read_text(), "html.parser")
    headline = page.select_one(".headline").get_text(" ", strip=True)
    assert headline.startswith("Most frequent misconception: took the down force for the useful part")
    assert "took the down force for the useful part" in output


def test_every_state_occurs_and_every_mishap_ends_where_it_should(demo):
    where, _ = demo
    results = results_of(open_cohort(where / "demo"))
    seen = {item["state"] for sheet in results.values() for item in sheet.values()}
    assert seen == set(State)
    assert len(BIRDS) == 24
    mishaps = {tomllib.loads(path.read_text())["mishap"]: path.stem for path in TYPED.glob("*.toml")}

    def states(mishap):
        return {task: item["state"] for task, item in results[mishaps[mishap]].items()}

    gone = State.NOT_GRADABLE
    assert set(states("cut off").values()) == set(states("empty sheet").values()) == {gone}
    assert states("deleted answer cell: mean-torque")["mean-torque"] == gone
    assert states("text for a number")["torque"] == states("nan")["effectiveness"] == gone
    assert gone in states("half filled").values()
    assert {State.CORRECT, State.MISCONCEPTION} & set(states("half filled").values())
    for mishap in ("other units", "decimal comma"):
        typed = tomllib.loads((TYPED / f"{mishaps[mishap]}.toml").read_text())[CASE]
        assert all(results[mishaps[mishap]][task]["state"] != gone for task in typed if task != "judgement")
    assert mishaps["not handed in"] not in results


def test_a_second_run_in_the_same_folder_doubles_nothing(demo):
    where, _ = demo
    cohort = open_cohort(where / "demo")
    before = results_of(cohort)
    lines = {
        name: len(cohort.record(name).read_text().splitlines())
        for name in ("handed_out", "collected", "marks", "refused", "decisions")
    }
    awards = {path: path.read_bytes() for path in (where / "demo" / "awards").glob("*/*")}
    output = run(where, "demo")
    assert "found from an earlier run" in output
    assert results_of(cohort) == before
    for name, count in lines.items():
        assert len(cohort.record(name).read_text().splitlines()) == count
    assert {path: path.read_bytes() for path in (where / "demo" / "awards").glob("*/*")} == awards
    assert "(0 new)" in output


def test_a_run_elsewhere_gives_the_same_marks_and_decisions(demo, tmp_path):
    where, _ = demo
    run(tmp_path, "demo", "another folder")
    here, there = open_cohort(where / "demo"), open_cohort(tmp_path / "another folder")
    assert results_of(there) == results_of(here)
    bodies = [[one.decision.public() for one in decide_cohort(cohort, dry_run=True).all] for cohort in (here, there)]
    assert bodies[0] == bodies[1]


def test_the_demonstration_leaves_a_real_cohort_alone(cohort):
    from click.testing import CliRunner

    from pedalwright_app.main import main

    secret = (cohort.root / "secret.key").read_bytes()
    outcome = CliRunner().invoke(main, ["demo", str(cohort.root)])
    assert outcome.exit_code == 1
    assert "not the demonstration" in outcome.output
    assert (cohort.root / "secret.key").read_bytes() == secret


def test_no_handed_out_notebook_of_the_demonstration_holds_a_solution(demo):
    from autograde.cases import load_family, trainee_variant
    from autograde.cases.variants import seed_of

    where, _ = demo
    cohort = open_cohort(where / "demo")
    family = load_family(CASE)
    for bird in BIRDS:
        text = cohort.notebook("release", bird.id, CASE).read_text()
        variant = trainee_variant(family, cohort.secret, bird.id)
        prose = "".join(cell["source"] for cell in json.loads(text)["cells"])
        for hidden in (cohort.secret.hex(), seed_of(cohort.secret, bird.id, CASE).hex(), variant.fingerprint):
            assert hidden not in text
        for solution in family.worked(variant.case).values():
            assert solution not in prose
        for item in family.misconceptions:
            assert item.label not in prose
