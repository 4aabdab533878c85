"""Marking by reading against nbgrader's own autograde of the same notebooks, in one run.

    python benchmarks/autograde_ratio.py [--sheets 20]

The notebooks are those of one case, filled at random with right answers, slips, wrong answers and gaps. nbgrader runs
them in a kernel; their locked check cells mark for real, because the environment names the cohort folder. Both ways
must give the same marks, or the program stops with an error before it prints a ratio.

The last row is what one more sheet costs. For nbgrader it is the difference between its command for all sheets and
its command for one, divided by the sheets between, so that start-up is left out. For reading that difference drowns
in the noise of starting a program; it is timed in a process that has everything loaded, records and gradebook
included. Times by reading are medians of some rounds; nbgrader's commands, which take far longer, are timed once.
"""

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from autograde.cases import Family, trainee_variant
from autograde.cases.writing import as_typed
from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.folder import Cohort, open_cohort
from autograde.cohort.gradebook import open_gradebook
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.handout import hand_out
from autograde.cohort.make import bring_gradebook_in_step, make_cohort, plan
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.roster import Trainee
from autograde.marking.solving import key_values, predict
from pedalwright_app.filling import fill

SECRET = b"a secret for the benchmark only, of no use elsewhere"
ROUNDS = 3
"""Rounds of our command with a few sheets; with many, one is enough."""
FEW = 50
WARM_ROUNDS = 5


CASE = "pedal-force-record"
ODDS = {"right": 0.6, "slip": 0.25, "wrong": 0.1, "left empty": 0.05}


def typed_at_random(family: Family, trainee: str) -> dict[str, str]:
    """What an invented trainee types: mostly right, often a known slip, now and then wrong or nothing."""
    case = trainee_variant(family, SECRET, trainee).case
    key = key_values(family.tasks, case)
    rng = np.random.default_rng([ord(letter) for letter in trainee])
    typed = {}
    for task in family.tasks:
        what = rng.choice(list(ODDS), p=list(ODDS.values()))
        if task.by_hand:
            typed[task.id] = "The record shows one rider on one day; I would measure again before I change anything."
            continue
        value = key[task.id]
        slips = [slip for slip in family.misconceptions if slip.task == task.id]
        if what == "slip":
            led = predict(slips[rng.integers(len(slips))], task, case, key)
            value = value if led is None else led
        if what == "wrong" and isinstance(value, float):
            value = 1.7 * value + 3
        if what != "left empty":
            typed[task.id] = as_typed(task, value)
    return typed


def make_collected(root: Path, sheets: int) -> Cohort:
    """A cohort with filled sheets collected and nothing marked."""
    roster = [Trainee(f"trainee-{number:05d}", f"Trainee {number}") for number in range(1, sheets + 1)]
    cohort = make_cohort(plan(root, roster, cases=[CASE]), SECRET)
    hand_out(cohort)
    for trainee in roster:
        blank = cohort.notebook("release", trainee.id, CASE).read_bytes()
        content = fill(blank, typed_at_random(load_case(CASE), trainee.id))
        (cohort.inbox / f"{trainee.id}__{CASE}.ipynb").write_bytes(content)
    collect(cohort)
    return cohort


def copy_of(cohort: Cohort, name: str, *, only: str = "") -> Cohort:
    """A fresh copy, with all submissions or with one."""
    root = cohort.root.parent / name
    shutil.copytree(cohort.root, root)
    if only:
        for folder in (root / "submitted").iterdir():
            if folder.name != only:
                shutil.rmtree(folder)
        record = root / "records" / "collected.jsonl"
        lines = [line for line in record.read_text().splitlines() if f'"trainee": "{only}"' in line]
        record.write_text("\n".join(lines) + "\n")
    return open_cohort(root)


