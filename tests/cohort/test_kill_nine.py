"""Kill -9 at random moments of hand out, mark, decide, award and moderate: run again, the end is the undisturbed one.

A child process does the step. Just before a call that writes (to a file, a folder or the database) it sends itself
SIGKILL, so nothing of it tidies up. The moments are drawn at random among all such calls that an undisturbed child
made; PEDALWRIGHT_KILLS makes them more, PEDALWRIGHT_KILL_SEED others.
"""

import os
import random
import shutil

import pytest
from desk_steps import CASE, PASSPHRASE, RATINGS, by_hand, hand_in, mark
from killing import fresh, in_a_child, killed

from autograde.award.record_check import check_record
from autograde.award.ring import Issuer
from autograde.award.verify import verify_file
from autograde.cohort.folder import open_cohort
from autograde.cohort.gradebook import open_gradebook
from autograde.cohort.handout import attempts_handed_out
from autograde.cohort.in_step import bring_in_step
from autograde.cohort.marking import marked
from autograde.cohort.standing import standing
from autograde.desk.decisions import decide_cohort
from autograde.desk.moderation import Agreed, Reading, agree, compare, enter_readings
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from autograde.desk.readers import write_agreement
from autograde.desk.reading_form import write_papers
from autograde.desk.rounds import read_rounds, write_round
from autograde.desk.sample import draw_sample
from pedalwright_app import steps

KILLS = int(os.environ.get("PEDALWRIGHT_KILLS", "10"))
SEED = int(os.environ.get("PEDALWRIGHT_KILL_SEED", "2026"))
ISSUER = Issuer("https://fenwick-quay.example/school", "Fenwick Quay Cycle School", demo=True)
FIRST = {"wren": 2.0, "heron": 2.0, "plover": 1.0}


def hand_out(cohort):
    steps.hand_out(cohort, workers=1)


def collect_and_mark(cohort):
    steps.collect(cohort)
    steps.mark(cohort, workers=1)


def decide(cohort):
    with cohort.at_work():
        decide_cohort(cohort, sem_marks=0.5)


def award(cohort):
    steps.award(cohort, PASSPHRASE, ISSUER)


def moderate(cohort):
    """Slate reads all three texts; heron's lies apart and is agreed on."""
    with cohort.at_work():
        sample = next(iter(read_rounds(cohort)), None) or draw_sample(cohort, first_reader="Flint")
        write_round(cohort, sample)
        write_papers(cohort, sample)
        number = {piece.trainee: piece.number for piece in sample.pieces}
        second = {"wren": (1.0, 1.0), "heron": (0.5, 0.0), "plover": (0.5, 0.5)}
        enter_readings(cohort, {number[who]: Reading(points) for who, points in second.items()}, by="Slate")
        agree(cohort, {number["heron"]: Agreed(1.0, "Names a limit, refers late.")}, by="Flint and Slate")
        write_agreement(cohort)


def after_hand_out(cohort):
    return attempts_handed_out(cohort), tree(cohort, "release")


def after_marking(cohort):
    with open_gradebook(cohort) as gradebook:
        scores = {
            (grade.student.id, grade.name): (grade.auto_score, grade.manual_score, grade.needs_manual_grade)
            for submission in gradebook.assignment_submissions(CASE)
            for notebook in submission.notebooks
            for grade in notebook.grades
        }
    results = {who: record["results"] for who, record in marked(cohort).items()}
    return scores, results, tree(cohort, "collected", "submitted", "autograded")


def after_deciding(cohort):
    record = Places.of(cohort).record
    assert check_record(record.path).whole
    return [
        (entry.kind, dict(entry.body) if entry.kind != "award issued" else None, record.personal(entry.n))
        for entry in record.entries()
    ]


def after_awarding(cohort):
    places = Places.of(cohort)
    found = sorted(places.awards.glob("*/*"))
    verdicts = [str(verify_file(path, places.keys.public_path, places.status_list).verdict) for path in found]
    entries = [(kind, body, personal and personal.get("trainee")) for kind, body, personal in after_deciding(cohort)]
    return entries, [path.name for path in found], verdicts


def after_moderating(cohort):
    papers = {path.name for path in Places.of(cohort).moderation.rglob("*") if path.is_file()}
    marks = {who: sheet.marks for who, sheet in standing(cohort).sheets.items()}
    return after_deciding(cohort), compare(cohort), papers, marks, (cohort.report / "moderation.json").read_bytes()


def tree(cohort, *folders):
    paths = [path for folder in folders for path in (cohort.root / folder).rglob("*")]
    return {path.relative_to(cohort.root).as_posix(): path.read_bytes() for path in paths if path.suffix == ".ipynb"}


def leftovers(cohort):
    """Unfinished files that stay; the head of the record alone may wait half written for the next entry."""
    paths = (cohort.root / folder for folder in ("release", "submitted", "awards", "records", "keys", "moderation"))
    return [path.name for folder in paths for path in folder.rglob("*") if _unfinished(path.name)]


def _unfinished(name):
    return name.endswith((".part", ".partial")) and name != ".decisions.head.partial"


@pytest.fixture
def judged(cohort):
    for who, share in (("wren", 1.0), ("heron", 3.0), ("plover", 3.0)):
        hand_in(cohort, who, share)
    return cohort


def prepare(cohort, step):
    if step is hand_out:
        shutil.rmtree(cohort.root / "release")
        cohort.record("handed_out").unlink()
    if step in (decide, award, moderate):
        mark(cohort)
        write_first_plan(cohort)
        Places.of(cohort).ratings.write_text(RATINGS)
        for who, marks in FIRST.items():
            by_hand(cohort, who, marks)
        bring_in_step(cohort)
    if step in (award, moderate):
        decide(cohort)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that can fork")
@pytest.mark.parametrize(
    ("step", "outcome"),
    [
        (hand_out, after_hand_out),
        (collect_and_mark, after_marking),
        (decide, after_deciding),
        (award, after_awarding),
        (moderate, after_moderating),
    ],
)
def test_killed_at_random_moments_the_end_is_that_of_an_undisturbed_run(judged, step, outcome, monkeypatch):
    monkeypatch.setattr(os, "fsync", lambda _handle: None)  # a kill loses nothing that was handed to the system
    prepare(judged, step)

    calm = fresh(judged, "calm")
    calls = in_a_child(step, calm, 0)
    assert calls > 20
    wanted = outcome(open_cohort(calm))
    moments = random.Random(f"{SEED} {step.__name__}").sample(range(1, calls + 1), min(KILLS, calls))
    for moment in moments:
        root = killed(step, judged, moment)
        cohort = open_cohort(root)
        step(cohort)
        assert outcome(cohort) == wanted, f"killed before writing call {moment} of {calls}"
        assert leftovers(cohort) == [], f"killed before writing call {moment} of {calls}"
        step(cohort)
        assert outcome(cohort) == wanted
        shutil.rmtree(root)
