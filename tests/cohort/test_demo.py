"""The demonstration comes out as declared, and the same every time."""

import json
import os
import re
import subprocess
import sys
import tomllib
from collections import Counter
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from autograde.award.outcome import Outcome
from autograde.award.ratings import read_ratings
from autograde.award.record_check import check_record
from autograde.cases import discover_families
from autograde.cohort.folder import open_cohort
from autograde.cohort.marking import marked
from autograde.cohort.standing import standing
from autograde.cohort.statistics import misconception_counts
from autograde.desk.decisions import decide_cohort
from autograde.desk.moderation import compare
from autograde.desk.table import mark_table
from autograde.marking import State
from pedalwright_app.demo_birds import BIRDS, PLANTED, PLANTED_IN
from pedalwright_app.demo_figures import FIGURES_FILE, figures_of
from pedalwright_app.demo_generator import generate, mishaps
from pedalwright_app.demo_judging import MARKS_FILE, RATINGS_FILE, judged, marks_text, ratings_text
from pedalwright_app.demo_model import BELIEVERS
from pedalwright_app.demo_sheets import TYPED, sheet_of

pytestmark = pytest.mark.xdist_group("demo")
RENEW = "run: python -m pedalwright_app.demo_renew"
BY_ID = {bird.id: bird for bird in BIRDS}


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


@pytest.fixture(scope="module")
def cohort_of_all(demo):
    return open_cohort(demo[0] / "demo")


@pytest.fixture(scope="module")
def alone(tmp_path_factory):
    where = tmp_path_factory.mktemp("elsewhere")
    return where, run(where, "demo", "another folder", "--case", PLANTED_IN)


def results_of(cohort, case):
    return {
        bird: {item["task"]: item for item in record["results"]}
        for (bird, name), record in marked(cohort).items()
        if name == case
    }


def test_the_shipped_answers_are_those_of_the_declared_model():
    shipped = {path.name: path.read_text(encoding="utf-8") for path in TYPED.glob("*.toml")}
    assert shipped == generate(), RENEW


def test_the_shipped_marks_and_ratings_are_those_of_the_declared_instructors():
    shipped = MARKS_FILE.read_text(encoding="utf-8"), RATINGS_FILE.read_text(encoding="utf-8")
    assert shipped == (marks_text(), ratings_text()), RENEW


def test_the_figures_that_the_book_quotes_are_those_that_come_out(cohort_of_all, alone):
    shipped = tomllib.loads(FIGURES_FILE.read_text(encoding="utf-8"))
    one = open_cohort(alone[0] / "another folder")
    assert shipped == {"all": figures_of(cohort_of_all), "one": figures_of(one)}, RENEW


def test_every_bird_has_a_notebook_of_every_case(cohort_of_all):
    assert len(BIRDS) == 24
    assert set(cohort_of_all.settings.cases) == set(discover_families())
    for bird in BIRDS:
        for case in discover_families():
            assert cohort_of_all.notebook("release", bird.id, case).is_file()


def test_the_demonstration_ends_in_an_award_that_verifies(demo):
    where, output = demo
    command = re.search(r"pedalwright (verify .*)", output)[1].split()
    assert re.search(r"an award +(\S+certificate\.pdf)", output)[1] == command[1]
    said = run(where, *command)
    assert "Verified" in said
    count = len([*(where / "demo" / "awards").glob("*/certificate.pdf")])
    assert f"{count} of {count} certificates, from their files alone" in output
    assert "An invented demonstration" in said
    assert check_record(where / "demo" / "records" / "decisions.jsonl").whole


def test_decisions_follow_from_marks_and_standard(cohort_of_all):
    """The cut worked again from the raters' file: sum of share times marks, mean over the raters of the last round."""
    decisions = decide_cohort(cohort_of_all, dry_run=True)
    table = mark_table(standing(cohort_of_all), decisions.blueprint)
    last = read_ratings(RATINGS_FILE.read_text(encoding="utf-8"), table.items)[-1]
    sums = [
        sum(share * item.max_marks for share, item in zip(row, table.items, strict=True)) / 100
        for row in last.share_pct.tolist()
    ]
    assert decisions.standard.standard.cut_marks == pytest.approx(sum(sums) / len(sums), abs=0.005)
    low, high = decisions.standard.standard.band_marks
    for one in decisions.all:
        decision = one.decision
        assert one.entry is not None
        if any(gate.passed is False for gate in decision.gates):
            assert decision.outcome is Outcome.BLOCKED
        elif decision.outstanding:
            assert decision.outcome is Outcome.OUTSTANDING
        elif decision.outcome is Outcome.AWARD:
            assert decision.total_marks >= high
        elif decision.outcome is Outcome.BORDERLINE:
            assert low <= decision.total_marks < high
        else:
            assert decision.total_marks < low or any(part.met is False for part in decision.competencies)
    assert {Outcome.AWARD, Outcome.NOT_YET, Outcome.OUTSTANDING} <= {one.decision.outcome for one in decisions.all}


