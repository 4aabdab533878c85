"""When the line drops, the kernel ends or rests, or the server goes: the page says so, goes on, and comes back."""

import signal
import time
import urllib.request

import pytest

from pedalwright_bench.bench import bench

NAME = "wedge"
BENCH = bench(NAME)
FIGURE = f"#bench-{NAME}"
WITHOUT = "Working without live figures until"
# Note each state of the page with the sentence that the reader sees then.
RECORD = """
() => {
  window.states = [];
  const note = () => {
    const said = document.querySelector(".bench-state").textContent;
    window.states.push([document.documentElement.dataset.live, said]);
  };
  new MutationObserver(note).observe(document.documentElement, { attributeFilter: ["data-live"] });
}
"""
SHOWN = f"document.querySelector('{FIGURE} img').currentSrc"


class Reading:
    """A reader at one bench."""

    def __init__(self, seen, address):
        self.seen, self.page = seen, seen.page
        seen.open(address)
        self.page.evaluate(RECORD)
        self.page.locator(f"{FIGURE} .bench-uncover").click()
        self.page.locator(f"{FIGURE} .bench-reset").hover()
        self.page.wait_for_selector(f"{FIGURE}[data-ready=yes]")

    def press(self, number, key):
        self.page.locator(f"{FIGURE} input[type=range]").nth(number).focus()
        self.page.keyboard.press(key)

    def values(self):
        return tuple(float(i.input_value()) for i in self.page.locator(f"{FIGURE} input[type=range]").all())

    def is_live_at(self, *values, timeout_s=30):
        """Wait for the live picture of these values, and look at the numbers."""
        text = " ".join(f"{v:g}" for v in values)
        self.page.wait_for_selector(f"{FIGURE}[data-live='{text}']:not(.bench-waiting)", timeout=1000 * timeout_s)
        assert self.values() == values
        inputs = BENCH.inputs(**{s.name: v for s, v in zip(BENCH.sliders, values, strict=True)})
        assert self.sentence() == BENCH.say(BENCH.model(inputs))

    def shows_frame(self, key, *values):
        """Wait for a picture drawn beforehand, and look at the numbers."""
        self.page.wait_for_selector(f"{FIGURE}:not([data-live]):not(.bench-waiting)")
        assert self.page.evaluate(SHOWN).split("?")[0].endswith(f"/{key}.webp")
        assert self.sentence() == BENCH.say(BENCH.at(*values))

    def sentence(self):
        return self.page.locator(f"{FIGURE} .bench-sentence").inner_text()

    def states(self):
        """States since the start, each once in a row."""
        seen = [state for state, _ in self.page.evaluate("window.states")]
        return [state for i, state in enumerate(seen) if i == 0 or state != seen[i - 1]]

    def told(self, state):
        return next(said for name, said in self.page.evaluate("window.states") if name == state)


@pytest.fixture
def reading(course, reader, page_of):
    return Reading(reader(course), course.address + page_of(NAME))


def test_a_dropped_line_is_told_and_taken_up_again(reading):
    reading.press(0, "Home")
    reading.press(1, "ArrowRight")
    reading.is_live_at(-3, 1.8, 95)
    reading.page.evaluate("document.querySelector('figure.bench').line.socket.close()")
    reading.seen.state("lost")
    reading.shows_frame("0-3-1", -3, 1.5, 95)
    reading.seen.state("ready")
    reading.is_live_at(-3, 1.8, 95)
    assert reading.states() == ["lost", "ready"]
    assert reading.told("lost").startswith("The connection to the course server was lost.")
    assert WITHOUT in reading.told("lost")
    assert "Live" in reading.page.locator(".bench-aloud").inner_text()


def test_a_killed_kernel_is_told_and_comes_back(course, reading):
    reading.is_live_at(*BENCH.defaults)
    (kernel,) = course.kernels()
    kernel.kill()
    reading.press(0, "Home")
    reading.press(2, "End")
    reading.seen.state("stopped", 10)
    assert WITHOUT in reading.told("stopped")
    reading.shows_frame("0-3-2", -3, 1.5, 105)
    reading.press(1, "Home")
    reading.shows_frame("0-0-2", -3, -3, 105)
    reading.seen.state("ready")
    reading.is_live_at(-3, -3, 105)
    (new,) = course.kernels()
    assert new.pid != kernel.pid


