"""How fast a bench answers a slider: live in the page, as frames in the page, and as a plain pyplot figure in a widget.

All three are measured in the same run, bench by bench. "Live" goes the whole way through the browser, the course server
and its kernel; "frames" is the same page on a static host; "plain" is a slider observed by a function that draws the
same picture with pyplot into an Output widget, timed from the message to the kernel to the picture's message back, so
without a browser, in its favour. Give names of benches to measure only these.
"""

import argparse
import functools
import os
import re
import shutil
import signal
import statistics
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import numpy as np
from jupyter_client.manager import start_new_kernel
from playwright.sync_api import Browser, Page, sync_playwright

from pedalwright_bench.bench import Bench, bench, published_names

ROOT = Path(__file__).parents[1]
BOOK = ROOT / ".build" / "_build" / "html"
LIMITS_MS = {"live": (60, 100), "frames": (16, None)}
TIMES_FASTER = 3

# From a move of the slider until the new picture is loaded and decoded; the slider goes to and fro over its places.
MEASURE = """
async ([name, moves, live]) => {
  const figure = document.querySelector(`#bench-${name}`);
  const image = figure.querySelector(".bench-view img");
  const slider = [...figure.querySelectorAll("input[type=range]")].sort((a, b) => span(b) - span(a))[0];
  function span(input) { return (input.max - input.min) / input.step; }
  const next = () => new Promise((done) => image.addEventListener("load", done, { once: true }));
  const times = [];
  let way = 1;
  for (let i = 0; i < moves + 5; i += 1) {
    if (Number(slider.value) >= Number(slider.max)) way = -1;
    if (Number(slider.value) <= Number(slider.min)) way = 1;
    const before = image.currentSrc;
    const loaded = next();
    const begin = performance.now();
    slider.value = Number(slider.value) + way * Number(slider.step);
    slider.dispatchEvent(new Event("input"));
    await loaded;
    await image.decode();
    if (i >= 5) times.push(performance.now() - begin);
    if (image.currentSrc === before) throw new Error("the picture did not change");
    if (live && !image.currentSrc.startsWith("blob:")) throw new Error("no live picture");
    await new Promise((done) => setTimeout(done, 40));
  }
  return times;
}
"""

PLAIN = """
%matplotlib inline
import ipywidgets, matplotlib.pyplot as plt
from IPython.display import display
from pedalwright_bench.bench import bench
from pedalwright_bench.style import style
found = bench({name!r})
number = max(range(len(found.sliders)), key=lambda i: len(found.sliders[i].values))
choices = found.sliders[number].values
slider = ipywidgets.SelectionSlider(options=choices, value=choices[0])
out = ipywidgets.Output()
def redraw(change):
    values = list(found.defaults)
    values[number] = change["new"]
    with out:
        out.clear_output(wait=True)
        with style("wide"):
            picture = found.picture("wide")
            manager = plt.figure().canvas.manager
            picture.figure.set_canvas(type(manager.canvas)(picture.figure))
            picture.update(found.at(*values))
            display(picture.figure)
            plt.close("all")
slider.observe(redraw, "value")
display(slider, out)
print("model", slider.model_id, len(choices))
"""


@contextmanager
def course() -> Iterator[str]:
    """Run the course as a reader does; yields its address."""
    command = [sys.executable, "-m", "pedalwright_app", "study", "--book", str(BOOK), "--no-open"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, start_new_session=True) as server:
        assert server.stdout is not None
        address = next(found[0] for line in server.stdout if (found := re.search(r"http://\S+", line)))
        try:
            yield address
        finally:
            server.send_signal(signal.SIGINT)
            server.wait(timeout=20)


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        pass


