"""The server extension: where the book lies, under which addresses it is served, when the kernel rests."""

from __future__ import annotations

import os
from pathlib import Path

from jupyter_server.extension.application import ExtensionApp
from tornado.ioloop import PeriodicCallback
from tornado.web import RedirectHandler
from traitlets import Float, Unicode, default

from pedalwright_app.course.desk import Desk
from pedalwright_app.course.pages import BookHandler, FontHandler
from pedalwright_app.course.socket import LiveSocket, StateHandler

BOOK_VARIABLE = "PEDALWRIGHT_COURSE_BOOK"
BUILT = Path(".build", "_build", "html")
LOOKS_FOR_REST_EVERY_S = 15.0


class CourseApp(ExtensionApp):
    """The book under ``/course/``, with benches that calculate."""

    name = "pedalwright_course"
    extension_url = "/course/"
    load_other_extensions = False
    description = "Serves the built book of Pedalwright; its benches calculate in a kernel."

    book = Unicode(help="Folder of the built book.").tag(config=True)
    rest_after_minutes = Float(20.0, help="Minutes without a question until the kernel is ended.").tag(config=True)

    @classmethod
    def get_extension_package(cls) -> str:
        """Name of the package that tells the server of this extension."""
        return "pedalwright_app.course"

    @default("book")
    def _default_book(self) -> str:
        return str(find_book())

    def initialize_handlers(self) -> None:
        """Add the addresses of the course."""
        book = Path(self.book).absolute()
        if not (book / "index.html").is_file():
            self.log.info("The course has no built book in %s; build it with: make book", book)
        server = self.serverapp
        assert server is not None
        self.desk = Desk(server.kernel_manager, self.log, 60 * self.rest_after_minutes)
        self._watch = PeriodicCallback(
            self.desk.rest_if_idle, 1000 * min(LOOKS_FOR_REST_EVERY_S, 15 * self.rest_after_minutes)
        )
        self._watch.start()
        files = {"path": str(book), "default_filename": "index.html"}
        whole = server.base_url.rstrip("/") + "/course/"
        self.handlers.extend(
            [
                (r"/course", RedirectHandler, {"url": whole, "permanent": False}),
                (r"/course/live", LiveSocket, {"desk": self.desk}),
                (r"/course/live/state", StateHandler, {"desk": self.desk}),
                (r"/course/(_static/.*\.woff2?)", FontHandler, files),
                (r"/course/(.*)", BookHandler, files),
            ]
        )

    async def stop_extension(self) -> None:
        """Let go of the kernel; the server ends it."""
        self._watch.stop()
        self.desk.close()


def find_book() -> Path:
    """Folder of the built book: named by the environment, or below this folder or the project's."""
    named = os.environ.get(BOOK_VARIABLE)
    if named:
        return Path(named)
    here = Path.cwd() / BUILT
    return here if here.is_dir() else Path(__file__).parents[3] / BUILT
