"""Do many jobs of one kind: here, or side by side on the cores of this machine."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from itertools import chain, islice
from typing import Any, Protocol

__all__ = ["Runner", "in_this_process", "local_pool", "suited"]

WORTH_A_POOL = 60
"""Jobs below which starting other processes costs more than it saves."""


class Runner(Protocol):
    """Yields the result of each job, in any order."""

    def __call__(self, function: Callable[[Any], Any], jobs: Iterable[Any], /) -> Iterator[Any]:
        """Apply the function to every job."""


def in_this_process(function: Callable[[Any], Any], jobs: Iterable[Any], /) -> Iterator[Any]:
    """Do one job after the other."""
    return map(function, jobs)


def local_pool(workers: int) -> Runner:
    """Make a runner that keeps some processes busy and holds only a few jobs in memory.

    Parameters
    ----------
    workers : int
        Processes, at least 1.

    Returns
    -------
    Runner
        If a process dies, the jobs it held are done in this one.
    """

    def run(function: Callable[[Any], Any], jobs: Iterable[Any], /) -> Iterator[Any]:
        waiting = iter(jobs)
        with ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("spawn")) as pool:
            held: dict[Future[Any], Any] = {}
            try:
                while True:
                    for job in islice(waiting, 4 * workers - len(held)):
                        future: Future[Any] = Future()
                        held[future] = job
                        held[pool.submit(function, job)] = held.pop(future)
                    if not held:
                        return
                    for future in wait(held, return_when=FIRST_COMPLETED).done:
                        result = future.result()
                        del held[future]
                        yield result
            except BrokenProcessPool:
                rest = list(held.values())
        yield from map(function, chain(rest, waiting))

    return run


def suited(job_count: int, workers: int | None = None) -> Runner:
    """Choose a runner for a number of jobs.

    Parameters
    ----------
    job_count : int
        How many jobs there are.
    workers : int, optional
        Processes to use; by default as many as there are cores, if the jobs are worth it.

    Returns
    -------
    Runner
        In this process for few jobs, a pool otherwise.
    """
    if workers is None:
        workers = (os.cpu_count() or 1) if job_count >= WORTH_A_POOL else 1
    return in_this_process if workers <= 1 else local_pool(workers)
