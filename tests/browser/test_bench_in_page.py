"""A bench in a page without a kernel: on a plain page of our own, and in the built book."""

import json
import re
from pathlib import Path

import pytest

from pedalwright_bench.bench import bench, published_names
from pedalwright_bench.words import unbroken

BENCH = bench("lever-tangency")
PAGE_LIMIT_BYTES = 2_500_000
EFFORT, SADDLE = "#bench-lever-tangency-effort-w", "#bench-lever-tangency-saddle-back-mm"
FIGURE = "#bench-lever-tangency"


@pytest.fixture(params=["own page", "book"])
def url(request):
    if request.param == "own page":
        return request.getfixturevalue("serve")(request.getfixturevalue("own_page_folder")) + "/page.html"
    return request.getfixturevalue("book_url") + "/lever-tangency.html"


def shown(page):
    """Address of the picture in view, and the sentence."""
    source = page.locator(f"{FIGURE} img").evaluate("image => image.currentSrc")
    return source, page.locator(f"{FIGURE} .bench-sentence").inner_text()


def settled(page):
    page.wait_for_function(
        "figure => { const i = document.querySelector(figure + ' img'); return i.complete && i.naturalWidth > 0 && "
        "!document.querySelector(figure).classList.contains('bench-waiting'); }",
        arg=FIGURE,
    )


def test_both_sliders_change_picture_and_sentence_by_keyboard(visit, url):
    seen = visit(url)
    page = seen.page
    page.focus(EFFORT)
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    settled(page)
    start = shown(page)
    assert start[1] == BENCH.say(BENCH.at(200, 0))
    pixels = [page.locator(f"{FIGURE} img").screenshot()]
    states = [start]
    for slider, key, values in ((EFFORT, "ArrowRight", (225, 0)), (SADDLE, "ArrowLeft", (225, -10))):
        page.focus(slider)
        page.keyboard.press(key)
        settled(page)
        states.append(shown(page))
        pixels.append(page.locator(f"{FIGURE} img").screenshot())
        assert states[-1][1] == BENCH.say(BENCH.at(*values))
        assert page.locator(f"{FIGURE} img").get_attribute("alt") == states[-1][1]
    assert len({source for source, _ in states}) == len({sentence for _, sentence in states}) == len(set(pixels)) == 3
    assert page.locator(SADDLE).get_attribute("aria-valuetext") == "10 mm forward"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    settled(page)
    assert shown(page) == start
    assert page.locator(EFFORT).input_value() == "200"
    assert page.locator(f"{FIGURE} .bench-value").first.inner_text() == "200 W"
    assert seen.strangers == []
    assert seen.complaints == []


def test_keyboard_alone_goes_from_guess_to_sliders_to_reset(visit, url):
    page = visit(url).page
    page.locator(f"{FIGURE} .bench-guess input").first.focus()
    page.keyboard.press("Space")
    assert page.locator(f"{FIGURE} .bench-reply").nth(0).is_visible()
    page.keyboard.press("ArrowDown")
    replies = page.locator(f"{FIGURE} .bench-reply")
    assert [replies.nth(i).is_visible() for i in range(4)] == [False, True, False, False]
    assert replies.nth(1).inner_text() == unbroken(BENCH.prediction(BENCH.at(200, 0)).choices[1].reply)
    for expected in (EFFORT, SADDLE, f"{FIGURE} .bench-reset"):
        page.keyboard.press("Tab")
        assert page.locator(expected).evaluate("element => element === document.activeElement")


@pytest.mark.parametrize("how", ["guess", "button", "slider"])
def test_the_picture_stays_covered_until_the_learner_acts(visit, url, how):
    page = visit(url).page
    picture, sentence = page.locator(f"{FIGURE} img"), page.locator(f"{FIGURE} .bench-sentence")
    assert not picture.is_visible()
    assert not sentence.is_visible()
    box = page.locator(FIGURE).bounding_box()
    if how == "guess":
        page.locator(f"{FIGURE} .bench-guess label").nth(2).click()
    elif how == "button":
        page.locator(f"{FIGURE} .bench-uncover").click()
        assert page.locator(FIGURE).bounding_box()["height"] == box["height"]
    else:
        page.focus(SADDLE)
        page.keyboard.press("End")
    assert picture.is_visible()
    assert sentence.is_visible()
    assert not page.locator(f"{FIGURE} .bench-cover").is_visible()


def test_the_page_is_light_before_the_first_touch_and_fetches_the_rest_after_it(visit, url):
    seen = visit(url)
    assert seen.weight_bytes() <= PAGE_LIMIT_BYTES
    assert len([u for u in seen.asked if "/benches/lever-tangency/" in u]) == 1
    seen.page.locator(EFFORT).hover()
    seen.page.wait_for_selector(f"{FIGURE}[data-ready=yes]")
    pictures = {u for u in seen.asked if "/benches/lever-tangency/wide/" in u}
    assert len(pictures) == len(list(BENCH.states()))
    assert seen.complaints == []
    assert seen.strangers == []


def test_nothing_jumps_when_a_slider_moves(visit, url):
    page = visit(url).page
    page.locator(f"{FIGURE} .bench-uncover").click()
    page.focus(SADDLE)
    heights = set()
    for _ in range(8):
        page.keyboard.press("ArrowRight")
        settled(page)
        heights.add(page.locator(FIGURE).bounding_box()["height"])
    assert len(heights) == 1


