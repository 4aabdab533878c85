"""Practice riders in a page without a kernel: what the page says to typed answers is what the marking package says."""

import json
import shutil
from pathlib import Path

import pytest

from autograde.cases import discover_families, practice_variant
from autograde.marking import Choice, ChoiceSet, DirectedChange, Ordering, Quantity, mark_sheet
from autograde.marking.solving import key_values, predict
from autograde.marking.tasks import Words
from pedalwright_app.practice_marks import MarkTables

ROOT = Path(__file__).parents[2]
FAMILIES = {name: family for name, family in discover_families().items() if family.worked is not None}
RIDERS = 2
NONSENSE = ("", "plenty", "12 parsec", "1,234", "3 + 4", "1.2.3", "−", "12 345", "0x10")


def fold(family, number):
    tasks = "".join(
        f'<div class="practice-task practice-is-{task.id}"><p>{task.title}</p>'
        '<details class="fold practice"><summary>Worked solution</summary><p>Steps.</p></details></div>'
        for task in family.tasks
    )
    return f'<details class="fold practice"><summary>Practice rider {number}</summary><div>{tasks}</div></details>'


@pytest.fixture(scope="module")
def practice_url(tmp_path_factory, serve):
    """One page a family: the folds as the book sets them, with the tables."""
    folder = tmp_path_factory.mktemp("practice")
    for asset in ("practice.js", "practice.css", "pedalwright.css"):
        shutil.copy(ROOT / "book" / "assets" / asset, folder)
    for name, family in FAMILIES.items():
        tables = MarkTables(family)
        riders = [tables.rider(practice_variant(family, number).case) for number in range(1, RIDERS + 1)]
        data = json.dumps(tables.as_data(riders)).replace("</", "<\\/")
        folds = "".join(fold(family, number) for number in range(1, RIDERS + 1))
        (folder / f"{name}.html").write_text(
            '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Practice</title>'
            '<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="icon" href="data:,">'
            '<link rel="stylesheet" href="pedalwright.css"><link rel="stylesheet" href="practice.css">'
            '<script defer src="practice.js"></script></head><body><main class="bd-article"><h1>Practice</h1>'
            f'<div class="practice-set"><script type="application/json" class="practice-marks">{data}</script>'
            f"{folds}</div></main></body></html>",
            encoding="utf8",
        )
    return serve(folder)


def answer(box, kind, text):
    """Fill one task and check it; gives state of the box and its words."""
    if isinstance(kind, DirectedChange):
        word, _, rest = text.partition(" ")
        box.locator(f"input[value='{1 if word == kind.positive[0] else -1}']").check()
        box.locator("input[type=text]").fill(rest)
    elif isinstance(kind, Ordering):
        for place, label in enumerate(text.split(", ")):
            box.locator("select").nth(place).select_option(label)
    elif box.locator("select").count():
        box.locator("select").select_option(text)
    else:
        for ticked in box.locator("input[type=checkbox]").all():
            ticked.uncheck()
        for label in text.split(", "):
            box.locator(f"input[value='{label}']").check()
    box.get_by_role("button", name="Check").click()
    verdict = box.locator(".verdict")
    return verdict.get_attribute("data-state"), verdict.inner_text()


TYPE_ALL = """(box, texts) => texts.map((text) => {
  box.querySelector("input[type=text]").value = text;
  box.querySelector("button").click();
  const verdict = box.querySelector(".verdict");
  return [verdict.dataset.state, verdict.textContent];
})"""
"""Types many numbers into one field, one after the other, and presses Check each time."""


def in_labels(kind, value):
    labels = {option.key: label for label, option in kind.labelled()}
    if isinstance(kind, Choice):
        return labels[value]
    if isinstance(kind, ChoiceSet):
        return ", ".join(sorted(labels[key] for key in value)) or "none"
    return ", ".join(labels[key] for key in value)


def ways_to_write(kind, value):
    """Give the value in several hands: plain, decimal comma, without unit, and in another unit where there is one."""
    word = ""
    if isinstance(kind, DirectedChange):
        word, value = (kind.positive[0] if value >= 0 else kind.negative[0]) + " ", abs(value)
    plain = f"{value:.4f}"
    yield f"{word}{plain} {kind.unit}"
    yield f"{word}{plain.replace('.', ',')} {kind.unit}".replace("-", "−")
    yield f"{word}{plain}"
    if kind.unit == "mm":
        yield f"{word}{value / 10:.5f} cm"
    if kind.unit == "N m":
        yield f"{word}{value * 1000:.1f} N mm"
    if kind.unit == "deg":
        yield f"{word}{plain}°"


