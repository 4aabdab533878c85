"""Every bench, live in its page: another picture and the package's own numbers at each of twenty moves."""

import pytest

from pedalwright_bench.answers import fine_step
from pedalwright_bench.bench import bench, published_names

MOVES = 20
PAGE_LIMIT_BYTES = 2_500_000
# A short number for the pixels in view, and where the sliders stand.
LOOK = """
(figure) => {
  const image = figure.querySelector(".bench-view img");
  const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight);
  const pen = canvas.getContext("2d");
  pen.drawImage(image, 0, 0);
  const words = new Uint32Array(pen.getImageData(0, 0, canvas.width, canvas.height).data.buffer);
  let hash = 2166136261;
  for (let i = 0; i < words.length; i += 1) hash = Math.imul(hash ^ words[i], 16777619);
  const text = (selector) => [...figure.querySelectorAll(selector)].map((part) => part.textContent);
  return {
    hash,
    live: image.currentSrc.startsWith("blob:"),
    alt: image.alt,
    sentence: text(".bench-sentence")[0],
    said: text(".bench-value"),
    aria: [...figure.querySelectorAll("input[type=range]")].map((input) => input.getAttribute("aria-valuetext")),
    values: [...figure.querySelectorAll("input[type=range]")].map((input) => Number(input.value)),
  };
}
"""
VALUES = "(figure) => [...figure.querySelectorAll('input[type=range]')].map((i) => Number(i.value)).join(' ')"


class Figure:
    """One bench in an open page."""

    def __init__(self, page, name):
        self.page, self.name = page, name
        self.figure = page.locator(f"#bench-{name}")
        self.sliders = self.figure.locator("input[type=range]")

    def uncovered(self):
        self.figure.locator(".bench-uncover").click()
        self.drawn()
        return self

    def drawn(self):
        """Wait until the picture in view is the one for where the sliders stand; return what is seen."""
        values = self.figure.evaluate(VALUES)
        self.page.wait_for_selector(f"#bench-{self.name}[data-live='{values}']:not(.bench-waiting)", timeout=30_000)
        return self.figure.evaluate(LOOK)

    def press(self, number, key):
        self.sliders.nth(number).focus()
        self.page.keyboard.press(key)


def to_and_fro(found, moves):
    """Which slider to move which way: each in turn, turning round at its ends."""
    at = list(found.defaults)
    way = [1] * len(at)
    for i in range(moves):
        n = i % len(at)
        slider = found.sliders[n]
        if not slider.start - 1e-9 <= at[n] + way[n] * fine_step(slider) <= slider.stop + 1e-9:
            way[n] *= -1
        at[n] += way[n] * fine_step(slider)
        yield n, "ArrowRight" if way[n] > 0 else "ArrowLeft"


@pytest.mark.parametrize("name", published_names())
def test_twenty_moves_give_twenty_pictures_and_the_numbers_of_the_package(course, reader, page_of, name):
    found = bench(name)
    seen = reader(course).open(course.address + page_of(name))
    figure = Figure(seen.page, name).uncovered()
    before = figure.drawn()
    places = {tuple(before["values"])}
    for number, key in to_and_fro(found, MOVES):
        figure.press(number, key)
        now = figure.drawn()
        assert now["live"]
        assert now["hash"] != before["hash"]
        inputs = found.inputs(**{s.name: v for s, v in zip(found.sliders, now["values"], strict=True)})
        assert now["sentence"] == now["alt"] == found.say(found.model(inputs))
        assert now["said"] == now["aria"] == [s.say(v) for s, v in zip(found.sliders, now["values"], strict=True)]
        places.add(tuple(now["values"]))
        before = now
    assert len(places) > MOVES / 2
    assert seen.complaints == []
    assert seen.strangers == []


def test_reset_goes_back_to_the_start(course, reader, page_of):
    found = bench("wedge")
    page = reader(course).open(course.address + page_of("wedge")).page
    figure = Figure(page, "wedge").uncovered()
    for number in range(3):
        figure.press(number, "Home")
    assert figure.drawn()["sentence"] == found.say(found.at(*(s.start for s in found.sliders)))
    figure.figure.locator(".bench-reset").click()
    assert figure.drawn()["sentence"] == found.say(found.at(*found.defaults))


def test_a_phone_gets_the_narrow_picture_sharp_and_no_sideways_scrolling(course, reader, page_of):
    page = reader(course, 390, 844, device_scale_factor=2).open(course.address + page_of("wedge")).page
    figure = Figure(page, "wedge").uncovered()
    figure.press(0, "Home")
    figure.drawn()
    image = figure.figure.locator(".bench-view img")
    assert image.evaluate("i => [i.naturalWidth, i.naturalHeight]") == [780, 1300]
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.set_viewport_size({"width": 1000, "height": 800})
    page.wait_for_timeout(600)
    assert image.evaluate("i => i.naturalWidth > i.naturalHeight")


@pytest.mark.parametrize(("width", "theme"), [(1280, "light"), (390, "dark")])
def test_axe_finds_nothing_on_a_live_page(course, reader, page_of, width, theme):
    seen = reader(course, width, color_scheme=theme).open(course.address + page_of("wedge"))
    figure = Figure(seen.page, "wedge").uncovered()
    figure.press(0, "Home")
    figure.drawn()
    assert seen.said() == "Live: every place of a slider is calculated as you move it."
    seen.page.evaluate("window.scrollTo(0, 0)")  # or the fixed head of the page covers part of a choice
    assert seen.accessibility_faults() == []


def test_a_live_page_is_light_before_the_first_touch(course, reader, page_of):
    seen = reader(course)
    sizes = []
    seen.page.on("response", lambda reply: sizes.append(reply) if reply.status == 200 else None)
    seen.page.on("websocket", lambda s: s.on("framereceived", lambda data: sizes.append(data)))
    seen.open(course.address + page_of("lever-tangency"))
    seen.page.wait_for_selector("#bench-lever-tangency[data-live]")
    assert sum(len(part if isinstance(part, bytes | str) else part.body()) for part in sizes) <= PAGE_LIMIT_BYTES


def test_every_page_of_the_course_obeys_its_policy_and_keeps_to_its_origin(course, reader, book_folder):
    seen = reader(course)
    for path in sorted(book_folder.glob("*.html")):
        seen.open(course.address + path.name, ready=False)
        seen.page.wait_for_load_state("load")
    seen.open(f"{course.address}search.html?q=torque", ready=False)
    seen.page.wait_for_selector("#search-results li a")
    assert seen.complaints == []
    assert seen.strangers == []


def test_a_static_host_is_asked_for_nothing_live(static_reader, page_of):
    seen = static_reader(page_of("wedge"))
    page = seen.page
    page.wait_for_load_state("networkidle")
    assert not any("live" in url for url in seen.asked)
    assert seen.complaints == seen.strangers == []
    assert page.locator(".bench-state").count() == 0
