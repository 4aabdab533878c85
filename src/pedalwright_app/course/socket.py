"""The socket of a live page: questions in, pictures out, each answered as soon as the kernel has it."""

from __future__ import annotations

import asyncio
import contextlib
import json
import struct
from typing import Any

from jupyter_core.utils import ensure_async
from jupyter_server.auth.decorator import ws_authenticated
from jupyter_server.base.handlers import APIHandler, JupyterHandler
from jupyter_server.base.websocket import WebSocketMixin
from tornado import web
from tornado.websocket import WebSocketClosedError, WebSocketHandler

from pedalwright_app.course.desk import Desk, KernelLost

LONGEST_QUESTION = 2000
MOST_AT_ONCE = 16
FIELDS = ("ask", "bench", "values", "layout", "pixels")


def packed(about: dict[str, Any], picture: bytes) -> bytes:
    """Put an answer into one message: length of the text (4 bytes, lowest first), the text, the picture."""
    text = json.dumps(about, ensure_ascii=False).encode()
    return struct.pack("<I", len(text)) + text + picture


def question_in(message: str | bytes) -> dict[str, Any]:
    """Read a question; raises `ValueError` for anything else. Only the fields of a question go on to the kernel."""
    if not isinstance(message, str) or len(message) > LONGEST_QUESTION:
        raise ValueError("too long, or not text")
    said = json.loads(message)
    if not isinstance(said, dict) or not isinstance(said.get("bench"), str) or not isinstance(said.get("values"), list):
        raise ValueError("no bench or no values")
    return {name: said[name] for name in FIELDS if name in said}


class LiveSocket(WebSocketMixin, WebSocketHandler, JupyterHandler):
    """One page's line to the desk."""

    auth_resource = "course"

    def initialize(self, desk: Desk) -> None:
        """Take the desk of this server."""
        self.desk = desk
        self._tasks: set[asyncio.Task[None]] = set()

    def set_default_headers(self) -> None:
        """Set none: headers of pages make no sense here."""

    @ws_authenticated
    async def get(self, *args: Any, **kwargs: Any) -> None:
        """Open the socket for who is signed in and may run kernels."""
        if not await ensure_async(self.authorizer.is_authorized(self, self.current_user, "execute", "kernels")):
            raise web.HTTPError(403)
        await super().get(*args, **kwargs)

    async def open(self, *args: Any, **kwargs: Any) -> None:
        """Say how the kernel is, and wake it."""
        super().open(*args, **kwargs)
        self.set_nodelay(True)  # or small messages wait 40 ms for each other
        self.desk.listeners.add(self._tell)
        self._tell(self.desk.state)
        self._start(self._wake())

    def on_message(self, message: str | bytes) -> None:
        """Take a question; nonsense ends the connection."""
        try:
            question = question_in(message)
        except ValueError:
            self.close(1008, "not a question")
            return
        if len(self._tasks) >= MOST_AT_ONCE:
            self._send_text({"ask": question.get("ask"), "trouble": "too many questions at once; wait for an answer"})
            return
        self._start(self._answer(question))

    def on_close(self) -> None:
        """Leave the desk."""
        self.desk.listeners.discard(self._tell)
        for task in self._tasks:
            task.cancel()

    async def _wake(self) -> None:
        try:
            await self.desk.wake()
        except Exception as trouble:
            self.log.warning("Live course: the kernel could not be started (%s)", trouble)

    async def _answer(self, question: dict[str, Any]) -> None:
        try:
            about, picture = await self.desk.ask(question)
        except Exception as trouble:
            if not isinstance(trouble, KernelLost):
                self.log.warning("Live course: no answer (%s: %s)", type(trouble).__name__, trouble)
            self._send_text({"ask": question.get("ask"), "lost": True})
            return
        with contextlib.suppress(WebSocketClosedError):
            await self.write_message(packed(about, picture), binary=True)

    def _tell(self, state: str) -> None:
        self._send_text({"state": state})

    def _send_text(self, said: dict[str, Any]) -> None:
        try:
            self.write_message(json.dumps(said))
        except WebSocketClosedError:
            self.desk.listeners.discard(self._tell)

    def _start(self, work: Any) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)


class StateHandler(APIHandler):
    """Says whether one is signed in, for a page whose socket does not open."""

    auth_resource = "course"

    def initialize(self, desk: Desk) -> None:
        """Take the desk of this server."""
        self.desk = desk

    @web.authenticated
    def get(self) -> None:
        """Say how the kernel is."""
        self.finish(json.dumps({"state": self.desk.state}))