@pytest.mark.parametrize("name", FAMILIES)
def test_right_answers_slips_and_nonsense_get_the_words_of_the_marking_package(practice_url, visit, name):
    family, page = FAMILIES[name], visit(f"{practice_url}/{name}.html").page
    case = practice_variant(family, 1).case
    keys = key_values(family.tasks, case)
    page.locator("summary", has_text="Practice rider 1").click()
    for task in family.tasks:
        if isinstance(task.kind, Words):
            continue
        box = page.locator(f"details[open] .practice-is-{task.id}")
        slips = [predict(slip, task, case, keys) for slip in family.misconceptions if slip.task == task.id]
        targets = [keys[task.id], *(value for value in slips if value is not None)]
        if isinstance(task.kind, Quantity | DirectedChange):
            texts = [text for target in targets for text in ways_to_write(task.kind, target)]
        else:
            texts = [in_labels(task.kind, target) for target in targets]
        plain = isinstance(task.kind, Quantity)
        said = box.evaluate(TYPE_ALL, texts) if plain else [answer(box, task.kind, text) for text in texts]
        for text, (state, words) in zip(texts, said, strict=True):
            found = mark_sheet(family.tasks, family.misconceptions, case, {task.id: text})[task.id]
            assert found.feedback in " ".join(words.split()), (task.id, text, words)
            assert (state == "right") == (found.state == "correct")
        if plain:
            assert {state for state, _ in box.evaluate(TYPE_ALL, list(NONSENSE))} == {"open"}
            assert "Not read" in box.locator(".verdict").inner_text()


def test_one_rider_at_a_time_and_another_by_keyboard(practice_url, visit):
    seen = visit(f"{practice_url}/saddle-height.html", 390)
    page = seen.page
    riders = page.locator(".practice-set > details")
    assert [riders.nth(at).is_visible() for at in range(RIDERS)] == [True, False]
    page.get_by_role("button", name="Another rider").focus()
    page.keyboard.press("Enter")
    assert [riders.nth(at).is_visible() for at in range(RIDERS)] == [False, True]
    assert page.evaluate("document.activeElement.textContent") == "Practice rider 2"
    box = page.locator("details[open] .practice-is-from-bracket")
    field = box.get_by_role("textbox")
    for _ in range(12):
        page.keyboard.press("Tab")
        if field.evaluate("one => one === document.activeElement"):
            break
    page.keyboard.type("1 km")
    page.keyboard.press("Enter")
    assert "A height of this size cannot occur here" in box.locator(".verdict").inner_text()
    assert seen.accessibility_faults() == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert page.evaluate("localStorage.length + sessionStorage.length + document.cookie.length") == 0
    assert seen.complaints == []


def test_what_builds_on_an_earlier_task_says_so_and_a_wrong_answer_names_the_page(practice_url, visit):
    page = visit(f"{practice_url}/pedal-force-record.html").page
    page.locator("summary", has_text="Practice rider 1").click()
    box = page.locator("details[open] .practice-is-power")
    ((_, words),) = box.evaluate(TYPE_ALL, ["999 W"])
    assert "as answered rightly" in words
    assert "Mean torque" in words
    assert box.get_by_role("link").get_attribute("href") == "lever-tangency.html"


def test_a_direction_is_asked_for_and_no_change_is_an_answer(practice_url, visit):
    family, page = FAMILIES["saddle-height"], visit(f"{practice_url}/saddle-height.html").page
    page.locator("summary", has_text="Practice rider 1").click()
    box = page.locator("details[open] .practice-is-change")
    ((state, words),) = box.evaluate(TYPE_ALL, ["8 mm"])
    assert (state, "Choose a direction first" in words) == ("open", True)
    box.get_by_label("no change").check()
    ((state, words),) = box.evaluate(TYPE_ALL, ["8 mm"])
    assert (state, "stand together" in words) == ("open", True)
    ((state, words),) = box.evaluate(TYPE_ALL, [""])
    case = practice_variant(family, 1).case
    found = mark_sheet(family.tasks, family.misconceptions, case, {"change": "no change"})["change"]
    assert state == "wrong"
    assert found.feedback in words


def test_without_a_script_all_riders_stay_as_folds(practice_url, visit):
    page = visit(f"{practice_url}/joint-action.html", java_script_enabled=False).page
    assert page.locator(".practice-set > details:visible").count() == RIDERS
    assert page.locator("form").count() == 0
    page.locator("summary", has_text="Practice rider 2").click()
    assert page.locator("details[open] summary", has_text="Worked solution").first.is_visible()


@pytest.mark.parametrize(("page_name", "width", "theme"), [("contraction", 390, "dark"), ("whole-case", 1280, "light")])
def test_the_book_page_with_a_filled_rider_is_accessible_and_light(book_url, visit, page_name, width, theme):
    seen = visit(f"{book_url}/{page_name}.html", width, color_scheme=theme)
    assert seen.weight_bytes() < 2_500_000
    page = seen.page
    before = len(seen.asked)
    page.locator(".practice-set > details > summary").first.click()
    rider = page.locator(".practice-set > details[open]")
    forms = rider.locator("form.practice-form")
    assert forms.count() >= 6
    for at in range(forms.count()):
        forms.nth(at).get_by_role("button", name="Check").click()
    number = rider.locator("form.practice-form input[type=text]").first
    number.fill("1")
    number.press("Enter")
    own = (f"{book_url}/_", "data:")
    assert [url for url in seen.asked[before:] if "?" in url or not url.startswith(own)] == []
    assert seen.strangers == []
    assert seen.complaints == []
    assert page.evaluate("document.fonts.ready.then(() => true)")
    assert seen.accessibility_faults() == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
