"""Report and feedback opened in a browser: accessible, calm on a phone, silent on the network."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from autograde.cohort.collect import collect
from autograde.cohort.feedback import write_feedback
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.report import write_report
from autograde.cohort.standing import standing
from pedalwright_app.filling import fill

pytestmark = [pytest.mark.browser, pytest.mark.xdist_group("browser")]

CASE = "crank-drill"
WCAG_22_AA = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


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
    stand = standing(cohort)
    write_feedback(stand)
    write_report(cohort, stand)
    return cohort


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_axe_finds_nothing_and_nothing_overflows(browser, reported, width, theme):
    for path in (reported.report / "index.html", reported.feedback("wren", CASE)):
        page = browser.new_page(viewport={"width": width, "height": 900}, color_scheme=theme)
        asked = []
        page.on("request", lambda request, asked=asked: asked.append(request.url))
        page.goto(path.as_uri())
        found = Axe().run(page, options=WCAG_22_AA)
        assert found.violations_count == 0, found.generate_report()
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        assert asked == [path.as_uri()]
        assert page.title() != "it ran"
        page.close()


def test_a_sign_in_the_table_leads_to_the_answer_it_stands_for(browser, reported):
    page = browser.new_page()
    page.goto((reported.report / "index.html").as_uri())
    page.locator("td.state a").first.click()
    page.wait_for_url("**/feedback/**#task-torque")
    assert page.locator("#task-torque").is_visible()
    page.close()
