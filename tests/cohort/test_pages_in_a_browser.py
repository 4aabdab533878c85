"""Report and feedback opened in a browser: accessible, calm on a phone and on paper, silent on the network."""

import json

import numpy as np
import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from report_steps import ability_marks, made_from_marks

from autograde.cohort.collect import collect
from autograde.cohort.families import load_case
from autograde.cohort.feedback import write_feedback
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.standing import standing
from autograde.desk.reporting import write_cohort_report
from pedalwright_app.filling import fill

pytestmark = [pytest.mark.browser, pytest.mark.xdist_group("browser")]

CASE = "crank-drill"
MANY = ("angle-conventions", "pedal-force-record", "saddle-height", "sit-bones-saddle", "whole-case")
WCAG_22_AA = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
SIZES = [(width, theme) for width in (1280, 390) for theme in ("light", "dark")]


def report(cohort):
    stand = standing(cohort)
    write_feedback(stand)
    return write_cohort_report(cohort, stand)


@pytest.fixture
def reported(cohort):
    sheets = {
        "wren": {"torque": "30 N m", "power": "nan", "advice": "<script>document.title = 'it ran'</script>"},
        "heron": {"torque": "300 mm", "other-leg": "B"},
    }
    for who, typed in sheets.items():
        content = fill(cohort.notebook("release", who, CASE).read_bytes(), typed)
        (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)
    collect(cohort)
    list(mark_all(cohort, to_mark(cohort)))
    write_marks(cohort, list(marked(cohort).values()))
    report(cohort)
    return cohort


@pytest.fixture(scope="module")
def full(tmp_path_factory):
    """Twenty trainees and five cases with every part of the report: slips, flags, band, gaps, long names."""
    tasks = [task for case in MANY for task in load_case(case).tasks]
    marks = ability_marks(20, [task.marks for task in tasks])
    marks[:, 3] = [task.marks for task in tasks][3] - marks[:, 3]  # a task that works the wrong way
    marks[18, 4:9] = np.nan
    marks[19] = np.nan
    names = [f"Bird {n} with a name as long as names of people can be" for n in range(20)]
    cohort = made_from_marks(tmp_path_factory.mktemp("full") / "cohort", MANY, marks, names=names, ratings=True)
    lines = [json.loads(line) for line in cohort.record("marks").read_text().splitlines()]
    for line in lines:
        slips = load_case(line["case"]).misconceptions
        result = line["results"][0]
        result |= {"state": "recognised misconception", "misconception": slips[0].id, "typed": "x" * 300}
    cohort.record("marks").write_text("".join(json.dumps(line) + "\n" for line in lines))
    report(cohort)
    return cohort


def look(browser, path, width, theme, unfold=False):
    page = browser.new_page(viewport={"width": width, "height": 900}, color_scheme=theme)
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    if unfold:
        page.evaluate("for (const it of document.querySelectorAll('details')) it.open = true")
    found = Axe().run(page, options=WCAG_22_AA)
    assert found.violations_count == 0, found.generate_report()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert asked == [path.as_uri()]
    assert page.title() != "it ran"
    assert page.evaluate("document.scripts.length") == 0
    page.close()


@pytest.mark.parametrize(("width", "theme"), SIZES)
def test_axe_finds_nothing_and_nothing_overflows(browser, reported, width, theme):
    trainee = reported.report / "trainees" / "wren.html"
    for path in (reported.report / "index.html", trainee, reported.feedback("wren", CASE)):
        look(browser, path, width, theme, unfold=path == trainee)


@pytest.mark.parametrize(("width", "theme"), SIZES)
def test_axe_finds_nothing_in_a_report_with_all_its_parts_unfolded(browser, full, width, theme):
    for path in (full.report / "index.html", full.report / "trainees" / "t018.html"):
        look(browser, path, width, theme, unfold=True)


def test_a_sign_in_the_table_leads_to_the_answer_it_stands_for(browser, reported):
    page = browser.new_page()
    page.goto((reported.report / "index.html").as_uri())
    page.locator("td.state a").first.click()
    page.wait_for_url("**/feedback/**#task-torque")
    assert page.locator("#task-torque").is_visible()
    page.close()


def test_a_name_leads_to_the_page_about_the_trainee_and_back(browser, full):
    page = browser.new_page()
    page.goto((full.report / "index.html").as_uri())
    page.locator("table.map a").first.click()
    page.wait_for_url("**/trainees/*.html")
    page.locator("footer a").click()
    page.wait_for_url("**/report/index.html")
    page.close()


def test_cases_unfold_by_the_keyboard(browser, full):
    page = browser.new_page()
    page.goto((full.report / "index.html").as_uri())
    first = page.locator("details.case").first
    assert not first.locator("table").is_visible()
    first.locator("summary").focus()
    page.keyboard.press("Enter")
    assert first.locator("table").is_visible()
    page.close()


def test_pictures_say_their_result_and_signs_are_drawn(browser, full):
    page = browser.new_page()
    page.goto((full.report / "index.html").as_uri())
    said = [page.locator("svg.drawn").nth(n).get_attribute("aria-label") for n in range(2)]
    assert said[0].endswith("worth a look")
    assert "above the band" in said[1]
    page.locator("details.case summary").first.click()
    colours = page.evaluate(
        "[...document.querySelectorAll('td.state svg')].map(it => getComputedStyle(it).color + it.getBBox().width)"
    )
    assert len(set(colours)) > 1
    assert not any(colour.endswith("0)0") for colour in colours)
    page.close()


def test_the_report_prints_on_a4_with_nothing_cut_off_at_the_side(browser, full):
    page = browser.new_page()
    page.goto((full.report / "index.html").as_uri())
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round((210 - 28) / 25.4 * 96), "height": 1000})  # A4 less its margins
    wide = page.evaluate(
        "[...document.querySelectorAll('main table, main svg.drawn')].filter(it => it.getBoundingClientRect().right > "
        "window.innerWidth + 1).map(it => it.className.baseVal ?? it.className)"
    )
    assert wide == []
    paper = pypdfium2.PdfDocument(page.pdf(format="A4", print_background=True))
    assert 3 <= len(paper) <= 14
    assert paper[0].get_size() == pytest.approx((595.3, 841.9), abs=1.5)
    page.close()
