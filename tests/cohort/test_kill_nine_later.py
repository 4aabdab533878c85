"""Kill -9 in the later steps: a further attempt, an appeal, forgetting, back-up and restore."""

import contextlib
import os
import random
import shutil

import pytest
from desk_steps import CASE, RATINGS, by_hand, files, hand_in, tables, typed
from killing import fresh, in_a_child, killed

from autograde.award.record_check import check_record
from autograde.cohort import backup
from autograde.cohort.collect import collect
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import open_cohort
from autograde.cohort.further import plan_further
from autograde.cohort.handout import attempts_handed_out
from autograde.cohort.in_step import bring_in_step
from autograde.cohort.marking import mark_all, to_mark
from autograde.cohort.standing import standing
from autograde.cohort.statistics import misconception_counts, task_counts
from autograde.desk.appeals import close_appeal, open_appeal, open_appeals
from autograde.desk.decisions import decide_cohort
from autograde.desk.forget import forget
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from pedalwright_app import steps
from pedalwright_app.filling import fill

KILLS = int(os.environ.get("PEDALWRIGHT_KILLS", "5"))
SEED = int(os.environ.get("PEDALWRIGHT_KILL_SEED", "2026"))


@pytest.fixture
def decided(cohort):
    for who, share in (("wren", 1.0), ("heron", 3.0), ("plover", 3.0)):
        hand_in(cohort, who, share)
    mark(cohort)
    write_first_plan(cohort)
    Places.of(cohort).ratings.write_text(RATINGS)
    for who, marks in (("wren", 2.0), ("heron", 2.0), ("plover", 1.0)):
        by_hand(cohort, who, marks, f"For {who}.")
    bring_in_step(cohort)
    decide_cohort(cohort, sem_marks=0.5)
    return cohort


def mark(cohort):
    collect(cohort)
    for _ in mark_all(cohort, to_mark(cohort)):
        pass
    bring_in_step(cohort)


def try_again(cohort):
    """Plover tries again: handed out, handed in, collected and marked; asked for twice, it is given once."""
    further = plan_further(cohort, [("plover", CASE)], allowed=2)
    steps.hand_out(cohort, further=further.attempts, workers=1)
    content = fill(cohort.notebook("release", "plover", CASE, 2).read_bytes(), typed(cohort, "plover", attempt=2))
    (cohort.inbox / f"plover__{CASE} (2).ipynb").write_bytes(content)
    steps.collect(cohort)
    steps.mark(cohort, workers=1)


def after_trying_again(cohort):
    sheet = standing(cohort).sheets["plover", CASE]
    earlier = [(one.attempt, one.marks) for one in standing(cohort).earlier["plover", CASE]]
    marks = [(row[2], row[3], row[4]) for name, row in sorted(tables(cohort), key=str) if name == "grade"]
    return sheet.attempt, sheet.marks, earlier, marks, attempts_handed_out(cohort)


def appeal(cohort):
    with cohort.at_work():
        open_appeal(cohort, "plover", reasons="I wrote more than that.")
        by_hand(cohort, "plover", 2.0)
        if open_appeals(Places.of(cohort).record):
            close_appeal(cohort, "plover", by="Marl", statement="Read again: it does refer.", award=True)


def appeal_once(cohort):
    """Run it again as a person would: an appeal that is closed is not opened a second time."""
    record = Places.of(cohort).record
    if any(entry.kind == "appeal heard" for entry in record.entries()):
        return
    appeal(cohort)


def after_the_appeal(cohort):
    record = Places.of(cohort).record
    assert check_record(record.path).whole
    assert open_appeals(record) == ()
    entries = [(entry.kind, entry.body.get("outcome"), record.personal(entry.n)) for entry in record.entries()]
    return entries, [
        (one.trainee.id, one.decision.outcome, one.what) for one in decide_cohort(cohort, dry_run=True).all
    ]


def forget_plover(cohort):
    with cohort.at_work(), contextlib.suppress(CohortError):  # nobody of that id is left, when it was done already
        forget(cohort, "plover")


def after_forgetting(cohort):
    assert check_record(Places.of(cohort).record.path).whole
    everything = b"".join(name.encode() + content for name, content in files(cohort, gradebook=True).items())
    stand = standing(cohort)
    figures = [(item.task.id, item.states, item.facility) for item in task_counts(stand)]
    slips = [(item.id, item.answers) for item in misconception_counts(stand)]
    gone = sum(trainee.gone for trainee in cohort.trainees)
    return b"plover" in everything, figures, slips, gone, len(cohort.trainees)


def back_up_and_restore(cohort):
    file, again = cohort.root / ".." / f"{cohort.root.name}.zip", cohort.root.with_name(f"{cohort.root.name} again")
    with cohort.at_work():
        if not file.exists():
            backup.back_up(cohort, file)
        if not again.exists():
            backup.restore(file, again)


def after_restoring(cohort):
    return files(open_cohort(cohort.root.with_name(f"{cohort.root.name} again")))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that can fork")
@pytest.mark.parametrize(
    ("step", "again", "outcome"),
    [
        (try_again, try_again, after_trying_again),
        (appeal, appeal_once, after_the_appeal),
        (forget_plover, forget_plover, after_forgetting),
        (back_up_and_restore, back_up_and_restore, after_restoring),
    ],
)
def test_killed_in_a_later_step_the_end_is_that_of_an_undisturbed_run(decided, step, again, outcome, monkeypatch):
    monkeypatch.setattr(os, "fsync", lambda _handle: None)  # a kill loses nothing that was handed to the system
    calm = fresh(decided, "calm")
    calls = in_a_child(step, calm, 0)
    assert calls > 20
    wanted = outcome(open_cohort(calm))
    for moment in random.Random(f"{SEED} {step.__name__}").sample(range(1, calls + 1), min(KILLS, calls)):
        root = killed(step, decided, moment)
        again(open_cohort(root))
        assert outcome(open_cohort(root)) == wanted, f"killed before writing call {moment} of {calls}"
        shutil.rmtree(root)