def test_a_kernel_that_was_ended_elsewhere_is_started_again(course, reading):
    reading.is_live_at(*BENCH.defaults)
    (listed,) = course.listed_kernels()
    request = urllib.request.Request(
        f"http://127.0.0.1:{course.port}/api/kernels/{listed['id']}",
        headers={"Authorization": f"token {course.token}"},
        method="DELETE",
    )
    urllib.request.urlopen(request, timeout=20).close()
    reading.press(0, "Home")
    reading.is_live_at(-3, 1.5, 95)
    (new,) = course.listed_kernels()
    assert new["id"] != listed["id"]


def test_a_kernel_that_hangs_is_marked_and_the_frame_helps_out(course, reading):
    reading.is_live_at(*BENCH.defaults)
    (kernel,) = course.kernels()
    kernel.suspend()
    try:
        reading.press(0, "Home")
        reading.page.wait_for_selector(f"{FIGURE}.bench-waiting[aria-busy=true]")
        time.sleep(0.3)
        stale = reading.page.evaluate(
            f"getComputedStyle(document.querySelector('{FIGURE} img')).opacity"
            f" + getComputedStyle(document.querySelector('{FIGURE} .bench-view'), '::after').content"
        )
        assert stale == '0.45"drawing …"'
        reading.shows_frame("0-3-1", -3, 1.5, 95)
    finally:
        kernel.resume()
    reading.is_live_at(-3, 1.5, 95)


def test_a_server_that_was_killed_and_started_again_is_found_again(new_course, reader, page_of):
    course = new_course()
    reading = Reading(reader(course), course.address + page_of(NAME))
    reading.press(1, "End")
    reading.is_live_at(3, 3, 95)
    course.stop(signal.SIGKILL)
    reading.seen.state("away")
    assert reading.told("away").startswith("The course server does not answer.")
    reading.press(0, "Home")
    reading.shows_frame("0-4-1", -3, 3, 95)
    assert reading.page.locator(f"{FIGURE}.bench-missing").count() == 0
    course.start()
    reading.seen.state("ready", 40)
    reading.is_live_at(-3, 3, 95)


def test_a_server_that_was_closed_says_goodbye_to_its_pages(new_course, reader, page_of):
    course = new_course()
    reading = Reading(reader(course), course.address + page_of(NAME))
    assert course.stop() == 0
    reading.seen.state("away")


def test_an_idle_kernel_is_ended_and_the_next_move_starts_another(new_course, reader, page_of):
    course = new_course("--rest-after", "0.05")
    reading = Reading(reader(course), course.address + page_of(NAME))
    reading.seen.state("resting", 20)
    assert reading.told("resting").endswith("Move a slider to wake it.")
    until = time.monotonic() + 10
    while (course.kernels() or course.listed_kernels()) and time.monotonic() < until:  # the list lags the process
        time.sleep(0.2)
    assert course.kernels() == course.listed_kernels() == []
    reading.press(0, "Home")
    reading.shows_frame("0-3-1", -3, 1.5, 95)
    reading.is_live_at(-3, 1.5, 95)
    assert reading.states() == ["resting", "starting", "ready"]
    assert "being started" in reading.told("starting")
    course.stop()


def test_two_tabs_do_not_disturb_each_other(course, reader, page_of):
    first = Reading(reader(course), course.address + page_of(NAME))
    second = Reading(reader(course, beside=first.seen), course.address + page_of(NAME))
    for _ in range(5):
        first.press(0, "ArrowLeft")
        second.press(1, "ArrowRight")
    first.is_live_at(0, 1.5, 95)
    second.is_live_at(3, 3, 95)
    assert len(course.kernels()) == 1
    second.page.close()
    first.press(2, "End")
    first.is_live_at(0, 1.5, 105)


def test_of_many_events_only_the_newest_is_drawn(reading):
    reading.is_live_at(*BENCH.defaults)
    asked = reading.page.evaluate(
        """(selector) => {
          const slider = document.querySelector(`${selector} input[type=range]`);
          const line = document.querySelector("figure.bench").line;
          const before = line.asks;
          for (let i = 0; i < 60; i += 1) {
            slider.value = -3 + 0.6 * (i % 10);
            slider.dispatchEvent(new Event("input"));
          }
          window.asked = () => line.asks - before;
          return window.asked();
        }""",
        FIGURE,
    )
    assert asked == 1
    reading.is_live_at(2.4, 1.5, 95)
    assert reading.page.evaluate("window.asked()") == 2


def test_signed_out_is_told_and_the_pictures_stay(reading):
    reading.is_live_at(*BENCH.defaults)
    reading.page.context.clear_cookies()
    reading.page.evaluate("document.querySelector('figure.bench').line.socket.close()")
    reading.seen.state("out")
    assert reading.told("out").startswith("You are no longer signed in")
    reading.press(0, "Home")
    reading.shows_frame("0-3-1", -3, 1.5, 95)
