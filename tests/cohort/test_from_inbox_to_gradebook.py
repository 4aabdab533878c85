"""The road from a filled notebook to marks that nbgrader's own tools read."""

import csv
import json
import math
import os
import subprocess
import sys
from pathlib import Path

import pytest
from nbgrader.api import Gradebook
from nbgrader.apps.api import NbGraderAPI
from traitlets.config import Config

from autograde.cases import trainee_variant
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.feedback import write_feedback
from autograde.cohort.gradebook_marks import hand_marks, write_marks
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.report import write_report
from autograde.cohort.standing import standing
from autograde.cohort.workers import local_pool
from autograde.marking import State
from pedalwright_app.filling import fill

CASE = "crank-drill"
REFER = "Say what it cannot tell, and refer when it hurts."


def right_answers(cohort, who):
    """Closed form: torque is force times lever; power is torque times angular velocity."""
    case = trainee_variant(load_case(CASE, cohort.settings.case_folders), cohort.secret, who).case
    torque = case.force_n * case.crank_mm / 1000
    return torque, torque * case.cadence_rpm * 2 * math.pi / 60


def hand_in(cohort, who, **typed):
    answers = {key.replace("_", "-"): text for key, text in typed.items()}
    content = fill(cohort.notebook("release", who, CASE).read_bytes(), answers)
    (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)


def hand_in_four(cohort):
    torque, power = right_answers(cohort, "wren")
    hand_in(cohort, "wren", torque=f"{torque:.2f} N m", power=f"{power:.1f} W", other_leg="B", advice=REFER)
    torque, power = right_answers(cohort, "heron")
    hand_in(cohort, "heron", torque=f"{torque * 100:.1f} N m", power=f"{power * 100:.0f} W", other_leg="A")
    torque, power = right_answers(cohort, "plover")
    turns = power / (2 * math.pi)
    hand_in(cohort, "plover", torque=f"{torque * 100:.0f} N cm", power=f"{turns:.2f} W", other_leg="half a turn away")
    hand_in(cohort, "curlew", torque="plenty")


def mark(cohort, **how):
    records = list(mark_all(cohort, to_mark(cohort, **how)))
    write_marks(cohort, list(marked(cohort).values()))
    return {record["trainee"]: {item["task"]: item for item in record["results"]} for record in records}


@pytest.fixture
def done(cohort):
    hand_in_four(cohort)
    collect(cohort)
    mark(cohort)
    return cohort


def states(results):
    return {task: item["state"] for task, item in results.items()}


def test_each_sheet_ends_in_the_right_states(cohort):
    hand_in_four(cohort)
    collect(cohort)
    results = mark(cohort)
    assert states(results["wren"]) == {
        "torque": State.CORRECT,
        "power": State.CORRECT,
        "other-leg": State.CORRECT,
        "advice": State.NOT_GRADABLE,
    }
    assert results["wren"]["advice"]["by_hand"]
    assert states(results["heron"])["torque"] == State.MISCONCEPTION
    assert states(results["heron"])["power"] == State.IN_CONSEQUENCE
    assert states(results["heron"])["other-leg"] == State.OUT_OF_TOLERANCE
    assert states(results["plover"])["torque"] == State.CORRECT
    assert states(results["plover"])["power"] == State.MISCONCEPTION
    assert set(states(results["curlew"]).values()) == {State.NOT_GRADABLE}
    assert all(item["marks"] is None and item["reason"] for item in results["curlew"].values())


