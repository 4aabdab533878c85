"""Every step is stopped at every write in turn, then run again: the end is that of an undisturbed run."""

import shutil

import pytest

from autograde.cohort import files
from autograde.cohort.collect import collect
from autograde.cohort.folder import open_cohort
from autograde.cohort.gradebook import open_gradebook
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.handout import hand_out
from autograde.cohort.marking import mark_all, marked, to_mark
from pedalwright_app.filling import fill

CASE = "crank-drill"


class PlugPulled(BaseException):
    """Stands for a process that is gone from one moment to the next."""


@pytest.fixture
def filled(cohort):
    for who in ("wren", "heron"):
        content = fill(cohort.notebook("release", who, CASE).read_bytes(), {"torque": "30 N m", "other-leg": "B"})
        (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)
    return cohort


def road(cohort):
    hand_out(cohort)
    collect(cohort)
    for _ in mark_all(cohort, to_mark(cohort)):
        pass
    write_marks(cohort, list(marked(cohort).values()))


def outcome(cohort):
    with open_gradebook(cohort) as gradebook:
        scores = {
            (grade.student.id, grade.name): (grade.auto_score, grade.needs_manual_grade)
            for submission in gradebook.assignment_submissions(CASE)
            for notebook in submission.notebooks
            for grade in notebook.grades
        }
    results = {who: record["results"] for who, record in marked(cohort).items()}
    content = {
        path.relative_to(cohort.root): path.read_bytes()
        for folder in ("release", "collected", "submitted", "autograded")
        for path in (cohort.root / folder).rglob("*.ipynb")
    }
    return scores, results, content


def test_a_stop_at_any_write_loses_nothing_and_doubles_nothing(filled, monkeypatch):
    (filled.root / "release" / "wren" / CASE / f"{CASE}.ipynb").unlink()
    filled.record("handed_out").unlink()
    calm = open_cohort(shutil.copytree(filled.root, filled.root.with_name("calm")))
    road(calm)
    wanted = outcome(calm)
    real_replace, real_fsync = files.os.replace, files.os.fsync
    stops = 0
    for moment in range(1, 200):
        root = shutil.copytree(filled.root, filled.root.with_name(f"stopped-{moment}"))
        cohort = open_cohort(root)
        countdown = iter(range(moment, 0, -1))

        def last_breath(countdown=countdown):
            if next(countdown, 0) == 1:
                raise PlugPulled

        def replace(source, target, last_breath=last_breath):
            last_breath()
            real_replace(source, target)

        def fsync(handle, last_breath=last_breath):
            last_breath()
            real_fsync(handle)

        monkeypatch.setattr(files.os, "replace", replace)
        monkeypatch.setattr(files.os, "fsync", fsync)
        try:
            road(cohort)
            finished = True
        except PlugPulled:
            finished = False
            stops += 1
        monkeypatch.setattr(files.os, "replace", real_replace)
        monkeypatch.setattr(files.os, "fsync", real_fsync)
        road(cohort)
        assert outcome(cohort) == wanted
        assert not list(cohort.root.rglob("*.part"))
        shutil.rmtree(root)
        if finished:
            break
    assert stops > 20