@contextmanager
def static_host() -> Iterator[str]:
    """Serve the built book as a static host does; yields its address."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(BOOK)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()


def page_of(name: str) -> str:
    """Name of the page that shows a bench."""
    return next(p.name for p in sorted(BOOK.glob("*.html")) if f'data-bench="{name}"' in p.read_text(encoding="utf8"))


def in_the_page(page: Page, address: str, name: str, moves: int, *, live: bool) -> list[float]:
    """Times of moves in an opened page, in milliseconds."""
    page.goto(address + page_of(name))
    figure = page.locator(f"#bench-{name}")
    figure.locator(".bench-uncover").click()
    figure.locator(".bench-slider input").first.hover()
    page.wait_for_selector(f"#bench-{name}[data-ready=yes]", timeout=60_000)
    if live:
        page.wait_for_selector(f"#bench-{name}[data-live]", timeout=60_000)
        page.wait_for_timeout(300)
    times: list[float] = page.evaluate(MEASURE, [name, moves, live])
    return times


def plain(found: Bench, moves: int) -> list[float]:
    """Times of a plain figure in an Output widget, from the slider's message to the picture's."""
    manager, client = start_new_kernel()
    try:
        said: list[str] = []
        client.execute_interactive(
            PLAIN.format(name=found.name), output_hook=lambda m: said.append(m["content"].get("text", "")), timeout=120
        )
        _, model, count = re.search(r"(model) (\w+) (\d+)", "".join(said)).groups()  # type: ignore[union-attr]
        places = [*range(int(count)), *range(int(count) - 2, 0, -1)]
        times = [_plain_move(client, model, places[(i + 1) % len(places)]) for i in range(moves + 3)]
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
    return times[3:]


def _plain_move(client: Any, model: str, index: int) -> float:
    begin = time.perf_counter()
    content = {"comm_id": model, "data": {"method": "update", "state": {"index": index}, "buffer_paths": []}}
    sent = client.session.msg("comm_msg", content)
    client.shell_channel.send(sent)
    took, idle = 0.0, False
    while not (took and idle):
        message = client.get_iopub_msg(timeout=60)
        if "image/png" in str(message["content"])[:2000] and not took:
            took = 1e3 * (time.perf_counter() - begin)
        own = message["parent_header"].get("msg_id") == sent["header"]["msg_id"]
        idle = idle or (own and message["content"].get("execution_state") == "idle")
    return took


def middle_and_p95(times: list[float]) -> tuple[float, float]:
    """Median and 95th percentile."""
    return statistics.median(times), float(np.percentile(times, 95))


def measure(browser: Browser, names: list[str], moves: int) -> list[str]:
    """Measure and print a line a bench; return what is beyond its limit."""
    beyond = []
    with course() as live_address, static_host() as static_address:
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(live_address)
        for name in names:
            live = middle_and_p95(in_the_page(page, live_address.split("?")[0], name, moves, live=True))
            frames = middle_and_p95(in_the_page(page, static_address, name, moves, live=False))
            slow = middle_and_p95(plain(bench(name), max(8, moves // 4)))
            ratio = slow[0] / live[0]
            print(
                f"{name:24}{live[0]:8.1f}{live[1]:8.1f}{frames[0]:9.1f}{frames[1]:8.1f}{slow[0]:9.1f}{slow[1]:8.1f}"
                f"{ratio:8.1f}×",
                flush=True,
            )
            for what, got in (("live", live), ("frames", frames)):
                for word, value, limit in zip(("median", "p95"), got, LIMITS_MS[what], strict=True):
                    if limit and value > limit:
                        beyond.append(f"{name}: {what} {word} {value:.1f} ms, limit {limit} ms")
            if ratio < TIMES_FASTER:
                beyond.append(f"{name}: {ratio:.1f} times as fast as plain, limit {TIMES_FASTER}")
    return beyond


def main() -> None:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="benches (default: all that pages show)")
    parser.add_argument("--moves", type=int, default=60, help="moves of the slider for each bench")
    options = parser.parse_args()
    path = os.environ.get("PEDALWRIGHT_CHROMIUM") or shutil.which("chromium") or shutil.which("google-chrome")
    if not path:
        sys.exit("benchmark: found no Chromium; install the Debian package chromium, or set PEDALWRIGHT_CHROMIUM")
    if not (BOOK / "index.html").is_file():
        sys.exit("benchmark: the book is not built; run make book first")
    print(f"slider moved → new picture in the page, milliseconds, {options.moves} moves; load {os.getloadavg()[0]:.1f}")
    print(f"{'':24}{'live':>8}{'p95':>8}{'frames':>9}{'p95':>8}{'plain':>9}{'p95':>8}{'ratio':>9}")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        beyond = measure(browser, options.names or list(published_names()), options.moves)
        browser.close()
    limits = ", ".join(f"{what} {a}{f'/{b}' if b else ''}" for what, (a, b) in LIMITS_MS.items())
    print(f"limits: {limits} ms; live at least {TIMES_FASTER} times as fast as plain")
    print("\n".join(["beyond the limits:", *beyond]) if beyond else "all within the limits")


if __name__ == "__main__":
    main()
