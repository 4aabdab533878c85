"""The course server as a reader starts it, and pages of it in a browser."""

import functools
import json
import os
import re
import signal
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import psutil
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page

ROOT = Path(__file__).parents[2]
BOOK = Path(os.environ.get("PEDALWRIGHT_COURSE_BOOK") or ROOT / ".build" / "_build" / "html")
HERE = Path(__file__).parent
WITHOUT_BROWSER = {"test_answers", "test_course_files", "test_course_socket", "test_desk", "test_photo", "test_study"}
WCAG_22_AA = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
# The pages' policy forbids the evaluation that waiting for a function needs, so tests wait for attributes.
READY = "html[data-live=ready]"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what needs a browser; one at a time is enough for a small machine."""
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.xdist_group("browser"))
            if item.path.stem not in WITHOUT_BROWSER:
                item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def book_folder() -> Path:
    """Folder of the built book; built if it is missing (``make test`` builds it before)."""
    if not (BOOK / "index.html").is_file():
        subprocess.run(["make", "book"], cwd=ROOT, check=True)
    return BOOK


@dataclass
class Course:
    """A running course server."""

    command: list[str]
    environment: dict[str, str]
    port: int = 0
    token: str = ""
    process: subprocess.Popen = None

    def start(self) -> "Course":
        """Start it, again on the same port if it ran before."""
        port = ["--port", str(self.port)] if self.port else []
        self.process = subprocess.Popen(
            [*self.command, *port], stdout=subprocess.PIPE, text=True, env=self.environment, start_new_session=True
        )
        for line in self.process.stdout:
            if found := re.search(r"http://127\.0\.0\.1:(\d+)/course/\?token=(\S+)", line):
                self.port, self.token = int(found[1]), found[2]
                return self
        raise AssertionError("the course did not start")

    def stop(self, by: int = signal.SIGINT) -> int:
        """Stop it, as Ctrl-C does; returns its exit code."""
        if self.process.poll() is None:
            self.process.send_signal(by)
        try:
            return self.process.wait(timeout=30)
        finally:
            self.process.kill()
            self.process.stdout.close()

    @property
    def address(self) -> str:
        """Where the book lies, with a slash at its end."""
        return f"http://127.0.0.1:{self.port}/course/"

    def kernels(self) -> list[psutil.Process]:
        """Processes of the server's kernels."""
        found = []
        for child in psutil.Process(self.process.pid).children(recursive=True):
            try:
                if any("ipykernel_launcher" in word for word in child.cmdline()):
                    found.append(child)
            except psutil.NoSuchProcess:
                continue
        return found

    def listed_kernels(self) -> list[dict]:
        """Kernels as the server lists them."""
        request = urllib.request.Request(
            f"http://127.0.0.1:{self.port}/api/kernels", headers={"Authorization": f"token {self.token}"}
        )
        with urllib.request.urlopen(request, timeout=10) as reply:
            return json.load(reply)


@pytest.fixture(scope="session")
def new_course(book_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator:
    """Start course servers whose settings and secrets lie in a folder of the test."""
    started = []

    def start(*options: str) -> Course:
        folder = tmp_path_factory.mktemp("reader")
        environment = {
            **os.environ,
            "HOME": str(folder),
            "JUPYTER_RUNTIME_DIR": str(folder / "runtime"),
            "JUPYTER_CONFIG_DIR": str(folder / "config"),
            "IPYTHONDIR": str(folder / "ipython"),
        }
        environment.pop("PEDALWRIGHT_BOOK", None)
        command = [sys.executable, "-m", "pedalwright_app", "study", "--book", str(book_folder), "--no-open", *options]
        started.append(Course(command, environment).start())
        return started[-1]

    yield start
    for course in started:
        course.stop()


@pytest.fixture(scope="session")
def course(new_course) -> Course:
    """One course server for most tests."""
    return new_course()


@dataclass
class LivePage:
    """A page of the course, and what was asked of the network and said on the console meanwhile."""

    page: Page
    origin: str
    asked: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    @property
    def strangers(self) -> list[str]:
        """Requests to other origins, sockets included."""
        own = (self.origin, self.origin.replace("http", "ws", 1), "data:", f"blob:{self.origin}")
        return [url for url in self.asked if not url.startswith(own)]

    def open(self, address: str, *, ready: bool = True) -> "LivePage":
        """Go to a page and wait until its benches are live."""
        self.page.goto(address)
        if ready:
            self.page.wait_for_selector(READY, timeout=60_000)
        return self

    def state(self, name: str, timeout_s: float = 30) -> None:
        """Wait until the page says that the kernel is in a state."""
        self.page.wait_for_selector(f"html[data-live={name}]", timeout=1000 * timeout_s)

    def said(self) -> str:
        """What the first bench says about the kernel."""
        return self.page.locator(".bench-state").first.inner_text()

    def accessibility_faults(self) -> list[str]:
        """What axe finds against WCAG 2.2 AA."""
        found = Axe().run(self.page, options={"runOnly": {"type": "tag", "values": WCAG_22_AA}})
        return [
            f"{fault['id']}: {fault['help']} at {[node['target'] for node in fault['nodes']]}"
            for fault in found.response["violations"]
        ]


def watched(page: Page, origin: str) -> LivePage:
    """Note what a page asks for and complains about."""
    seen = LivePage(page, origin)
    page.on("request", lambda request: seen.asked.append(request.url))
    page.on("websocket", lambda socket: seen.asked.append(socket.url))
    page.on("pageerror", lambda error: seen.complaints.append(f"error: {error}"))
    page.on("console", lambda said: seen.complaints.append(said.text) if said.type == "error" else None)
    return seen


@pytest.fixture
def reader(browser: Browser) -> Iterator:
    """Sign in to a course with a browser of the given width; call with the course, get a page not yet opened."""
    contexts: list[BrowserContext] = []

    def come(course: Course, width: int = 1280, height: int = 900, beside: LivePage | None = None, **how) -> LivePage:
        if beside is None:
            context = browser.new_context(viewport={"width": width, "height": height}, **how)
            contexts.append(context)
            context.request.get(f"{course.address}?token={course.token}")
        else:
            context = beside.page.context
        return watched(context.new_page(), course.address.removesuffix("/course/"))

    yield come
    for context in contexts:
        context.close()


@pytest.fixture(scope="session")
def page_of(book_folder: Path):
    """Find the page of the book that shows a bench."""

    def find(name: str) -> str:
        for path in sorted(book_folder.glob("*.html")):
            if f'data-bench="{name}"' in path.read_text(encoding="utf8"):
                return path.name
        raise AssertionError(f"no page shows the bench {name}")

    return find


@pytest.fixture(scope="session")
def page_data(book_folder: Path, page_of):
    """Read the data of a bench out of the page that shows it."""

    def read(name: str) -> dict:
        html = (book_folder / page_of(name)).read_text(encoding="utf8")
        figure = html[html.index(f'data-bench="{name}"') :]
        return json.loads(re.search(r'class="bench-data">(.*?)</script>', figure, re.DOTALL)[1])

    return read


@pytest.fixture(scope="session")
def frames_folder(book_folder: Path) -> Path:
    """Folder of the pictures drawn beforehand, as the built book holds them."""
    return book_folder / "_static" / "benches"


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


@pytest.fixture
def static_reader(browser: Browser, book_folder: Path) -> Iterator:
    """Open a page of the book on a static host."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(book_folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    origin = f"http://127.0.0.1:{server.server_port}"
    page = browser.new_page()
    yield lambda name: watched(page, origin).open(f"{origin}/{name}", ready=False)
    page.close()
    server.shutdown()
    server.server_close()
