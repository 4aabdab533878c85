"""The example configuration of a hub: a trainee signs in, the course opens, and a slider moves a live figure."""

import os
import re
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest
from playwright.sync_api import Browser, Page

from pedalwright_app import course as course_package
from pedalwright_bench.bench import bench

EXAMPLE = Path(course_package.__file__).with_name("jupyterhub_config_example.py")
FIGURE = "#bench-wedge"
PASSWORD = "saddle-height-34"
# The example as it is, with ports and folders of the test, and a proxy in Python.
AROUND = """
load_subconfig({example!r})
c.ConfigurableHTTPProxy.command = [{proxy!r}]
c.ConfigurableHTTPProxy.api_url = "http://127.0.0.1:{api}"
c.JupyterHub.hub_port = {hub}
c.JupyterHub.db_url = "sqlite:///{folder}/hub.sqlite"
c.JupyterHub.cookie_secret_file = "{folder}/cookie_secret"
c.ConfigurableHTTPProxy.pid_file = "{folder}/proxy.pid"
c.Spawner.args += {more!r}
"""


def free_ports(count: int) -> list[int]:
    """Ports that nobody listens on."""
    sockets = [socket.socket() for _ in range(count)]
    for line in sockets:
        line.bind(("127.0.0.1", 0))
    ports = [line.getsockname()[1] for line in sockets]
    for line in sockets:
        line.close()
    return ports


@pytest.fixture(scope="module")
def hub(book_folder, tmp_path_factory) -> Iterator[str]:
    """Run a hub; yields its address with a slash at its end."""
    proxy = shutil.which("configurable-http-proxy", path=str(Path(sys.executable).parent)) or shutil.which(
        "configurable-http-proxy"
    )
    assert proxy, "the hub needs configurable-http-proxy; it is in the test tools: make setup-test"
    folder = tmp_path_factory.mktemp("hub")
    public, api, own = free_ports(3)
    address = f"http://127.0.0.1:{public}/school/"
    config = folder / "config.py"
    config.write_text(
        AROUND.format(
            example=str(EXAMPLE),
            proxy=proxy,
            api=api,
            hub=own,
            folder=folder,
            more=["--allow-root"] if os.geteuid() == 0 else [],
        )
    )
    environment = {
        **os.environ,
        "PEDALWRIGHT_COURSE_BOOK": str(book_folder),
        "PEDALWRIGHT_HUB_ADDRESS": address,
        "PEDALWRIGHT_HUB_PASSWORD": PASSWORD,
        "PEDALWRIGHT_HUB_TRAINEES": "plover wren",
        "PEDALWRIGHT_HUB_HOMES": str(folder / "homes"),
        "CONFIGPROXY_AUTH_TOKEN": "for-this-test-only",
    }
    environment.pop("PEDALWRIGHT_BOOK", None)
    with (folder / "hub.log").open("w") as log:
        command = [sys.executable, "-m", "jupyterhub", "-f", str(config)]
        server = subprocess.Popen(command, cwd=folder, env=environment, stdout=log, stderr=subprocess.STDOUT)
        until = time.monotonic() + 60
        while "JupyterHub is now running" not in (folder / "hub.log").read_text():
            if server.poll() is not None or time.monotonic() > until:
                pytest.fail((folder / "hub.log").read_text()[-3000:])
            time.sleep(0.3)
        yield address
        family = psutil.Process(server.pid).children(recursive=True)
        server.terminate()
        server.wait(timeout=30)
        _, left = psutil.wait_procs(family, timeout=10)
        for process in left:
            process.kill()


def sign_in(page: Page, address: str, name: str, password: str = PASSWORD) -> None:
    """Sign in on the hub's form."""
    page.goto(address)
    page.fill("input[name=username]", name)
    page.fill("input[name=password]", password)
    page.click("input[type=submit]")


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page of a browser that nobody signed in with."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    yield context.new_page()
    context.close()


def test_a_trainee_signs_in_and_moves_a_live_slider(hub, page, page_of):
    asked, complaints = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("websocket", lambda line: asked.append(line.url))
    sign_in(page, hub, "plover")
    page.wait_for_url(re.compile(r"/school/user/plover/course/"), timeout=90_000)
    assert page.title().endswith("Pedalwright")
    page.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
    page.goto(f"{hub}user/plover/course/{page_of('wedge')}")
    page.wait_for_selector("html[data-live=ready]", timeout=60_000)
    page.locator(f"{FIGURE} .bench-uncover").click()
    found = bench("wedge")
    for number, key, values in ((0, "Home", (-3, 1.5, 95)), (1, "End", (-3, 3, 95)), (2, "End", (-3, 3, 105))):
        page.locator(f"{FIGURE} input[type=range]").nth(number).focus()
        page.keyboard.press(key)
        shown = " ".join(f"{v:g}" for v in values)
        page.wait_for_selector(f"{FIGURE}[data-live='{shown}']:not(.bench-waiting)")
        assert page.locator(f"{FIGURE} .bench-sentence").inner_text() == found.say(found.at(*values))
    assert page.evaluate("document.fonts.ready.then((fonts) => [...fonts].some((f) => f.status == 'loaded'))")
    page.goto(f"{hub}user/plover/course/search.html?q=torque")
    page.locator("#search-results p.context").first.wait_for()  # cut from a page that the search fetches
    own = (hub.removesuffix("/school/"), hub.removesuffix("/school/").replace("http", "ws", 1), "data:", "blob:")
    assert [url for url in asked if not url.startswith(own)] == []
    assert complaints == []


def test_a_trainee_cannot_open_the_course_of_another(hub, page, page_of):
    sign_in(page, hub, "wren")
    page.wait_for_url(re.compile(r"/school/user/wren/course/"), timeout=90_000)
    reply = page.goto(f"{hub}user/plover/course/{page_of('wedge')}")
    assert reply.status in {403, 404}
    assert page.locator(FIGURE).count() == 0


def test_who_is_not_on_the_list_or_has_another_password_stays_outside(hub, page):
    for name, password in (("magpie", PASSWORD), ("plover", "saddle-height-35")):
        with page.expect_response(lambda reply: reply.request.method == "POST") as answer:
            sign_in(page, hub, name, password)
        assert answer.value.status == 403
        assert "/hub/login" in page.url