def test_a_phone_gets_the_narrow_picture_and_no_sideways_scrolling(visit, url):
    page = visit(url, 390, 844, device_scale_factor=2).page
    page.locator(f"{FIGURE} .bench-uncover").click()
    page.focus(EFFORT)
    page.keyboard.press("Home")
    settled(page)
    source, sentence = shown(page)
    assert "/narrow/0-4.webp" in source
    assert sentence == BENCH.say(BENCH.at(100, 0))
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    image = page.locator(f"{FIGURE} img").bounding_box()
    assert image["height"] / image["width"] == pytest.approx(1300 / 780, rel=0.01)


@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing(visit, url, width, theme):
    seen = visit(url, width)
    page = seen.page
    page.evaluate("theme => document.documentElement.dataset.theme = theme", theme)
    covered = seen.accessibility_faults()
    page.locator(f"{FIGURE} .bench-guess label").nth(0).click()
    page.locator(f"{FIGURE} .bench-notes summary").click()
    assert covered + seen.accessibility_faults() == []


def test_without_scripts_the_first_picture_and_its_sentence_are_there(launch, url):
    browser = launch("--blink-settings=scriptEnabled=false")
    page = browser.new_page()
    page.goto(url)
    picture = page.locator(f"{FIGURE} img")
    picture.scroll_into_view_if_needed()
    assert picture.is_visible()
    assert "/wide/4-4.webp" in picture.get_attribute("src")
    assert page.locator(f"{FIGURE} .bench-sentence").inner_text() == BENCH.say(BENCH.at(200, 0))
    assert page.locator(EFFORT).is_disabled()
    assert page.locator(f"{FIGURE} .bench-without-script").is_visible()
    browser.close()


@pytest.mark.parametrize("where", ["own page", "book"])
def test_it_works_from_a_file(visit, request, where):
    folder: Path = request.getfixturevalue("own_page_folder" if where == "own page" else "book_folder")
    page = visit((folder / ("page.html" if where == "own page" else "lever-tangency.html")).as_uri()).page
    page.focus(SADDLE)
    page.keyboard.press("End")
    settled(page)
    source, sentence = shown(page)
    assert "/wide/4-8.webp" in source
    assert sentence == BENCH.say(BENCH.at(200, 40))


def test_a_picture_that_does_not_come_is_told_and_the_result_still_said(visit, own_page_folder, serve):
    seen = visit(serve(own_page_folder) + "/page.html")
    page = seen.page
    page.route(re.compile("/benches/.*/5-4.webp"), lambda route: route.abort())
    page.focus(EFFORT)
    page.keyboard.press("ArrowRight")
    page.wait_for_selector(f"{FIGURE}.bench-missing")
    assert shown(page)[1] == BENCH.say(BENCH.at(225, 0))
    page.keyboard.press("ArrowRight")
    settled(page)
    assert page.locator(f"{FIGURE}.bench-missing").count() == 0


def test_a_slow_picture_is_marked_as_stale_until_it_comes(visit, own_page_folder, serve):
    page = visit(serve(own_page_folder) + "/page.html").page
    held, released = [], []
    page.route(re.compile("/benches/"), lambda route: route.continue_() if released else held.append(route))
    page.focus(EFFORT)
    page.keyboard.press("ArrowRight")
    page.wait_for_selector(f"{FIGURE}.bench-waiting[aria-busy=true]")
    released.append(True)
    for route in held:
        route.continue_()
    settled(page)
    assert page.locator(FIGURE).get_attribute("aria-busy") is None


def test_sliders_follow_what_the_browser_restored(visit, own_page_folder, serve):
    page = visit(serve(own_page_folder) + "/page.html").page
    data = json.loads(page.locator(f"{FIGURE} .bench-data").text_content())
    assert len(data["sentences"]) == len(list(BENCH.states()))
    page.evaluate("slider => { document.querySelector(slider).value = 300; }", EFFORT)
    page.locator(EFFORT).dispatch_event("input")
    settled(page)
    assert shown(page)[1] == BENCH.say(BENCH.at(300, 0))


@pytest.mark.parametrize("name", published_names())
def test_every_bench_has_a_page_in_the_book_and_answers_there(visit, book_folder, book_url, name):
    pages = [path for path in book_folder.glob("*.html") if f'data-bench="{name}"' in path.read_text(encoding="utf8")]
    assert pages, f"no page shows the bench {name}; add a cell with show({name!r})"
    found = bench(name)
    seen = visit(f"{book_url}/{pages[0].name}")
    figure = seen.page.locator(f"#bench-{name}")
    sliders = figure.locator("input[type=range]")
    for i in range(sliders.count()):
        sliders.nth(i).focus()
        seen.page.keyboard.press("End")
    ends = tuple(s.values[-1] for s in found.sliders)
    assert figure.locator(".bench-sentence").inner_text() == found.say(found.at(*ends))
    key = "-".join(str(len(s.values) - 1) for s in found.sliders)
    seen.page.wait_for_function(
        "([name, key]) => { const i = document.querySelector(`#bench-${name} img`);"
        " return i.complete && i.naturalWidth > 0 && i.currentSrc.includes(`/${key}.webp`); }",
        arg=[name, key],
    )
    assert seen.complaints == []
