"""What one submission costs when there are few and when there are many: is marking flat?

    python benchmarks/marking_scale.py [SIZES ...]     by default 100 1000; 100 1000 10000 takes some minutes

For each size a cohort is made, handed out, filled and collected for real; only the picture of the brief is drawn once
and shared, as drawing takes longest and marking never looks at it. Then a fresh process marks: reads each notebook,
draws its variant again, marks, appends the record and writes the notebook for marking by hand; then it brings
nbgrader's gradebook in step. All in one process, so that the number of cores plays no part. Times are processor time
for each submission, and once the time on the clock, waiting for the disk included; "once more" is a second run, in
which there is nothing left to do. Memory is the most the process held until then.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from autograde_ratio import CASE, make_collected

from autograde.cases import practice_variant
from autograde.cohort.families import load_case
from autograde.cohort.folder import open_cohort
from autograde.cohort.gradebook import open_gradebook
from autograde.cohort.in_step import bring_in_step
from autograde.cohort.marking import mark_all, to_mark

MB = 1024


def make(folder: Path, size: int) -> None:
    """A cohort of one size with everything collected."""
    family = load_case(CASE)
    drawn = family.figures(practice_variant(family).case)
    object.__setattr__(family, "figures", lambda _case: drawn)
    make_collected(folder, size)


def measure(folder: Path) -> dict[str, float]:
    """Mark everything, then once more; milliseconds a submission, processor time and time on the clock."""
    cohort = open_cohort(folder)
    load_case(CASE)
    with open_gradebook(cohort):
        ready_mb = peak_mb()
    start, clock = time.process_time(), time.perf_counter()
    todo = to_mark(cohort)
    count = sum(1 for _ in mark_all(cohort, todo))
    after_marking, marking_mb = time.process_time(), peak_mb()
    bring_in_step(cohort)
    after_gradebook, clock = time.process_time(), time.perf_counter() - clock
    if count != len(todo) or to_mark(cohort) or bring_in_step(cohort):
        raise SystemExit("something was left unmarked or out of step")
    end = time.process_time()
    return {
        "submissions": count,
        "mark_ms": 1000 * (after_marking - start) / count,
        "gradebook_ms": 1000 * (after_gradebook - after_marking) / count,
        "clock_ms": 1000 * clock / count,
        "again_ms": 1000 * (end - after_gradebook) / count,
        "ready_mb": ready_mb,
        "marking_mb": marking_mb,
        "peak_mb": peak_mb(),
    }


def peak_mb() -> float:
    """Most memory this process held so far (Linux counts in kilobytes)."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / MB


def in_a_process(what: str, folder: Path, size: int) -> str:
    """Run one half of this program in a process of its own."""
    done = subprocess.run(
        [sys.executable, __file__, what, str(folder), str(size)], capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise SystemExit(f"{what} failed:\n{done.stdout}\n{done.stderr}")
    return done.stdout


def main(sizes: list[int]) -> None:
    print(
        f"{'submissions':>12}{'mark':>10}{'gradebook':>12}{'together':>11}{'by the clock':>14}{'once more':>12}"
        f"{'memory: start':>15}{'marking':>9}{'gradebook':>11}"
    )
    for size in sizes:
        with tempfile.TemporaryDirectory() as place:
            in_a_process("make", Path(place) / "cohort", size)
            found = json.loads(in_a_process("measure", Path(place) / "cohort", size))
        both = found["mark_ms"] + found["gradebook_ms"]
        print(
            f"{found['submissions']:12}{found['mark_ms']:7.2f} ms{found['gradebook_ms']:9.2f} ms{both:8.2f} ms"
            f"{found['clock_ms']:11.2f} ms{found['again_ms']:9.2f} ms"
            f"{found['ready_mb']:12.0f} MB{found['marking_mb']:6.0f} MB{found['peak_mb']:8.0f} MB",
            flush=True,
        )


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["make", folder, size]:
            make(Path(folder), int(size))
        case ["measure", folder, _]:
            print(json.dumps(measure(Path(folder))))
        case sizes:
            main([int(size) for size in sizes] or [100, 1000])
