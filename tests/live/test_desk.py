"""The desk between pages and kernel, with real kernels of a manager of its own, and with one that cannot start any."""

import asyncio
import logging
from concurrent.futures import ThreadPoolExecutor
from unittest.mock import AsyncMock

import pytest
from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager

from pedalwright_app.course.desk import Desk, KernelLost
from pedalwright_bench.bench import bench

QUESTION = {"ask": 5, "bench": "wedge", "values": [3, 1.5, 95]}
SENTENCE = bench("wedge").say(bench("wedge").at(3, 1.5, 95))


@pytest.fixture
def with_desk(tmp_path, monkeypatch):
    """Run a coroutine with a desk, the states it tells, and its kernel manager."""
    monkeypatch.setenv("JUPYTER_RUNTIME_DIR", str(tmp_path))
    monkeypatch.setenv("IPYTHONDIR", str(tmp_path))

    def run(work, rest_after_s=60.0):
        async def main():
            manager = AsyncMappingKernelManager(root_dir=str(tmp_path))
            desk = Desk(manager, logging.getLogger("test"), rest_after_s)
            told = []
            desk.listeners.add(told.append)
            try:
                async with asyncio.timeout(90):
                    await work(desk, told, manager)
            finally:
                desk.close()
                await manager.shutdown_all(now=True)

        # A thread of its own: in a process that has driven a browser, an event loop runs in this one already.
        with ThreadPoolExecutor(1) as own:
            own.submit(asyncio.run, main()).result()

    return run


def test_it_starts_one_kernel_for_all_who_ask_at_once(with_desk):
    async def work(desk, told, manager):
        answers = await asyncio.gather(*(desk.ask(QUESTION) for _ in range(4)))
        assert {about["sentence"] for about, _ in answers} == {SENTENCE}
        assert len(manager.list_kernel_ids()) == 1
        assert told == ["starting", "ready"]

    with_desk(work)


def test_it_puts_an_idle_kernel_to_rest_and_never_a_busy_one(with_desk):
    async def work(desk, told, manager):
        await desk.ask(QUESTION)
        await desk.rest_if_idle()
        assert told == ["starting", "ready"]
        desk.rest_after_s = 0
        await desk.rest_if_idle()
        assert manager.list_kernel_ids() == []
        assert (await desk.ask(QUESTION))[0]["sentence"] == SENTENCE
        assert told == ["starting", "ready", "resting", "starting", "ready"]

    with_desk(work)


def test_who_waits_when_the_kernel_ends_is_told_and_the_next_is_answered(with_desk):
    async def work(desk, told, manager):
        await desk.ask(QUESTION)
        await manager.get_kernel(desk.kernel_id).signal_kernel(19)  # it stops where it stands
        waiting = asyncio.create_task(desk.ask(QUESTION))
        await asyncio.sleep(0.2)
        await manager.get_kernel(desk.kernel_id).signal_kernel(9)
        with pytest.raises(KernelLost):
            await waiting
        assert (await desk.ask(QUESTION))[0]["sentence"] == SENTENCE
        assert told == ["starting", "ready", "stopped", "ready"]

    with_desk(work)


def test_a_kernel_that_cannot_start_is_told_and_tried_again_at_the_next_question(with_desk):
    async def work(desk, told, manager):
        start = manager.start_kernel
        manager.start_kernel = AsyncMock(side_effect=RuntimeError("no memory"))
        with pytest.raises(RuntimeError, match="no memory"):
            await desk.ask(QUESTION)
        assert told == ["starting", "failed"]
        manager.start_kernel = start
        assert (await desk.ask(QUESTION))[0]["sentence"] == SENTENCE
        assert told[2:] == ["starting", "ready"]

    with_desk(work)
