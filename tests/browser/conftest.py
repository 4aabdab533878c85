"""A loopback server for built pages, and what is noted while one is open."""

import functools
import shutil
import subprocess
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, Response

from pedalwright_bench.bench import bench
from pedalwright_bench.frames import draw_all
from pedalwright_bench.static import static

ROOT = Path(__file__).parents[2]
BOOK = ROOT / ".build" / "_build" / "html"
FRAMES = ROOT / ".build" / "static" / "benches"
HERE = Path(__file__).parent
WCAG_22_AA = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what lies in this folder; one browser at a time is enough for a small machine."""
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.xdist_group("browser"))


class _Handler(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


@pytest.fixture(scope="session")
def serve() -> Iterator:
    """Serve a folder on a free loopback port; returns the address without a slash at its end."""
    servers: list[ThreadingHTTPServer] = []

    def start(folder: Path) -> str:
        server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Handler, directory=str(folder)))
        threading.Thread(target=server.serve_forever, daemon=True).start()
        servers.append(server)
        return f"http://127.0.0.1:{server.server_port}"

    yield start
    for server in servers:
        server.shutdown()
        server.server_close()


@pytest.fixture(scope="session")
def book_folder() -> Path:
    """Folder of the built book; built if it is missing (``make test`` builds it before)."""
    if not (BOOK / "index.html").is_file():
        subprocess.run(["make", "book"], cwd=ROOT, check=True)
    return BOOK


@pytest.fixture(scope="session")
def book_url(book_folder: Path, serve) -> str:
    """Address of the built book."""
    return serve(book_folder)


@pytest.fixture(scope="session")
def own_page_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One bench on a plain page of our own, without a book around it."""
    draw_all(FRAMES, ["lever-tangency"])
    folder = tmp_path_factory.mktemp("page")
    (folder / "_static").mkdir()
    for asset in ("bench.js", "bench.css"):
        shutil.copy(ROOT / "book" / "assets" / asset, folder / "_static")
    (folder / "_static" / "benches").symlink_to(FRAMES)
    figure = static(bench("lever-tangency")).html
    (folder / "page.html").write_text(
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1"><title>A bench</title>'
        '<link rel="icon" href="data:,"><link rel="stylesheet" href="_static/bench.css">'
        '<script defer src="_static/bench.js"></script></head>'
        f'<body style="font-family:sans-serif;margin:1rem"><main><h1>A bench</h1>{figure}</main></body></html>',
        encoding="utf8",
    )
    return folder


@dataclass
class Visit:
    """A page, and what was asked of the network and said on the console while it was open."""

    page: Page
    origin: str
    responses: list[Response] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    @property
    def strangers(self) -> list[str]:
        """Requests to other origins."""
        own = (self.origin, "data:", "blob:") if self.origin else ("file:", "data:", "blob:")
        return [url for url in self.asked if not url.startswith(own)]

    def weight_bytes(self) -> int:
        """Uncompressed size of everything fetched so far."""
        self.page.wait_for_load_state("networkidle")
        return sum(len(response.body()) for response in self.responses)

    def accessibility_faults(self) -> list[str]:
        """What axe finds against WCAG 2.2 AA."""
        found = Axe().run(self.page, options={"runOnly": {"type": "tag", "values": WCAG_22_AA}})
        return [
            f"{fault['id']}: {fault['help']} at {[node['target'] for node in fault['nodes']]}"
            for fault in found.response["violations"]
        ]


@pytest.fixture
def visit(browser: Browser) -> Iterator:
    """Open a page in a browser of the given width; closed after the test."""
    contexts = []

    def go(url: str, width: int = 1280, height: int = 900, *, ready: bool = True, **options: object) -> Visit:
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
        contexts.append(context)
        page = context.new_page()
        origin = "/".join(url.split("/")[:3]) if url.startswith("http") else ""
        seen = Visit(page, origin)
        page.on("request", lambda request: seen.asked.append(request.url))
        page.on("response", lambda response: seen.responses.append(response))
        page.on("requestfailed", lambda request: seen.complaints.append(f"failed: {request.url}"))
        page.on("pageerror", lambda error: seen.complaints.append(f"error: {error}"))
        page.on("console", lambda said: seen.complaints.append(said.text) if said.type == "error" else None)
        page.goto(url)
        if ready:
            page.wait_for_load_state("networkidle")
        return seen

    yield go
    for context in contexts:
        context.close()
