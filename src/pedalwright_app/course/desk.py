"""One kernel behind all live pages of a server: started when asked, watched, put to rest when nobody asks.

All pages and tabs share it, because a kernel takes over 100 MB and a bench's answer depends on its question alone. The
kernel is an ordinary one of the server, started with the extension `pedalwright_bench.answers`; questions and answers
are comm messages of the open notebook protocol, so no code ever comes from a page.
"""

from __future__ import annotations

import asyncio
import contextlib
import itertools
import time
from collections.abc import Callable, Mapping
from logging import Logger
from typing import Any
from uuid import uuid4

from jupyter_core.utils import ensure_async

from pedalwright_bench.answers import TARGET

KERNEL = "python3"
ARGUMENTS = [
    "--InteractiveShellApp.extra_extensions=pedalwright_bench.answers",
    "--HistoryManager.enabled=False",
    "--log-level=ERROR",
]
START_S = 60.0
ANSWER_S = 20.0
LOOK_S = 1.0
NUDGE_S = 0.3

Reply = tuple[dict[str, Any], bytes]


class KernelLost(Exception):
    """The kernel went away before it answered."""


class Desk:
    """Takes questions to the kernel and answers back; tells listeners how the kernel is."""

    def __init__(self, manager: Any, log: Logger, rest_after_s: float) -> None:
        self._manager = manager
        self._log = log
        self.rest_after_s = rest_after_s
        self.state = "resting"
        self.listeners: set[Callable[[str], None]] = set()
        self.kernel_id: str | None = None
        self._client: Any = None
        self._comm = ""
        self._listening: asyncio.Task[None] | None = None
        self._waiting: dict[int, asyncio.Future[Reply]] = {}
        self._numbers = itertools.count(1)
        self._lock = asyncio.Lock()
        self._last = time.monotonic()
        self._background: set[asyncio.Task[Any]] = set()

    async def wake(self) -> None:
        """Start the kernel, or find it again; returns when it can answer."""
        self._last = time.monotonic()
        async with self._lock:
            if self._client is not None and self.kernel_id in self._manager:
                return
            if self.state != "stopped":
                self._tell("starting")
            try:
                await self._connect()
            except BaseException:
                self._drop()
                self._tell("failed")
                raise
            self._tell("ready")

    async def ask(self, question: Mapping[str, Any]) -> Reply:
        """Ask the kernel; raises `KernelLost` when it goes away, which listeners are told too."""
        await self.wake()
        number = next(self._numbers)
        future = self._waiting[number] = asyncio.get_running_loop().create_future()
        future.add_done_callback(lambda done: self._waiting.pop(number, None) and None)
        content = {"comm_id": self._comm, "data": {**question, "number": number}}
        self._send("comm_msg", content)
        until = time.monotonic() + ANSWER_S
        while True:
            with contextlib.suppress(TimeoutError):
                return await asyncio.wait_for(asyncio.shield(future), LOOK_S)
            if not await self._is_alive():
                self._lose("the kernel ended")
            elif time.monotonic() > until:
                self._lose("the kernel does not answer")
                await ensure_async(self._manager.interrupt_kernel(self.kernel_id))

    async def rest_if_idle(self) -> None:
        """End the kernel when nobody asked for a while; the next question starts a new one."""
        if self.kernel_id is None or self._lock.locked() or time.monotonic() - self._last < self.rest_after_s:
            return
        kernel_id, self.kernel_id = self.kernel_id, None
        self._drop()
        self._tell("resting")
        if kernel_id in self._manager:
            await ensure_async(self._manager.shutdown_kernel(kernel_id, now=True))

    def close(self) -> None:
        """Let go of the kernel without ending it."""
        self._drop()
        for task in self._background:
            task.cancel()

    async def _connect(self) -> None:
        if self.kernel_id is None or self.kernel_id not in self._manager:
            kernel_id = await ensure_async(
                self._manager.start_kernel(kernel_name=KERNEL, extra_arguments=list(ARGUMENTS))
            )
            self.kernel_id = kernel_id
            for event in ("restart", "dead"):
                self._manager.add_restart_callback(kernel_id, lambda e=event: self._restarted(kernel_id, e), event)
        until = time.monotonic() + START_S
        while time.monotonic() < until:
            client = self._manager.get_kernel(self.kernel_id).client()
            client.start_channels(shell=True, iopub=True, stdin=False, hb=False, control=False)
            if await self._opened(client):
                return
            client.stop_channels()
        raise KernelLost("the kernel did not start")

    async def _opened(self, client: Any) -> bool:
        """Open the comm; False when nothing was heard for a while, for the addresses may have changed."""
        comm = uuid4().hex
        for _ in range(10):
            client.kernel_info()
            if await _heard(client, lambda m: True, NUDGE_S):
                break
        else:
            return False
        content = {"comm_id": comm, "target_name": TARGET, "data": {}}
        client.shell_channel.send(client.session.msg("comm_open", content))

        def ready(message: Mapping[str, Any]) -> bool:
            return bool(message["msg_type"] == "comm_msg" and message["content"].get("comm_id") == comm)

        if not await _heard(client, ready, START_S / 3):
            return False
        self._client, self._comm = client, comm
        self._listening = asyncio.create_task(self._listen(client))
        return True

    async def _listen(self, client: Any) -> None:
        while True:
            message = await client.get_iopub_msg(timeout=None)
            content = message["content"]
            if message["msg_type"] != "comm_msg" or content.get("comm_id") != self._comm:
                continue
            future = self._waiting.get(content["data"].pop("number", 0))
            if future is not None and not future.done():
                picture = bytes(message["buffers"][0]) if message["buffers"] else b""
                future.set_result((content["data"], picture))

    def _send(self, kind: str, content: Mapping[str, Any]) -> None:
        self._client.shell_channel.send(self._client.session.msg(kind, content))

    async def _is_alive(self) -> bool:
        if self.kernel_id is None or self.kernel_id not in self._manager:
            return False
        return bool(await ensure_async(self._manager.is_alive(self.kernel_id)))

    def _restarted(self, kernel_id: str, event: str) -> None:
        if kernel_id != self.kernel_id:
            return
        if event == "dead":
            self.kernel_id = None
        self._lose("the kernel was restarted" if event == "restart" else "the kernel ended again and again")

    def _lose(self, why: str) -> None:
        """Forget the connection, tell everyone, and find the kernel again in the background."""
        if self._client is None:
            return
        self._log.warning("Live course: %s", why)
        self._drop()
        self._tell("stopped")
        task = asyncio.get_running_loop().create_task(self._wake_quietly())
        self._background.add(task)
        task.add_done_callback(self._background.discard)

    async def _wake_quietly(self) -> None:
        try:
            await self.wake()
        except Exception as trouble:
            self._log.warning("Live course: the kernel could not be started (%s)", trouble)

    def _drop(self) -> None:
        if self._listening is not None:
            self._listening.cancel()
        if self._client is not None:
            self._client.stop_channels()
        self._client, self._listening = None, None
        for future in list(self._waiting.values()):
            if not future.done():
                future.set_exception(KernelLost("the kernel went away"))
                future.exception()

    def _tell(self, state: str) -> None:
        self.state = state
        for listener in list(self.listeners):
            listener(state)


async def _heard(client: Any, wanted: Callable[[Mapping[str, Any]], bool], within_s: float) -> bool:
    """Wait for a message on the open channel."""
    until = time.monotonic() + within_s
    while (left := until - time.monotonic()) > 0:
        try:
            message = await client.get_iopub_msg(timeout=left)
        except Exception:
            return False
        if wanted(message):
            return True
    return False
