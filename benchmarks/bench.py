"""How fast a bench answers a slider: frames in a page, live drawing, and a plain redraw with pyplot, side by side."""

import os
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("MPLBACKEND", "agg")

import matplotlib.pyplot as plt
import numpy as np
from playwright.sync_api import sync_playwright

from pedalwright_bench.bench import Bench, bench
from pedalwright_bench.frames import draw_all
from pedalwright_bench.live import LiveBench
from pedalwright_bench.static import static
from pedalwright_bench.style import style

ROOT = Path(__file__).parents[1]
FRAMES = ROOT / ".build" / "static" / "benches"
NAME = "lever-tangency"
MOVES = 60
LIMITS_MS = {
    "frames in the page": (16, None),
    "live, in the kernel": (60, 100),
    "plain redraw with pyplot": (None, None),
}

# From a move of the slider until the new picture is loaded, decoded and handed to the next frame of the screen.
MEASURE = """
async moves => {
  const figure = document.querySelector("figure.bench");
  const image = figure.querySelector("img");
  const slider = figure.querySelectorAll("input[type=range]")[1];
  const next = event => new Promise(done => image.addEventListener(event, done, { once: true }));
  const times = [];
  let way = 1;
  for (let i = 0; i < moves; i += 1) {
    if (slider.value === slider.max) way = -1;
    if (slider.value === slider.min) way = 1;
    const before = image.currentSrc;
    const loaded = next("load");
    const begin = performance.now();
    slider.value = Number(slider.value) + way * Number(slider.step);
    slider.dispatchEvent(new Event("input"));
    await loaded;
    await image.decode();
    times.push(performance.now() - begin);
    if (image.currentSrc === before) throw new Error("the picture did not change");
    await new Promise(done => setTimeout(done, 40));
  }
  return times;
}
"""


def frames_in_the_page(found: Bench) -> list[float]:
    """Time from the slider's event to the decoded picture, all pictures fetched beforehand."""
    draw_all(FRAMES, [found.name])
    browser_path = os.environ.get("PEDALWRIGHT_CHROMIUM") or shutil.which("chromium") or shutil.which("google-chrome")
    if not browser_path:
        sys.exit("benchmark: found no Chromium; install the Debian package chromium, or set PEDALWRIGHT_CHROMIUM")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        shutil.copytree(FRAMES / found.name, Path(folder, "_static", "benches", found.name))
        for asset in ("bench.js", "bench.css"):
            shutil.copy(ROOT / "book" / "assets" / asset, Path(folder, "_static"))
        page_file = Path(folder, "page.html")
        page_file.write_text(
            '<!doctype html><html lang="en"><meta charset="utf-8"><title>bench</title>'
            '<link rel="stylesheet" href="_static/bench.css"><script defer src="_static/bench.js"></script>'
            f"<body style='max-width:46rem'>{static(found).html}</body></html>",
            encoding="utf8",
        )
        browser = driver.chromium.launch(executable_path=browser_path, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(page_file.as_uri())
        page.locator(".bench-uncover").click()
        page.wait_for_selector("figure.bench[data-ready=yes]")
        times: list[float] = page.evaluate(MEASURE, MOVES)
        browser.close()
    return times


def timed(found: Bench, work: Callable[[tuple[float, ...]], object]) -> list[float]:
    """Times of the work at places a slider passes, in milliseconds."""
    saddle = found.sliders[1].values
    places = [*saddle, *saddle[::-1]]
    times = []
    for i in range(MOVES):
        values = (found.defaults[0], places[i % len(places)])
        begin = time.perf_counter()
        work(values)
        times.append(1e3 * (time.perf_counter() - begin))
    return times


def live_in_the_kernel(found: Bench) -> list[float]:
    """Model, drawing and encoding of a live bench; the way to the page (a few milliseconds) is not in it."""
    shown = LiveBench(found)

    def move(values: tuple[float, ...]) -> None:
        for slider, value in zip(shown.sliders, values, strict=True):
            slider.value = value

    shown.sliders[1].value = found.sliders[1].values[0]
    return timed(found, move)[1:]


def plain_redraw(found: Bench) -> list[float]:
    """The same picture made anew for each place, and saved as pyplot does."""

    def redraw(values: tuple[float, ...]) -> None:
        with style("wide"), tempfile.TemporaryFile() as sink:
            picture = found.picture("wide")
            manager = plt.figure().canvas.manager
            picture.figure.set_canvas(type(manager.canvas)(picture.figure))
            picture.update(found.at(*values))
            picture.figure.savefig(sink, format="png")
            plt.close("all")

    return timed(found, redraw)


def main() -> None:
    """Measure and print the table."""
    found = bench(NAME)
    measured = {
        "frames in the page": frames_in_the_page(found),
        "live, in the kernel": live_in_the_kernel(found),
        "plain redraw with pyplot": plain_redraw(found),
    }
    plain = statistics.median(measured["plain redraw with pyplot"])
    print(f"\n{NAME}: slider moved → new picture, {MOVES} moves, milliseconds")
    print(f"{'':28}{'median':>8}{'p95':>8}{'ratio':>8}   limit")
    for what, times in measured.items():
        median, p95 = statistics.median(times), float(np.percentile(times, 95))
        limit = " and ".join(f"{n} ≤ {v}" for n, v in zip(("median", "p95"), LIMITS_MS[what], strict=True) if v)
        print(f"{what:28}{median:8.1f}{p95:8.1f}{plain / median:7.1f}×   {limit or '-'}")


if __name__ == "__main__":
    main()