def test_nobody_is_awarded_with_nothing_in_a_competency(cohort_of_all, alone):
    for cohort in (cohort_of_all, open_cohort(alone[0] / "another folder")):
        decisions = decide_cohort(cohort, dry_run=True)
        awarded = [one.decision for one in decisions.all if one.decision.outcome is Outcome.AWARD]
        assert awarded
        assert all(part.marks > 0 for decision in awarded for part in decision.competencies)


def test_the_second_reading_changes_the_agreed_marks_and_no_other(cohort_of_all):
    """Flint's marks stand wherever Slate did not read, or the two differ by half a mark or less."""
    read = {(one.piece.trainee, one.piece.case, one.piece.task): one for one in compare(cohort_of_all)}
    stand = standing(cohort_of_all)
    changed = 0
    assert 20 <= len(read) < len(judged())
    for place, given in judged().items():
        outcome = next(item for item in stand.sheets[place[:2]].outcomes if item.task.id == place[2])
        apart = place in read and abs(given.first - sum(given.second)) > 0.5
        assert outcome.marks == (given.agreed if apart else given.first), place
        changed += outcome.marks != given.first
    assert changed > 0


def test_the_two_readers_disagree_believably_and_are_no_copies():
    texts = [one for one in judged().values() if one.second]
    gaps = [one.first - sum(one.second) for one in texts]
    assert len(texts) > 200
    assert 0.05 < sum(abs(gap) > 0.5 for gap in gaps) / len(gaps) < 0.5
    assert sum(gaps) > 0  # Slate is declared the stricter one


def test_the_planted_misconception_is_named_as_the_most_frequent(demo, cohort_of_all):
    _, output = demo
    counts = misconception_counts(standing(cohort_of_all))
    assert counts[0].id == PLANTED
    assert BELIEVERS / 2 < len(counts[0].trainees) > len(counts[1].trainees)
    page = BeautifulSoup((cohort_of_all.report / "index.html").read_text(), "html.parser")
    headline = page.select_one(".headline").get_text(" ", strip=True)
    assert headline.startswith("Most frequent misconception: took the down force for the useful part")
    assert "took the down force for the useful part" in output


def test_every_state_and_every_kind_of_answer_occurs(cohort_of_all):
    records = [item for record in marked(cohort_of_all).values() for item in record["results"]]
    assert {item["state"] for item in records} == set(State)
    wrong = Counter(item["misconception"] for item in records if item["state"] == State.MISCONCEPTION)
    assert len(wrong) > 40  # many slips, not one
    read = [item for item in records if item["state"] != State.NOT_GRADABLE]
    assert 0.5 < sum(item["state"] in (State.CORRECT, State.IN_CONSEQUENCE) for item in read) / len(read) < 0.9


def test_mishaps_are_spread_over_the_cases_and_end_where_they_should(cohort_of_all):
    hit = {bird.mishap: (bird.id, mishaps()[bird.id]) for bird in BIRDS if bird.mishap}
    assert len(set(mishaps().values())) == len(mishaps())  # no case is hit twice

    def result(mishap):
        bird, case = hit[mishap]
        return results_of(cohort_of_all, case).get(bird), sheet_of(bird, case)

    gone = State.NOT_GRADABLE
    for mishap in ("cut off", "empty sheet"):
        assert {item["state"] for item in result(mishap)[0].values()} == {gone}
    assert result("not handed in")[0] is None
    found, sheet = result("deleted answer cell")
    assert found[sheet.deleted]["state"] == gone
    for mishap, typed in (("nan", "nan"), ("text for a number", "quite a lot, about as usual")):
        found, sheet = result(mishap)
        assert {found[task]["state"] for task, text in sheet.typed.items() if text == typed} == {gone}
    found, sheet = result("half filled")
    half = len(found) // 2
    assert all(item["state"] == gone for item in list(found.values())[half:])
    assert any(item["state"] != gone for item in list(found.values())[:half])


