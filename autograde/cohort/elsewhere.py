"""Do jobs on the workers of a running Dask scheduler: only the work travels, never the folder or its secret.

A worker gets the bytes of one notebook and the seed of that trainee's one variant, from which neither the cohort's
secret nor another variant can be worked out, and sends its result back. Only this process reads and writes the cohort
folder, so a worker that dies has written nothing, and its jobs are given to another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import CancelledError
from dataclasses import dataclass, field, replace
from itertools import islice
from pathlib import Path
from typing import Any

from autograde.cases import seed_of
from autograde.cohort import handout, marking
from autograde.cohort.errors import CohortError
from autograde.cohort.families import stamp
from autograde.cohort.files import read_bounded
from autograde.cohort.text import plain
from autograde.cohort.workers import Runner

__all__ = ["HANDING_OUT", "MARKING", "Trip", "on_scheduler"]

PATIENCE_S = 30.0
"""How long to wait for the scheduler to answer, and for a worker when there is none."""
LOOK_S = 2.0
HELD_PER_WORKER = 4
MOST_HELD = 200
KINDS = ("tcp://", "tls://", "inproc://")


@dataclass(frozen=True)
class Parcel:
    """What travels: a job without secret and folder, and the notebook if there is one."""

    job: Any
    content: bytes = field(default=b"", repr=False)


@dataclass(frozen=True)
class Trip:
    """How jobs of one kind are done elsewhere: what travels, what is done there, what this process does with it."""

    pack: Callable[[Any], Parcel]
    do: Callable[[Parcel], Any]
    unpack: Callable[[Any, Any], Any]


def _without_secret(job: Any) -> Any:
    seed = seed_of(job.secret, job.trainee, job.case, job.attempt)
    return replace(job, secret=b"", seed=seed, path=Path())


def _pack_sheet(job: marking.MarkingJob) -> Parcel:
    return Parcel(replace(_without_secret(job), root=Path()), read_bounded(job.path, job.limit_bytes))


def _mark(parcel: Parcel) -> dict[str, Any]:
    return marking.mark_bytes(parcel.job, lambda: parcel.content)


def _take_record(job: marking.MarkingJob, record: dict[str, Any]) -> dict[str, Any]:
    if record["edition"] != stamp(job.case, job.folders):
        raise CohortError(
            f"a worker holds another edition of the case {job.case} than this machine; "
            "put the same edition of the program and of your own cases on every worker, then run the command again"
        )
    return marking.show_marked(job, record)


def _write_notebook(parcel: Parcel) -> tuple[bytes, str]:
    return handout.drawn_notebook(parcel.job)


MARKING = Trip(_pack_sheet, _mark, _take_record)
HANDING_OUT = Trip(
    lambda job: Parcel(_without_secret(job)), _write_notebook, lambda job, back: handout.place(job, *back)
)


def on_scheduler(address: str, trip: Trip, *, patience_s: float = PATIENCE_S) -> Runner:
    """Make a runner that gives jobs to the workers of a Dask scheduler.

    Parameters
    ----------
    address : str
        Of the scheduler, such as ``tcp://192.0.2.7:8786``.
    trip : Trip
        `MARKING` or `HANDING_OUT`.
    patience_s : float
        How long no worker may be there, s, above 0.

    Returns
    -------
    Runner
        Holds a few jobs for each worker at a time. A job whose worker dies is done by another; one that several
        workers died of, or whose file cannot be read, is done in this process.

    Raises
    ------
    CohortError
        If the address will not do, the scheduler does not answer, or no worker is there; what came back is kept.
    """
    if not address.startswith(KINDS):
        raise CohortError(f"the scheduler's address is {address!r}; give one such as tcp://192.0.2.7:8786")
    try:
        import distributed
    except ModuleNotFoundError:
        raise CohortError("work on a Dask scheduler needs its library: pip install 'pedalwright[dask]'") from None

    def run(function: Callable[[Any], Any], jobs: Iterable[Any], /) -> Iterator[Any]:
        try:
            with distributed.Client(address, timeout=patience_s) as client:
                client.wait_for_workers(1, timeout=patience_s)
                yield from _give(client, trip, function, iter(jobs), patience_s)
        except (OSError, TimeoutError, CancelledError) as trouble:
            raise CohortError(
                f"the scheduler at {address} or its workers do not answer ({plain(str(trouble), 120)}); what came back "
                "is kept: see that scheduler and workers run, then run the command again, or run it without --scheduler"
            ) from trouble

    return run


def _give(
    client: Any, trip: Trip, function: Callable[[Any], Any], waiting: Iterator[Any], patience_s: float
) -> Iterator[Any]:
    from distributed import KilledWorker, wait

    held: dict[Any, Any] = {}
    alone_s = 0.0
    while True:
        workers = client.scheduler_info(n_workers=-1)["workers"]
        room = min(HELD_PER_WORKER * max(1, sum(one["nthreads"] for one in workers.values())), MOST_HELD)
        for job in islice(waiting, max(0, room - len(held))):
            try:
                parcel = trip.pack(job)
            except Exception:  # what cannot be packed is told by the function itself, as it would be on this machine
                yield function(job)
                continue
            held[client.submit(trip.do, parcel, pure=False)] = job
        if not held:
            return
        try:
            done = wait(list(held), timeout=LOOK_S, return_when="FIRST_COMPLETED").done
        except TimeoutError:
            alone_s = 0.0 if client.scheduler_info(n_workers=-1)["workers"] else alone_s + LOOK_S
            if alone_s >= patience_s:
                raise TimeoutError("no worker is left") from None
            continue
        alone_s = 0.0
        for future in done:
            job = held.pop(future)
            try:
                back = future.result()
            except KilledWorker:
                yield function(job)
            else:
                yield trip.unpack(job, back)
