"""Names and answers that carry markup or formulas stay text in every report."""

import csv
import re

import pytest
from bs4 import BeautifulSoup

from autograde.cohort.collect import collect
from autograde.cohort.feedback import write_feedback
from autograde.cohort.gradebook_marks import write_marks
from autograde.cohort.handout import hand_out
from autograde.cohort.make import make_cohort, plan
from autograde.cohort.marking import mark_all, marked, to_mark
from autograde.cohort.report import write_report
from autograde.cohort.roster import Trainee
from autograde.cohort.standing import standing
from pedalwright_app.filling import fill

CASE = "crank-drill"
EVIL = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</style><script>alert(1)</script>",
    "{{ 7*7 }}{% for x in y %}",
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "javascript:alert(1)",
    "<a href='javascript:alert(1)'>click</a>",
]


@pytest.fixture
def reported(cohort):
    people = [Trainee(f"evil{number}", text) for number, text in enumerate(EVIL)]
    cohort = make_cohort(plan(cohort.root, people, title="<b>Autumn</b> & co"))
    hand_out(cohort)
    for number, text in enumerate(EVIL):
        who = f"evil{number}"
        typed = {"torque": text, "power": f"12 W {text}", "advice": text}
        content = fill(cohort.notebook("release", who, CASE).read_bytes(), typed)
        (cohort.inbox / f"{who}__{CASE}.ipynb").write_bytes(content)
    (cohort.inbox / "<img src=x onerror=alert(1)>.ipynb").write_bytes(b"{}")
    collect(cohort)
    list(mark_all(cohort, to_mark(cohort)))
    write_marks(cohort, list(marked(cohort).values()))
    stand = standing(cohort)
    write_feedback(stand)
    write_report(cohort, stand)
    return cohort


def pages(cohort):
    return [cohort.report / "index.html", *(cohort.root / "feedback").rglob("*.html")]


def test_no_page_holds_an_element_or_attribute_that_acts(reported):
    assert len(pages(reported)) == len(EVIL) + 1
    for path in pages(reported):
        page = BeautifulSoup(path.read_text(), "html.parser")
        for name in ("script", "img", "iframe", "object", "embed", "form", "base", "link"):
            assert page.find(name) is None
        for element in page.find_all(True):
            assert not [key for key in element.attrs if key.startswith("on")]
            target = element.get("href", "")
            assert not re.match(r"\s*(javascript|data|https?):", target)
        assert len(page.find_all("style")) == 1


def test_what_was_typed_can_be_read_as_it_was_typed(reported):
    for number, text in enumerate(EVIL):
        page = BeautifulSoup(reported.feedback(f"evil{number}", CASE).read_text(), "html.parser")
        assert text in page.get_text()
    assert EVIL[0] in BeautifulSoup((reported.report / "index.html").read_text(), "html.parser").get_text()


def test_no_spreadsheet_cell_can_be_run_as_a_formula(reported):
    for path in reported.report.glob("*.csv"):
        with path.open(newline="") as stream:
            for row in csv.reader(stream):
                for cell in row:
                    assert not cell.startswith(("=", "+", "@", "\t", "\r")) or cell.startswith("'")
                    assert not re.match(r"-(?!\d)", cell)


def test_pages_forbid_scripts_by_themselves(reported):
    for path in pages(reported):
        assert "default-src 'none'" in path.read_text()


def test_names_reach_nbgraders_own_pages_and_export_without_markup_or_commas(reported):
    from nbgrader.api import Gradebook

    with Gradebook(reported.db_url, reported.settings.course_id) as gradebook:
        for student in gradebook.students:
            assert not set(student.last_name) & set("<>,\n")
            assert not student.last_name.startswith(("=", "+", "-", "@"))
