"""A whole cohort through the steps behind the commands: how long, and with how much memory?

    python benchmarks/cohort_scale.py [--trainees 1000] [--cases 6] [--workers 2] [--folder FOLDER] [--out FILE]

Everything is real: each trainee's variant is drawn, its pictures too; the notebooks are filled with right answers,
known slips, wrong answers and gaps (as in autograde_ratio.py), collected, marked, brought into nbgrader's gradebook,
and the report and a feedback page for each trainee are written. Each step runs in a process of its own, so that the
memory it held most is its own; "a worker" is the largest process it started. What filling costs is the benchmark's own
affair and no step of the desk; it is told so that the clock adds up. The result tells the load of the machine before
and after each step: on a busy machine the times on the clock are too long, the processor times hold.
"""

import argparse
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from autograde_ratio import SECRET, typed_at_random

from autograde.cohort.families import known_families, load_case
from autograde.cohort.folder import Cohort, open_cohort
from autograde.cohort.make import make_cohort, plan
from autograde.cohort.marking import to_mark
from autograde.cohort.roster import Trainee
from pedalwright_app import steps
from pedalwright_app.filling import fill

MB = 1024
STEPS = ("make", "hand-out", "fill", "collect", "mark", "mark once more", "report")


def make(folder: Path, trainees: int, cases: int) -> None:
    roster = [Trainee(f"trainee-{number:05d}", f"Trainee {number}") for number in range(1, trainees + 1)]
    make_cohort(plan(folder, roster, cases=list(known_families())[:cases]), SECRET)


def fill_all(cohort: Cohort) -> None:
    for case in cohort.settings.cases:
        family = load_case(case)
        for trainee in cohort.trainees:
            blank = cohort.notebook("release", trainee.id, case).read_bytes()
            content = fill(blank, typed_at_random(family, trainee.id))
            (cohort.inbox / f"{trainee.id}__{case}.ipynb").write_bytes(content)


def mark(cohort: Cohort, workers: int) -> None:
    done = steps.mark(cohort, workers=workers)
    if sum(done.sheets.values()) != len(cohort.trainees) * len(cohort.settings.cases) or to_mark(cohort):
        raise SystemExit("something was left unmarked")


def do(step: str, folder: Path, trainees: int, cases: int, workers: int) -> None:
    """Do one step in this process."""
    if step == "make":
        return make(folder, trainees, cases)
    cohort = open_cohort(folder)
    what: dict[str, Callable[[], object]] = {
        "hand-out": lambda: steps.hand_out(cohort, workers=workers),
        "fill": lambda: fill_all(cohort),
        "collect": lambda: steps.collect(cohort),
        "mark": lambda: mark(cohort, workers),
        "mark once more": lambda: mark(cohort, workers),
        "report": lambda: steps.report(cohort),
    }
    what[step]()


def measured(step: str, folder: Path, options: argparse.Namespace) -> dict[str, float | str]:
    """Do one step in a process of its own and tell what it took."""
    before, clock = os.getloadavg()[0], time.perf_counter()
    numbers = [str(number) for number in (options.trainees, options.cases, options.workers)]
    done = subprocess.run(
        [sys.executable, __file__, "--step", step, str(folder), *numbers], capture_output=True, text=True, check=False
    )
    clock = time.perf_counter() - clock
    if done.returncode:
        raise SystemExit(f"{step} failed:\n{done.stdout[-2000:]}\n{done.stderr[-4000:]}")
    found = json.loads(done.stdout.splitlines()[-1])
    return {"step": step, "clock_s": round(clock, 1), **found, "load_before": before, "load_after": os.getloadavg()[0]}


def usage() -> dict[str, float]:
    own, others = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    return {
        "processor_s": round(own.ru_utime + own.ru_stime + others.ru_utime + others.ru_stime, 1),
        "parent_mb": round(own.ru_maxrss / MB),
        "a_worker_mb": round(others.ru_maxrss / MB),
    }


def row(found: dict[str, float | str], notebooks: int) -> str:
    each_ms = 1000 * float(found["processor_s"]) / notebooks
    return (
        f"{found['step']:<16}{found['clock_s']:9.1f} s{found['processor_s']:10.1f} s{each_ms:11.1f} ms"
        f"{found['parent_mb']:8.0f} MB{found['a_worker_mb']:8.0f} MB"
        f"{found['load_before']:9.1f}{found['load_after']:6.1f}"
    )


def main(options: argparse.Namespace) -> None:
    notebooks = options.trainees * options.cases
    print(f"{options.trainees} trainees, {options.cases} cases, {options.workers} workers, {os.cpu_count()} cores")
    print(f"{'':<16}{'clock':>11}{'processor':>12}{'a notebook':>14}{'parent':>11}{'a worker':>11}{'load':>13}")
    rows = []
    for step in STEPS:
        rows.append(measured(step, options.folder, options))
        print(row(rows[-1], notebooks), flush=True)
        if options.out:
            head = {"trainees": options.trainees, "cases": options.cases, "workers": options.workers}
            options.out.write_text(json.dumps({**head, "cores": os.cpu_count(), "steps": rows}, indent=1) + "\n")


def read_options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--trainees", type=int, default=1000)
    parser.add_argument("--cases", type=int, default=6)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--folder", type=Path, help="a new folder, kept; by default one for this run")
    parser.add_argument("--out", type=Path, help="where the numbers go as JSON, renewed after each step")
    return parser.parse_args()


if __name__ == "__main__":
    if sys.argv[1:2] == ["--step"]:
        step, folder, *numbers = sys.argv[2:]
        do(step, Path(folder), *(int(number) for number in numbers))
        print(json.dumps(usage()))
    else:
        options = read_options()
        if options.folder:
            main(options)
        else:
            with tempfile.TemporaryDirectory() as place:
                options.folder = Path(place) / "cohort"
                main(options)