def test_nbgraders_own_api_reads_equal_marks_back(done):
    with Gradebook(done.db_url, done.settings.course_id) as gradebook:
        assert {student.id for student in gradebook.students} == {trainee.id for trainee in done.trainees}
        for (who, case), record in marked(done).items():
            submission = gradebook.find_submission(case, who)
            assert submission.score == record["marks"]
            assert submission.max_score == record["max_marks"] == 8
            assert submission.needs_manual_grade == any(item["marks"] is None for item in record["results"])
            for item in record["results"]:
                cell, solution = (
                    (f"words-{item['task']}",) * 2
                    if item["by_hand"]
                    else (
                        f"check-{item['task']}",
                        f"answer-{item['task']}",
                    )
                )
                grade = gradebook.find_grade(cell, case, case, who)
                assert grade.auto_score == item["marks"]
                assert grade.needs_manual_grade == (item["marks"] is None)
                assert gradebook.find_comment(solution, case, case, who).comment == item["feedback"]


def nbgrader(cohort, *arguments):
    environment = {
        **os.environ,
        "HOME": str(cohort.root.parent),
        "PATH": f"{Path(sys.executable).parent}:{os.environ['PATH']}",
    }
    done = subprocess.run(
        [sys.executable, "-m", "nbgrader", *arguments], cwd=cohort.root, env=environment, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return done.stderr


def test_nbgraders_export_and_feedback_commands_work_in_the_cohort_folder(done):
    nbgrader(done, "export", "--to=grades.csv")
    with (done.root / "grades.csv").open() as stream:
        rows = {row["student_id"]: row for row in csv.DictReader(stream)}
    for (who, _), record in marked(done).items():
        assert float(rows[who]["raw_score"]) == record["marks"]
    nbgrader(done, "generate_feedback", CASE, "--force")
    page = done.feedback("wren", CASE).read_text()
    assert "Refer" not in page
    assert "check" in page


def test_what_the_form_for_hand_marking_asks_of_nbgrader_is_answered(done):
    config = Config()
    config.CourseDirectory.root = str(done.root)
    config.CourseDirectory.course_id = done.settings.course_id
    api = NbGraderAPI(config=config)
    assert api.get_source_assignments() == {CASE}
    assert api.get_autograded_students(CASE) == {"wren", "heron", "plover", "curlew"}
    assignment = api.get_assignment(CASE)
    assert assignment["num_submissions"] == 4
    assert assignment["max_score"] == 8
    submissions = api.get_submissions(CASE)
    assert {item["student"]: item["score"] for item in submissions} == {
        who: record["marks"] for (who, _), record in marked(done).items()
    }
    assert all(item["needs_manual_grade"] for item in submissions)
    assert len(api.get_notebook_submissions(CASE, CASE)) == 4


def test_marking_twice_gives_the_same_and_marks_nothing_anew(done):
    before = done.record("marks").read_bytes()
    assert to_mark(done) == []
    mark(done)
    assert done.record("marks").read_bytes() == before
    again = mark(done, again=True)
    first = [json.loads(line) for line in before.splitlines()]
    assert {record["trainee"]: record["results"] for record in first} == {
        who: list(results.values()) for who, results in again.items()
    }


def test_a_pool_of_processes_gives_the_same_marks(cohort):
    hand_in_four(cohort)
    collect(cohort)
    here = {record["trainee"]: record for record in mark_all(cohort, to_mark(cohort))}
    pool = {record["trainee"]: record for record in mark_all(cohort, to_mark(cohort, again=True), runner=local_pool(2))}
    assert here == pool


def test_only_a_changed_sheet_is_marked_again(done):
    torque, _ = right_answers(done, "heron")
    hand_in(done, "heron", torque=f"{torque:.2f} N m")
    collect(done)
    assert [job.trainee for job in to_mark(done)] == ["heron"]
    assert mark(done)["heron"]["torque"]["state"] == State.CORRECT
    with Gradebook(done.db_url, done.settings.course_id) as gradebook:
        assert gradebook.find_grade("check-torque", CASE, CASE, "heron").auto_score == 2


def by_hand(cohort, who, task, marks, comment=None):
    with Gradebook(cohort.db_url, cohort.settings.course_id) as gradebook:
        grade = gradebook.find_grade(task, CASE, CASE, who)
        grade.manual_score, grade.needs_manual_grade = marks, False
        if comment:
            gradebook.find_comment(task, CASE, CASE, who).manual_comment = comment
        gradebook.db.commit()


def test_marks_and_comments_of_a_person_stay_and_reach_report_and_feedback(done):
    by_hand(done, "wren", "words-advice", 1.5, "Good; name a number <script>alert(1)</script>")
    by_hand(done, "curlew", "check-torque", 1.0)
    mark(done, again=True)
    stand = standing(done)
    sheet = stand.sheets["wren", CASE]
    assert sheet.marks == 7.5
    assert sheet.waiting == ()
    assert stand.sheets["curlew", CASE].marks == 1.0
    write_feedback(stand)
    page = done.feedback("wren", CASE).read_text()
    assert "7.5 of 8" in page
    assert "Good; name a number &lt;script&gt;" in page


def test_newer_work_is_shown_again_to_the_person_who_marked_the_older(done):
    by_hand(done, "wren", "words-advice", 1.5)
    hand_in(done, "wren", torque="1 N m", advice="Something else entirely.")
    collect(done)
    mark(done)
    with Gradebook(done.db_url, done.settings.course_id) as gradebook:
        grade = gradebook.find_grade("words-advice", CASE, CASE, "wren")
        assert (grade.manual_score, grade.needs_manual_grade) == (1.5, True)
    assert hand_marks(done)["wren", CASE, "advice"].waiting


def test_a_gradebook_lost_after_marking_is_filled_again_from_the_record(done):
    from autograde.cohort.make import bring_gradebook_in_step

    (done.root / "gradebook.db").unlink()
    bring_gradebook_in_step(done)
    assert write_marks(done, list(marked(done).values())) == 4
    assert write_marks(done, list(marked(done).values())) == 0


def test_a_case_changed_after_hand_out_is_not_marked_with_the_wrong_numbers(cohort):
    hand_in_four(cohort)
    collect(cohort)
    record = cohort.record("handed_out")
    record.write_text(record.read_text().replace('"fingerprint": "', '"fingerprint": "0'))
    for results in mark(cohort).values():
        assert set(states(results).values()) == {State.NOT_GRADABLE}
        assert all("changed since it was handed out" in item["reason"] for item in results.values())


def test_the_notebook_for_hand_marking_holds_the_hand_out_and_only_the_typed_text(done):
    hand_in(done, "wren", advice="```\n<script>alert(1)</script> $\\href{javascript:x}{y}$")
    content = json.loads((done.inbox / f"wren__{CASE}.ipynb").read_bytes())
    content["cells"].append({"cell_type": "markdown", "id": "evil", "metadata": {}, "source": "<img src=x onerror=y>"})
    content["cells"][1]["outputs"] = [
        {"output_type": "display_data", "data": {"text/html": "<b>evil</b>"}, "metadata": {}}
    ]
    (done.inbox / f"wren__{CASE}.ipynb").write_text(json.dumps(content))
    collect(done)
    mark(done)
    text = done.notebook("autograded", "wren", CASE).read_text()
    assert "evil" not in text
    assert "onerror" not in text
    words = next(cell["source"] for cell in json.loads(text)["cells"] if cell["id"] == "words-advice")
    assert words.startswith("````text\n")
    assert words.endswith("\n````")


def test_report_counts_misconceptions_once_a_trainee_and_names_the_page(done):
    page = write_report(done, standing(done)).read_text()
    assert "left the crank in millimetres" in page
    with (done.report / "misconceptions.csv").open() as stream:
        rows = {row["misconception"]: row for row in csv.DictReader(stream)}
    assert rows["metres-forgotten"]["trainees"] == "1"
    assert rows["metres-forgotten"]["page"] == "conventions"
    assert rows["turns-for-radians"]["who"] == "plover"
    with (done.report / "marks.csv").open() as stream:
        assert {row["trainee"]: row["marks"] for row in csv.DictReader(stream)}["wren"] == "6"