def timed(command: list[str], cohort: Cohort) -> float:
    """Seconds a command takes."""
    environment = {**os.environ, "PEDALWRIGHT_MARKING": str(cohort.root.resolve())}
    start = time.perf_counter()
    done = subprocess.run(command, cwd=cohort.root, env=environment, capture_output=True, text=True)
    taken = time.perf_counter() - start
    if done.returncode:
        raise SystemExit(f"{' '.join(command)} failed:\n{done.stdout}\n{done.stderr}")
    return taken


def ours(cohort: Cohort) -> float:
    """Mark by reading, as a command."""
    return timed([sys.executable, "-m", "pedalwright_app", "cohort", "mark", "."], cohort)


def theirs(cohort: Cohort) -> float:
    """Mark by running, with nbgrader's command."""
    return timed([sys.executable, "-m", "nbgrader", "autograde", CASE], cohort)


def warm(cohort: Cohort) -> float:
    """Seconds a sheet to mark, record and enter into the gradebook, everything loaded; median of some rounds."""
    rounds = []
    for number in range(WARM_ROUNDS + 1):
        fresh = copy_of(cohort, f"warm-{number}")
        bring_gradebook_in_step(fresh)
        start = time.perf_counter()
        todo = to_mark(fresh)
        for _ in mark_all(fresh, todo):
            pass
        write_marks(fresh, list(marked(fresh).values()))
        rounds.append((time.perf_counter() - start) / len(todo))
    return statistics.median(rounds[1:])


def scores(cohort: Cohort) -> dict[tuple[str, str], float | None]:
    """Marks in the gradebook of everything that is not marked by hand."""
    with open_gradebook(cohort) as gradebook:
        return {
            (submission.student.id, grade.name): grade.auto_score
            for submission in gradebook.assignment_submissions(CASE)
            for notebook in submission.notebooks
            for grade in notebook.grades
            if grade.cell_type == "code"
        }


def same_marks(read: Cohort, run: Cohort) -> int:
    """Compare; what reading leaves to a person (no marks) is 0 in a kernel. Returns the marks compared."""
    by_reading, by_running = scores(read), scores(run)
    if by_reading.keys() != by_running.keys():
        raise SystemExit("the two ways did not mark the same cells")
    for cell, marks in by_reading.items():
        if (marks or 0.0) != by_running[cell]:
            raise SystemExit(f"marks differ at {cell}: {marks} by reading, {by_running[cell]} by running")
    return len(by_reading)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--sheets", type=int, default=20)
    sheets = max(2, parser.parse_args().sheets)
    with tempfile.TemporaryDirectory() as place:
        print(f"making a cohort with {sheets} filled sheets ...", flush=True)
        cohort = make_collected(Path(place) / "cohort", sheets)
        first = cohort.trainees[0].id
        print("marking by reading ...", flush=True)
        our_one = statistics.median(ours(copy_of(cohort, f"ours-1-{n}", only=first)) for n in range(ROUNDS))
        our_cohorts = [copy_of(cohort, f"ours-all-{n}") for n in range(ROUNDS if sheets <= FEW else 1)]
        our_all = statistics.median(ours(each) for each in our_cohorts)
        our_warm = warm(cohort)
        print("marking by running, with nbgrader's autograde ...", flush=True)
        their_one = theirs(copy_of(cohort, "theirs-1", only=first))
        their_cohort = copy_of(cohort, "theirs-all")
        their_all = theirs(their_cohort)
        compared = same_marks(our_cohorts[0], their_cohort)
    their_each = (their_all - their_one) / (sheets - 1)
    print(f"\nthe same marks both ways: {compared} answers of {sheets} sheets\n")
    print(f"{'':38}{'by reading':>12}{'nbgrader':>12}{'ratio':>9}")
    for name, mine, other in (
        ("command, one sheet (s)", our_one, their_one),
        (f"command, {sheets} sheets (s)", our_all, their_all),
        ("one more sheet, start-up left out (s)", our_warm, their_each),
    ):
        print(f"{name:38}{mine:12.4f}{other:12.4f}{other / mine:8.1f}x")


if __name__ == "__main__":
    main()
