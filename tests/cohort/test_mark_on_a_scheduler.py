"""Hand out and mark on a real Dask scheduler with two worker processes, one of them killed while it works."""

import json
import os
import pickle
import re
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from desk_steps import CASE, files, hand_in, run
from distributed import Client

from autograde.cohort.collect import collect
from autograde.cohort.elsewhere import HANDING_OUT, MARKING, on_scheduler
from autograde.cohort.errors import CohortError
from autograde.cohort.folder import open_cohort
from autograde.cohort.handout import hand_out, jobs
from autograde.cohort.make import make_cohort, plan
from autograde.cohort.marking import mark_all, to_mark
from autograde.cohort.roster import Trainee

OWN_CASES = Path(__file__).parent / "own_cases"
SECRET = bytes(range(32))
ROSTER = tuple(Trainee(f"bird-{number:02d}", f"Bird {number}") for number in range(60))


def started(*arguments):
    return subprocess.Popen(
        [sys.executable, "-m", "distributed.cli." + arguments[0], *arguments[1:]],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        cwd="/",
    )


def worker(address):
    quiet = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1", "--memory-limit", "0")
    return started("dask_worker", address, *quiet)


@pytest.fixture(scope="module")
def scheduler():
    process = started("dask_scheduler", "--host", "127.0.0.1", "--port", "0", "--no-dashboard")
    address = next(found[0] for line in process.stderr if (found := re.findall(r"Scheduler at: +(tcp://\S+)", line)))
    threading.Thread(target=process.stderr.read, daemon=True).start()
    yield address
    process.kill()
    process.wait()


@pytest.fixture
def two_workers(scheduler):
    """Two worker processes that are ready; by process id."""
    processes = [worker(scheduler) for _ in range(2)]
    for process in processes:
        threading.Thread(target=process.stderr.read, daemon=True).start()
    with Client(scheduler, set_as_default=False) as client:
        client.wait_for_workers(2, timeout=20)
    yield {process.pid: process for process in processes}
    for process in processes:
        process.kill()
        process.wait()
    with Client(scheduler, set_as_default=False) as client:
        until = time.monotonic() + 10
        while client.scheduler_info(n_workers=-1)["workers"] and time.monotonic() < until:
            time.sleep(0.05)


def made(root):
    return make_cohort(plan(root, ROSTER, title="Autumn", cases=[CASE], case_folders=[OWN_CASES]), SECRET)


def filled(root):
    cohort = made(root)
    hand_out(cohort)
    for number, trainee in enumerate(ROSTER):
        hand_in(cohort, trainee.id, share=(1.0, 3.0, 0.5)[number % 3])
    spoilt = cohort.inbox / f"{ROSTER[7].id}__{CASE}.ipynb"
    spoilt.write_bytes(b"{ no notebook at all")
    collect(cohort)
    return cohort


def lines(cohort, name):
    return [json.loads(line) for line in cohort.record(name).read_text().splitlines()]


def same_order(records):
    return sorted(({**record, "arrived": ""} for record in records), key=lambda one: one["trainee"])


def killing_at_the_sixth(victim, held):
    """Kill the worker while the sixth result comes in: it holds sheets of its own at that moment."""

    def tell(done, _all):
        if done == 6:
            os.kill(victim.pid, signal.SIGKILL)
            held.set()

    return tell


def test_hand_out_with_a_worker_killed_equals_the_local_one(tmp_path, scheduler, two_workers):
    here, there = made(tmp_path / "here" / "autumn"), made(tmp_path / "there" / "autumn")
    hand_out(here)
    victim, held = next(iter(two_workers.values())), threading.Event()
    runner = on_scheduler(scheduler, HANDING_OUT)
    given = hand_out(there, runner=runner, progress=killing_at_the_sixth(victim, held))
    assert held.is_set()
    assert victim.wait(5) == -signal.SIGKILL
    assert {item.what for item in given} == {"written"}
    assert same_order(lines(there, "handed_out")) == same_order(lines(here, "handed_out"))
    notebooks = [{k: v for k, v in files(one).items() if k.startswith("release/")} for one in (here, there)]
    assert notebooks[0] == notebooks[1]
    assert len(notebooks[0]) == len(ROSTER)


def test_marking_with_a_worker_killed_loses_nothing_and_marks_nothing_twice(tmp_path, scheduler, two_workers):
    here, there = filled(tmp_path / "here" / "autumn"), filled(tmp_path / "there" / "autumn")
    for _ in mark_all(here, to_mark(here)):
        pass
    victim, held = next(iter(two_workers.values())), threading.Event()
    yielded = 0
    for _ in mark_all(
        there, to_mark(there), runner=on_scheduler(scheduler, MARKING), progress=killing_at_the_sixth(victim, held)
    ):
        yielded += 1
    assert held.is_set()
    assert victim.wait(5) == -signal.SIGKILL
    assert yielded == len(ROSTER)
    marks = lines(there, "marks")
    assert len({record["trainee"] for record in marks}) == len(marks) == len(ROSTER)
    assert same_order(marks) == same_order(lines(here, "marks"))
    assert to_mark(there) == []
    shown = [{k for k in files(one) if k.startswith("autograded/")} for one in (here, there)]
    assert shown[0] == shown[1]


def test_by_the_command_with_what_comes_next(tmp_path, scheduler, two_workers):
    cohort = filled(tmp_path / "autumn")
    assert f"Marked: {len(ROSTER)} sheets now" in run("cohort", "mark", cohort.root, "--scheduler", scheduler)
    assert "Marked: 0 sheets now" in run("cohort", "mark", cohort.root, "--scheduler", scheduler)


def test_neither_secret_nor_folder_travels(tmp_path):
    cohort = filled(tmp_path / "autumn")
    parcels = [MARKING.pack(job) for job in to_mark(cohort)]
    cohort.record("handed_out").unlink()
    parcels += [HANDING_OUT.pack(job) for job in jobs(cohort)]
    assert len(parcels) == 2 * len(ROSTER)
    for parcel in parcels:
        sent = pickle.dumps(parcel)
        assert SECRET not in sent
        assert SECRET.hex().encode() not in sent
        assert str(cohort.root).encode() not in sent
        assert parcel.job.seed
        assert repr(parcel.job.seed) not in repr(parcel)


def test_a_worker_with_another_edition_of_the_case_is_refused(tmp_path):
    job = to_mark(filled(tmp_path / "autumn"))[0]
    record = MARKING.do(MARKING.pack(job))
    with pytest.raises(CohortError, match="another edition"):
        MARKING.unpack(job, {**record, "edition": "0" * 16})


def test_without_workers_or_scheduler_it_ends_with_a_plain_word(tmp_path, scheduler):
    cohort = filled(tmp_path / "autumn")
    for address in (scheduler, "tcp://127.0.0.1:9"):
        with pytest.raises(CohortError, match="do not answer"):
            list(mark_all(cohort, to_mark(cohort), runner=on_scheduler(address, MARKING, patience_s=1.0)))
    with pytest.raises(CohortError, match=r"tcp://192\.0\.2\.7:8786"):
        on_scheduler("127.0.0.1:8786", MARKING)
    assert not open_cohort(cohort.root).record("marks").exists()
