"""Every page in the browser: accessibility, width, origins, weight, and questions by keyboard and without a script."""

from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).parents[2]
CONTENTS = yaml.safe_load((ROOT / "book" / "_toc.yml").read_text(encoding="utf8"))
PAGES = ["index", "search", *(chapter["file"] for part in CONTENTS["parts"] for chapter in part["chapters"])]
PAGE_LIMIT_BYTES = 2_500_000


def text_is_laid_out(page) -> bool:
    """Wait for the fonts, so that widths are those a reader sees."""
    return page.evaluate("document.fonts.ready.then(() => true)")


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("name", PAGES)
def test_page_has_no_accessibility_fault_and_fits(book_url, visit, name, width, theme):
    seen = visit(f"{book_url}/{name}.html", width, color_scheme=theme)
    assert text_is_laid_out(seen.page)
    assert seen.page.evaluate("document.documentElement.dataset.theme") == theme
    assert seen.page.evaluate("document.documentElement.scrollWidth") <= width
    assert seen.complaints == []
    assert seen.weight_bytes() <= PAGE_LIMIT_BYTES
    assert seen.accessibility_faults() == []
    assert seen.strangers == []


@pytest.mark.parametrize(("width", "theme"), [(390, "light"), (1280, "dark")])
def test_opened_folds_have_no_accessibility_fault_and_fit(book_url, visit, width, theme):
    seen = visit(f"{book_url}/lever-tangency.html", width, color_scheme=theme)
    seen.page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    assert text_is_laid_out(seen.page)
    assert seen.accessibility_faults() == []
    assert seen.page.evaluate("document.documentElement.scrollWidth") <= width
    assert seen.strangers == []


def test_the_math_font_is_used_and_formulas_are_seen(book_url, visit):
    page = visit(f"{book_url}/lever-tangency.html").page
    loaded = page.evaluate(
        "document.fonts.ready.then(() => [...document.fonts].filter((f) => f.status == 'loaded').map((f) => f.family))"
    )
    assert any("Math" in family for family in loaded)
    fraction = page.locator("div.math mfrac").first.bounding_box()
    letter = page.locator("div.math msub").first.bounding_box()
    assert fraction["height"] > 1.4 * letter["height"]


@pytest.mark.parametrize("width", [390, 1280])
def test_a_wrong_choice_is_told_why_by_keyboard_alone(book_url, visit, width):
    seen = visit(f"{book_url}/lever-tangency.html", width)
    form = seen.page.locator("form#lt-bottom")
    form.locator("input").first.focus()
    seen.page.keyboard.press("Space")
    seen.page.keyboard.press("Tab")
    seen.page.keyboard.press("Enter")
    verdict = form.locator(".verdict")
    assert verdict.get_attribute("data-state") == "wrong"
    assert "no moment arm" in verdict.inner_text()
    form.locator("input").nth(1).check()
    assert verdict.inner_text() == "", "a new choice clears the old verdict"
    form.locator("button").click()
    assert verdict.get_attribute("data-state") == "right"


@pytest.mark.parametrize(
    ("typed", "state", "said"),
    [
        ("40.8", "right", "whole downward push"),
        ("40,8 N·m", "right", "whole downward push"),
        ("40800", "wrong", "millimetres"),
        ("77", "wrong", "not a slip we know"),
        ("lots", "open", "Type a number"),
        ("", "open", "Type a number"),
    ],
)
def test_a_typed_number_is_judged_with_its_reason(book_url, visit, typed, state, said):
    form = visit(f"{book_url}/lever-tangency.html").page.locator("form#lt-torque-90")
    form.locator("input").fill(typed)
    form.locator("button").click()
    assert form.locator(".verdict").get_attribute("data-state") == state
    assert said in form.locator(".verdict").inner_text()


def test_several_choices_are_right_only_together(book_url, visit):
    form = visit(f"{book_url}/lever-tangency.html").page.locator("form#lt-sectors")
    verdict = form.locator(".verdict")
    form.get_by_label("Sector 5").check()
    form.locator("button").click()
    assert "2 more belong here" in verdict.inner_text()
    form.get_by_label("Sector 13").check()
    form.locator("button").click()
    assert "other leg" in verdict.inner_text()
    form.get_by_label("Sector 13").uncheck()
    form.get_by_label("Sector 4").check()
    form.get_by_label("Sector 6").check()
    form.locator("button").click()
    assert verdict.get_attribute("data-state") == "right"


def test_an_answer_goes_nowhere_and_leaves_nothing_behind(book_url, visit):
    seen = visit(f"{book_url}/lever-tangency.html")
    before = len(seen.asked)
    form = seen.page.locator("form#lt-bottom")
    form.locator("input").first.check()
    form.locator("button").click()
    assert seen.page.url.endswith("lever-tangency.html")
    late = [url for url in seen.asked[before:] if "?" in url or not url.startswith(f"{book_url}/_static/")]
    assert late == [], "only the page's own files may still come in"
    stored = seen.page.evaluate(
        "Object.keys(localStorage).concat(Object.keys(sessionStorage), document.cookie ? ['cookie'] : [])"
    )
    assert set(stored) <= {"mode", "theme"}


def test_without_a_script_the_answers_can_be_read(book_url, visit):
    page = visit(f"{book_url}/lever-tangency.html", java_script_enabled=False).page
    form = page.locator("form#lt-bottom")
    assert not form.locator("button").is_visible()
    form.locator("summary").click()
    assert "wholly radial" in form.locator("details").inner_text()
    assert page.locator("div.math math").first.is_visible()


def test_the_theme_can_be_switched_and_is_kept(book_url, visit):
    page = visit(f"{book_url}/start.html").page
    button = page.locator("button.theme-switch-button").first
    seen = set()
    for _ in range(3):
        button.click()
        seen.add(page.evaluate("document.documentElement.dataset.mode"))
    assert seen == {"light", "dark", "auto"}


def test_search_finds_a_word_of_the_book(book_url, visit):
    page = visit(f"{book_url}/search.html?q=tangential").page
    page.wait_for_selector("#search-results li a", timeout=10_000)
    found = {
        link.get_attribute("href").split("#")[0].split("?")[0] for link in page.locator("#search-results li a").all()
    }
    assert "lever-tangency.html" in found


def test_folds_open_for_printing_but_practice_cases_stay_closed(book_url, visit):
    page = visit(f"{book_url}/lever-tangency.html").page
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    assert page.locator("details.fold:not([open], .practice)").count() == 0
    assert page.locator("details.practice[open]").count() == 0
    page.emulate_media(media="print")
    assert page.locator("h1").is_visible()
    page.emulate_media(media="screen")
    page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    assert page.locator("details.fold[open]").count() == 0
