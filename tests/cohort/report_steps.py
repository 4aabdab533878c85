"""Cohorts for tests of the report, written straight into the marking record."""

import json

import numpy as np

from autograde.cohort.families import load_case
from autograde.cohort.folder import Settings, lay_out
from autograde.cohort.roster import Trainee
from autograde.desk.places import Places
from autograde.desk.plan import write_first_plan
from autograde.marking import State

SECRET = bytes(range(32))


def ability_marks(trainees, full, seed=5, noise=0.25):
    """Marks that hang together: an ability for each trainee, another difficulty for each task, steps of half a mark."""
    rng = np.random.default_rng(seed)
    full = np.asarray(full, dtype=float)
    share = rng.normal(0.6, 0.2, (trainees, 1)) + rng.uniform(-0.2, 0.2, full.size)
    return np.clip(np.round(2 * full * (share + rng.normal(0, noise, (trainees, full.size)))) / 2, 0, full)


def made_from_marks(root, cases, marks, case_folders=(), names=None, ratings=False):
    """Lay out a cohort whose record holds these marks; NaN is an answer that could not be read, a row of NaN nobody."""
    families = [load_case(case, case_folders) for case in cases]
    people = [Trainee(f"t{n:03d}", names[n] if names else f"Bird {n}") for n in range(len(marks))]
    cohort = lay_out(root, Settings("Autumn", "autumn", tuple(cases), case_folders=tuple(case_folders)), people, SECRET)
    lines, first = [], 0
    for family in families:
        mine = marks[:, first : first + len(family.tasks)]
        first += len(family.tasks)
        lines += [
            record_line(family, trainee.id, row)
            for trainee, row in zip(people, mine, strict=True)
            if not np.isnan(row).all()
        ]
    cohort.record("marks").parent.mkdir(exist_ok=True)
    cohort.record("marks").write_text("".join(json.dumps(line) + "\n" for line in lines))
    write_first_plan(cohort)
    if ratings:
        rows = [
            f"1,{rater},{family.name},{task.id},{share}"
            for rater, share in (("slate", 50), ("marl", 60))
            for family in families
            for task in family.tasks
        ]
        Places.of(cohort).ratings.write_text("\n".join(["round,rater,case,task,share_pct", *rows]) + "\n")
    return cohort


def record_line(family, trainee, row, attempt=1):
    """One line of the marking record, as marking writes it."""
    results = [
        {
            "task": task.id,
            "state": str(State.NOT_GRADABLE if np.isnan(mark) else State.CORRECT),
            "marks": None if np.isnan(mark) else float(mark),
            "max_marks": task.marks,
            "reason": "no number in it",
            "feedback": "Read it again.",
            "misconception": None,
            "page": task.page,
            "read_as": "",
            "typed": "",
            "left_empty": False,
            "by_hand": task.by_hand,
        }
        for task, mark in zip(family.tasks, row, strict=True)
    ]
    return {
        "trainee": trainee,
        "case": family.name,
        "attempt": attempt,
        "arrived": "2026-01-05T09:00:00+00:00",
        "edition": "0",
        "sha256": "0",
        "marks": float(np.nansum(row)),
        "max_marks": family.max_marks,
        "notices": [],
        "trouble": "",
        "results": results,
    }