@pytest.mark.parametrize("habit", ["other units", "decimal comma"])
def test_other_units_and_commas_are_read_in_every_case(cohort_of_all, habit):
    bird = next(bird.id for bird in BIRDS if bird.habit == habit)
    for case in discover_families():
        found, sheet = results_of(cohort_of_all, case)[bird], sheet_of(bird, case)
        assert len(sheet.typed) > 3
        unread = {task: sheet.typed[task] for task in sheet.typed if found[task]["state"] == State.NOT_GRADABLE}
        assert not set(unread) - set(sheet.texts), unread


def test_work_comes_back_in_folders_and_archives_too(cohort_of_all):
    for habit in ("in folders", "in one archive"):
        bird = next(bird.id for bird in BIRDS if bird.habit == habit)
        assert all(bird in results_of(cohort_of_all, case) for case in discover_families())
    nothing = next(bird.id for bird in BIRDS if bird.habit == "hands in nothing")
    assert not any(nothing in results_of(cohort_of_all, case) for case in discover_families())


def test_a_second_run_in_the_same_folder_doubles_nothing(demo, cohort_of_all):
    where, _ = demo
    before = marked(cohort_of_all)
    lines = {
        name: len(cohort_of_all.record(name).read_text().splitlines())
        for name in ("handed_out", "collected", "marks", "refused", "decisions")
    }
    awards = {path: path.read_bytes() for path in (where / "demo" / "awards").glob("*/*")}
    output = run(where, "demo")
    assert "found from an earlier run" in output
    assert marked(cohort_of_all) == before
    for name, count in lines.items():
        assert len(cohort_of_all.record(name).read_text().splitlines()) == count
    assert {path: path.read_bytes() for path in (where / "demo" / "awards").glob("*/*")} == awards
    assert "(0 new)" in output


def test_a_run_elsewhere_with_one_case_gives_the_same_marks(cohort_of_all, alone):
    there = open_cohort(alone[0] / "another folder")
    assert there.settings.cases == (PLANTED_IN,)
    here = results_of(cohort_of_all, PLANTED_IN)
    assert results_of(there, PLANTED_IN) == here
    assert here


def test_a_folder_of_another_edition_is_left_as_it_is(alone):
    where, _ = alone
    one = next((where / "another folder" / "inbox").glob("wren*"))
    before = one.read_bytes()
    one.write_bytes(before + b" ")
    done = subprocess.run(
        [sys.executable, "-m", "pedalwright_app", "demo", "another folder", "--case", PLANTED_IN],
        cwd=where,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1
    assert "not what this edition of the demonstration hands in" in " ".join((done.stdout + done.stderr).split())
    assert one.read_bytes() == before + b" "
    one.write_bytes(before)


def test_the_demonstration_leaves_a_real_cohort_alone(cohort):
    from click.testing import CliRunner

    from pedalwright_app.main import main

    secret = (cohort.root / "secret.key").read_bytes()
    outcome = CliRunner().invoke(main, ["demo", str(cohort.root)])
    assert outcome.exit_code == 1
    assert "not the demonstration" in outcome.output
    assert (cohort.root / "secret.key").read_bytes() == secret


def test_no_handed_out_notebook_of_the_demonstration_holds_a_solution(cohort_of_all):
    from autograde.cases import trainee_variant
    from autograde.cases.variants import seed_of

    secret = cohort_of_all.secret
    for (case, family), bird in zip(discover_families().items(), BIRDS, strict=False):
        text = cohort_of_all.notebook("release", bird.id, case).read_text()
        variant = trainee_variant(family, secret, bird.id)
        prose = "".join(cell["source"] for cell in json.loads(text)["cells"])
        for hidden in (secret.hex(), seed_of(secret, bird.id, case).hex(), variant.fingerprint):
            assert hidden not in text
        for solution in family.worked(variant.case).values():
            assert solution not in prose
        for item in family.misconceptions:
            assert item.label not in prose
